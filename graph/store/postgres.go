package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net/url"
	"sync"

	"github.com/cayleygraph/cayley/clog"
	cayley "github.com/cayleygraph/cayley/graph"
	csql "github.com/cayleygraph/cayley/graph/sql"
	"github.com/cayleygraph/cayley/graph/sql/postgres"
	"github.com/lib/pq"
)

// database is a graph in a PostgreSQL database.
type database struct{ url *url.URL }

// String is the address without the password.
func (d database) String() string {
	shown := *d.url
	if d.url.User != nil {
		shown.User = url.User(d.url.User.Username())
	}
	query := shown.Query()
	query.Del("password")
	shown.RawQuery = query.Encode()
	return shown.String()
}

// connectWait is how many seconds to wait for a database to answer, where the
// address does not say (common practice, no source).
const connectWait = "10"

// address is the address with settings added. What a person wrote goes before.
func (d database) address(settings ...string) string {
	full := *d.url
	query := full.Query()
	set := func(name, value string) {
		if !query.Has(name) {
			query.Set(name, value)
		}
	}
	set("sslmode", "prefer") // as PostgreSQL's own programs do
	set("connect_timeout", connectWait)
	set("application_name", "telltale")
	for i := 0; i+1 < len(settings); i += 2 {
		query.Set(settings[i], settings[i+1])
	}
	full.RawQuery = query.Encode()
	return full.String()
}

// readOnly makes the database refuse whatever would write.
var readOnly = []string{"default_transaction_read_only", "on"}

// connect opens the database and makes sure that it answers.
func (d database) connect(ctx context.Context, settings ...string) (*sql.DB, error) {
	connector, err := pq.NewConnector(d.address(settings...))
	if err != nil {
		return nil, fmt.Errorf("%s is no address of a database, expected postgres://USER@HOST:PORT/DATABASE: %w", d, err)
	}
	db := sql.OpenDB(connector)
	if err := db.PingContext(ctx); err != nil {
		_ = db.Close()
		return nil, err
	}
	return db, nil
}

func (d database) Open(ctx context.Context) (*Graph, error) {
	g, err := d.open(ctx)
	return g, d.explain(err)
}

func (d database) open(ctx context.Context) (*Graph, error) {
	db, err := d.connect(ctx, readOnly...)
	if err != nil {
		return nil, err
	}
	held, err := hold(ctx, db)
	if err != nil {
		_ = db.Close()
		return nil, err
	}
	g, err := d.graph(db, held)
	if err != nil {
		_ = held.conn.Close()
		_ = db.Close()
	}
	return g, err
}

func (d database) graph(db *sql.DB, held *heldGeneration) (*Graph, error) {
	if err := held.readable(d.String()); err != nil {
		return nil, err
	}
	quads, err := d.cayley(held.Schema, readOnly...)
	if err != nil {
		return nil, err
	}
	return &Graph{
		Stamp: held.Stamp, kept: namingStore{QuadStore: quads, db: db, schema: held.Schema},
		close:   func() error { return errors.Join(quads.Close(), held.conn.Close(), db.Close()) },
		guard:   func(do func() error) error { return do() },
		explain: d.explain,
	}, nil
}

// cayley opens the graph in a schema.
func (d database) cayley(schema string, settings ...string) (cayley.QuadStore, error) {
	hush()
	return csql.New(postgres.Type, d.address(append(settings, "search_path", schema)...), nil)
}

// hush keeps Cayley from printing addresses, passwords and all, when something
// fails. Its logger is one for the whole program.
var hush = sync.OnceFunc(func() { clog.SetLogger(nil) })

// heldGeneration is a generation that the next load does not drop as long as the
// connection lasts.
type heldGeneration struct {
	generation
	conn *sql.Conn
}

// hold finds the generation that is the graph now, and keeps it from being
// dropped.
func hold(ctx context.Context, db *sql.DB) (*heldGeneration, error) {
	conn, err := db.Conn(ctx)
	if err != nil {
		return nil, err
	}
	for {
		g, err := currentGeneration(ctx, conn)
		if err == nil {
			_, err = conn.ExecContext(ctx, `SELECT pg_advisory_lock_shared($1, $2)`, lockClass, g.ID)
		}
		if err != nil {
			_ = conn.Close()
			return nil, err
		}
		now, err := currentGeneration(ctx, conn)
		switch {
		case err == nil && now.ID == g.ID: // it was not dropped before it was held
			return &heldGeneration{generation: *g, conn: conn}, nil
		case err == nil:
			_, err = conn.ExecContext(ctx, `SELECT pg_advisory_unlock_shared($1, $2)`, lockClass, g.ID)
		}
		if err != nil {
			_ = conn.Close()
			return nil, err
		}
	}
}
