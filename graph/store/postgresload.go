package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	cayley "github.com/cayleygraph/cayley/graph"
	csql "github.com/cayleygraph/cayley/graph/sql"
	"github.com/cayleygraph/cayley/graph/sql/postgres"
	"github.com/cayleygraph/quad"
	"github.com/lib/pq"

	telltale "telltale/graph"
)

// Load fills a schema of its own and then makes it the graph.
func (d database) Load(ctx context.Context, k *telltale.Knowledge, how Loading) (*Loaded, error) {
	done, err := d.load(ctx, quadsOf(k), how)
	return done, stopped(d.explain(err), d.String())
}

func (d database) load(ctx context.Context, quads []quad.Quad, how Loading) (*Loaded, error) {
	db, err := d.connect(ctx)
	if err != nil {
		return nil, err
	}
	defer func() { _ = db.Close() }()
	conn, err := db.Conn(ctx)
	if err != nil {
		return nil, err
	}
	defer func() { _ = conn.Close() }()
	l := &databaseLoad{database: d, conn: conn, db: db}
	if err := l.begin(ctx, stampOf(quads)); err != nil {
		return nil, err
	}
	if err := l.fill(ctx, quads, how); err != nil {
		return nil, err
	}
	if err := l.verify(ctx); err != nil {
		return nil, errors.Join(err, dropGeneration(ctx, conn, l.into)) // so that the next load begins anew
	}
	if err := l.switchOver(ctx); err != nil {
		return nil, err
	}
	l.dropUnread(ctx)
	return l.done, nil
}

// databaseLoad is a load that holds the lock of loads, by its connection.
type databaseLoad struct {
	database
	conn *sql.Conn
	db   *sql.DB
	into *generation
	done *Loaded
}

// begin finds what an interrupted load of the same knowledge has left, or makes a
// new generation. Leftovers of other knowledge are dropped.
func (l *databaseLoad) begin(ctx context.Context, stamp Stamp) error {
	l.done = &Loaded{Stamp: stamp}
	if err := l.lock(ctx); err != nil {
		return err
	}
	if _, err := l.conn.ExecContext(ctx, generationTables); err != nil {
		return err
	}
	all, err := generations(ctx, l.conn, `WHERE NOT current`)
	if err != nil {
		return err
	}
	for i, g := range all {
		switch {
		case l.into == nil && g.same(stamp):
			l.into, l.done.Resumed = &all[i], g.Quads
		case g.finished(): // somebody may be reading it
		default:
			l.done.Dropped = true
			if err := dropGeneration(ctx, l.conn, &g); err != nil {
				return err
			}
		}
	}
	if l.into == nil {
		if l.into, err = newGeneration(ctx, l.conn, stamp); err != nil {
			return err
		}
	}
	return l.tables(ctx)
}

// finished tells whether all of a generation was written: it was the graph once,
// or a load was cut off just before it would have been.
func (g *generation) finished() bool { return g.Stamp.Quads == g.Quads }

// lock keeps other loads away. The lock of a load that was killed is let go when
// the database notices, which it does within moments: 3 seconds are long (common
// practice, no source).
func (l *databaseLoad) lock(ctx context.Context) error {
	_, err := l.conn.ExecContext(ctx, `SET lock_timeout = '3s'`)
	if err == nil {
		_, err = l.conn.ExecContext(ctx, `SELECT pg_advisory_lock($1, 0)`, lockClass)
	}
	if isCode(err, lockTimeout) {
		return fmt.Errorf("another load into %s is running", l.database)
	}
	return err
}

func newGeneration(ctx context.Context, conn *sql.Conn, stamp Stamp) (*generation, error) {
	g := &generation{Stamp: stamp}
	row := conn.QueryRowContext(ctx, `INSERT INTO telltale.generation (format, arrows, sum) VALUES ($1, $2, $3) RETURNING id`, stamp.Format, stamp.Quads, stamp.Sum)
	if err := row.Scan(&g.ID); err != nil {
		return nil, err
	}
	g.Schema = schemaName(g.ID)
	return g, nil
}

