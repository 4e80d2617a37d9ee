package store

import (
	"context"
	"errors"
	"fmt"
	"net/url"
	"strings"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/memstore"
	"github.com/cayleygraph/quad"

	"telltale/graph"
)

// Store is a place where a graph is kept.
type Store interface {
	// Open opens the graph for asking. Nothing can be written through it.
	Open(ctx context.Context) (*Graph, error)
	// Load puts the knowledge in place of what is there, all of it or nothing.
	Load(ctx context.Context, k *graph.Knowledge, how Loading) (*Loaded, error)
	// String names the place for people, without a password.
	String() string
}

// At finds the store that a person names: postgres://USER@HOST/DATABASE, or the
// name of a file.
func At(where string) (Store, error) {
	scheme, _, isURL := strings.Cut(where, "://")
	switch {
	case where == "":
		return nil, fmt.Errorf("no place is named: expected FILE.db or postgres://HOST/DATABASE")
	case !isURL:
		return boltFile{path: where}, nil
	case scheme != "postgres" && scheme != "postgresql":
		p := graph.Unknown(graph.Place{File: scheme + "://"}, "kind of store", scheme, []string{"postgres", "postgresql"})
		p.Message += "; a file is named without ://"
		return nil, p
	}
	u, err := url.Parse(where)
	if err != nil {
		return nil, fmt.Errorf("this is no address of a database, expected postgres://USER@HOST:PORT/DATABASE (a password with / ? # or %% in it goes into PGPASSWORD)")
	}
	return database{url: u}, nil
}

// Graph is a graph that was opened.
type Graph struct {
	Stamp Stamp

	kept    cayley.QuadStore // as it is kept, giving many names at a time
	copied  *memstore.QuadStore
	close   func() error
	guard   func(func() error) error // runs what may run into a damaged store
	explain func(error) error        // says an error of the store in words
}

// Knowledge reads all that the graph knows, and holds it against the stamp.
func (g *Graph) Knowledge(ctx context.Context) (*graph.Knowledge, error) {
	quads, err := g.fetch(ctx)
	if err != nil {
		return nil, err
	}
	k, err := graph.FromQuads(quads)
	return k, g.explain(err)
}

// Quads gives the graph as Cayley's query languages take it: a copy in memory, held
// against the stamp. Queries run there whatever the store, so that the same query
// has the same answer everywhere, and one that a store breaks off has none.
// (Cayley can ask PostgreSQL itself, but then counts what except leaves out, and
// fails at saveOpt.) Writing to it fails.
func (g *Graph) Quads(ctx context.Context) (cayley.QuadStore, error) {
	if g.copied == nil {
		quads, err := g.fetch(ctx)
		if err != nil {
			return nil, err
		}
		g.copied = memstore.New(quads...)
	}
	return shutStore{g.copied}, nil
}

// fetch takes all arrows out of the store.
func (g *Graph) fetch(ctx context.Context) (quads []quad.Quad, err error) {
	err = g.guard(func() error {
		if quads, err = graph.Fetch(ctx, g.kept); err != nil {
			return err
		}
		return g.Stamp.check(quads)
	})
	return quads, g.explain(err)
}

// Close lets the graph go.
func (g *Graph) Close() error { return g.close() }

// shutStore keeps whoever asks from writing.
type shutStore struct{ cayley.QuadStore }

// ErrReadOnly is the answer to whoever writes to a graph that was opened for
// asking.
var ErrReadOnly = errors.New("a graph is opened for asking, not for writing")

func (shutStore) ApplyDeltas([]cayley.Delta, cayley.IgnoreOpts) error { return ErrReadOnly }

func (shutStore) NewQuadWriter() (quad.WriteCloser, error) { return nil, ErrReadOnly }
