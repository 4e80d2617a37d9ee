package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"github.com/lib/pq"
)

// generation is one load in a database: a schema with a graph in it, and a row of
// telltale.generation. The one that is current is the graph.
type generation struct {
	Stamp
	ID     int32
	Schema string
	Nodes  int // how many nodes are written
	Quads  int // how many arrows are written, all nodes being there
}

// lockClass is the class of the advisory locks of Telltale: 0 within it is held by
// the load that is running, ID by whoever reads the generation. (Any number that
// no other program uses; these are the digits that spell "telltale" best.)
const lockClass = 0x7e117a1e

// generationTables makes the table of generations. It is only ever made by a load.
const generationTables = `
CREATE SCHEMA IF NOT EXISTS telltale;
CREATE TABLE IF NOT EXISTS telltale.generation (
	id            serial PRIMARY KEY,
	format        text NOT NULL,
	arrows        integer NOT NULL,
	sum           text NOT NULL,
	nodes_written integer NOT NULL DEFAULT 0,
	written       integer NOT NULL DEFAULT 0,
	current       boolean NOT NULL DEFAULT false,
	loaded        timestamp with time zone NOT NULL DEFAULT now()
);
CREATE UNIQUE INDEX IF NOT EXISTS one_is_current ON telltale.generation (current) WHERE current;`

const generationColumns = `id, format, arrows, sum, nodes_written, written, loaded`

// errNoGraph is the answer of a database without a graph.
var errNoGraph = errors.New("there is no graph in this database yet")

// asker asks a database, within a transaction or without.
type asker interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

func currentGeneration(ctx context.Context, db asker) (*generation, error) {
	all, err := generations(ctx, db, `WHERE current`)
	switch {
	case isCode(err, undefinedTable, undefinedSchema):
		return nil, errNoGraph
	case err != nil:
		return nil, err
	case len(all) == 0:
		return nil, errNoGraph
	}
	return &all[0], nil
}

func generations(ctx context.Context, db asker, where string) ([]generation, error) {
	rows, err := db.QueryContext(ctx, `SELECT `+generationColumns+` FROM telltale.generation `+where+` ORDER BY id`)
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }()
	var out []generation
	for rows.Next() {
		g := generation{}
		var loaded time.Time
		if err := rows.Scan(&g.ID, &g.Format, &g.Stamp.Quads, &g.Sum, &g.Nodes, &g.Quads, &loaded); err != nil {
			return nil, err
		}
		g.Loaded, g.Schema = loaded.UTC(), schemaName(g.ID)
		out = append(out, g)
	}
	return out, rows.Err()
}

func schemaName(id int32) string { return fmt.Sprintf("telltale_%d", id) }

// The errors of PostgreSQL that are told apart (PostgreSQL documentation, appendix
// A, error codes).
const (
	undefinedTable   = "42P01"
	undefinedSchema  = "3F000"
	wrongPassword    = "28P01"
	wrongUser        = "28000"
	undefinedDB      = "3D000"
	notPermitted     = "42501"
	tooManyClients   = "53300"
	diskFull         = "53100"
	adminShutdown    = "57P01"
	crashShutdown    = "57P02"
	cannotConnectNow = "57P03"
	lockTimeout      = "55P03"
	readOnlyDB       = "25006"
)

func isCode(err error, codes ...string) bool {
	var e *pq.Error
	if !errors.As(err, &e) {
		return false
	}
	for _, c := range codes {
		if string(e.Code) == c {
			return true
		}
	}
	return false
}