func dropGeneration(ctx context.Context, db asker, g *generation) error {
	if _, err := db.ExecContext(ctx, `DROP SCHEMA IF EXISTS `+g.Schema+` CASCADE`); err != nil {
		return err
	}
	_, err := db.ExecContext(ctx, `DELETE FROM telltale.generation WHERE id = $1`, g.ID)
	return err
}

// tables makes the schema and Cayley's tables in it, unless they are there.
func (l *databaseLoad) tables(ctx context.Context) error {
	if _, err := l.conn.ExecContext(ctx, `CREATE SCHEMA IF NOT EXISTS `+l.into.Schema); err != nil {
		return err
	}
	hush()
	err := csql.Init(postgres.Type, l.address("search_path", l.into.Schema), nil)
	if errors.Is(err, cayley.ErrDatabaseExists) {
		return nil
	}
	return err
}

// fill copies the nodes, then the arrows between them. Each batch is one
// transaction with the note of how far it goes.
func (l *databaseLoad) fill(ctx context.Context, quads []quad.Quad, how Loading) error {
	nodes := nodesOf(quads)
	for l.into.Nodes < len(nodes) {
		n := min(how.batch(), len(nodes)-l.into.Nodes)
		batch := nodes[l.into.Nodes : l.into.Nodes+n]
		err := l.copyIn(ctx, "nodes", nodeColumnsIn, "nodes_written", l.into.Nodes+n, func(i int) ([]any, error) {
			if i == len(batch) {
				return nil, nil
			}
			return batch[i].row()
		})
		if err != nil {
			return err
		}
		l.into.Nodes += n
	}
	return how.batches(ctx, l.into.Quads, quads, func(batch []quad.Quad, written int) error {
		return l.copyIn(ctx, "quads", quadColumnsIn, "written", written, func(i int) ([]any, error) {
			if i == len(batch) {
				return nil, nil
			}
			q := batch[i]
			return []any{csql.HashOf(q.Subject).SQLValue(), csql.HashOf(q.Predicate).SQLValue(), csql.HashOf(q.Object).SQLValue()}, nil
		})
	})
}

// copyIn copies rows into a table until there are no more, and notes in a column
// of the generation how many are there then.
func (l *databaseLoad) copyIn(ctx context.Context, table string, columns []string, noted string, count int, row func(int) ([]any, error)) error {
	tx, err := l.conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	if err := copyRows(ctx, tx, l.into.Schema+"."+table, columns, row); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `UPDATE telltale.generation SET `+noted+` = $1 WHERE id = $2`, count, l.into.ID); err != nil {
		return err
	}
	return tx.Commit()
}

func copyRows(ctx context.Context, tx *sql.Tx, table string, columns []string, row func(int) ([]any, error)) error {
	statement, err := tx.PrepareContext(ctx, `COPY `+table+` (`+strings.Join(columns, ", ")+`) FROM STDIN`)
	if err != nil {
		return err
	}
	defer func() { _ = statement.Close() }()
	for i := 0; ; i++ {
		values, err := row(i)
		if err != nil {
			return err
		}
		if values == nil {
			_, err = statement.ExecContext(ctx)
			return err
		}
		if _, err := statement.ExecContext(ctx, values...); err != nil {
			return err
		}
	}
}

// verify reads the new graph back through Cayley.
func (l *databaseLoad) verify(ctx context.Context) error {
	if _, err := l.conn.ExecContext(ctx, `ANALYZE `+l.into.Schema+`.nodes, `+l.into.Schema+`.quads`); err != nil {
		return err
	}
	store, err := l.cayley(l.into.Schema, readOnly...)
	if err != nil {
		return err
	}
	defer func() { _ = store.Close() }()
	return verify(ctx, namingStore{QuadStore: store, db: l.db, schema: l.into.Schema}, l.into.Stamp)
}

// switchOver makes the new generation the graph, in one transaction.
func (l *databaseLoad) switchOver(ctx context.Context) error {
	tx, err := l.conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	if err := letRead(ctx, tx, l.into.Schema); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `UPDATE telltale.generation SET current = false WHERE current`); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `UPDATE telltale.generation SET current = true, loaded = $2 WHERE id = $1`, l.into.ID, l.done.Loaded); err != nil {
		return err
	}
	return tx.Commit()
}

// letRead lets those read the new schema who may use the schema telltale.
func letRead(ctx context.Context, tx *sql.Tx, schema string) error {
	rows, err := tx.QueryContext(ctx, `
		SELECT DISTINCT coalesce(r.rolname, '') FROM pg_namespace n, aclexplode(n.nspacl) a LEFT JOIN pg_roles r ON r.oid = a.grantee
		WHERE n.nspname = 'telltale' AND a.privilege_type = 'USAGE' AND a.grantee <> n.nspowner`)
	if err != nil {
		return err
	}
	readers, err := sqlStrings(rows)
	if err != nil {
		return err
	}
	for _, r := range readers {
		who := "PUBLIC"
		if r != "" {
			who = pq.QuoteIdentifier(r)
		}
		_, err := tx.ExecContext(ctx, `GRANT USAGE ON SCHEMA `+schema+` TO `+who+`; GRANT SELECT ON ALL TABLES IN SCHEMA `+schema+` TO `+who+`; GRANT SELECT ON telltale.generation TO `+who)
		if err != nil {
			return err
		}
	}
	return nil
}

func sqlStrings(rows *sql.Rows) ([]string, error) {
	defer func() { _ = rows.Close() }()
	var out []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, rows.Err()
}

// dropUnread drops the generations that were the graph once and that nobody has
// open. What cannot be dropped now is left for the next load: this one is done.
func (l *databaseLoad) dropUnread(ctx context.Context) {
	old, err := generations(ctx, l.conn, `WHERE NOT current`)
	if err != nil {
		return
	}
	for _, g := range old {
		_ = l.dropIfUnread(ctx, &g)
	}
}

func (l *databaseLoad) dropIfUnread(ctx context.Context, g *generation) error {
	tx, err := l.conn.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }()
	var free bool
	if err := tx.QueryRowContext(ctx, `SELECT pg_try_advisory_xact_lock($1, $2)`, lockClass, g.ID).Scan(&free); err != nil || !free {
		return err
	}
	if err := dropGeneration(ctx, tx, g); err != nil {
		return err
	}
	return tx.Commit()
}

// node is a node to be written, with how many arrows touch it.
type node struct {
	value quad.Value
	refs  int
}

// nodesOf lists the nodes of a graph in the order in which they come.
func nodesOf(quads []quad.Quad) []node {
	var out []node
	places := map[quad.Value]int{}
	for _, q := range quads {
		for _, v := range []quad.Value{q.Subject, q.Predicate, q.Object} {
			place, known := places[v]
			if !known {
				place = len(out)
				places[v] = place
				out = append(out, node{value: v})
			}
			out[place].refs++
		}
	}
	return out
}

// The columns of Cayley's tables that a load fills.
var (
	nodeColumnsIn = append([]string{"refs", "value"}, nodeColumns...)
	quadColumnsIn = []string{"subject_hash", "predicate_hash", "object_hash"}
)

// row puts a node into the columns of nodeColumnsIn.
func (n node) row() ([]any, error) {
	kind, values, err := csql.NodeValues(csql.HashOf(n.value), n.value)
	if err != nil {
		return nil, err
	}
	row := make([]any, len(nodeColumnsIn))
	filled := append([]string{"refs", "hash"}, kind.Columns()...)
	values = append([]any{n.refs}, values...)
	for i, name := range nodeColumnsIn {
		for j, f := range filled {
			if f == name {
				row[i] = values[j]
			}
		}
	}
	return row, nil
}
