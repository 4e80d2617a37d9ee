package store

import (
	"context"
	"fmt"
	"sync"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/memstore"
	"github.com/cayleygraph/quad"

	"telltale/graph"
)

// memory is a graph that lasts as long as the program: the reference that the
// others are tested against.
type memory struct {
	mu    sync.Mutex
	stamp Stamp
	graph *memstore.QuadStore
}

// Memory makes a store in memory, with nothing in it.
func Memory() Store { return &memory{} }

// ForQueries gives knowledge as Cayley's query languages take it. Writing to it
// fails.
func ForQueries(k *graph.Knowledge) cayley.QuadStore {
	return shutStore{memstore.New(k.Quads()...)}
}

func (*memory) String() string { return "memory" }

func (m *memory) Open(context.Context) (*Graph, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.graph == nil {
		return nil, fmt.Errorf("there is no graph in %s yet", m)
	}
	return &Graph{
		Stamp: m.stamp, kept: m.graph, copied: m.graph,
		close:   func() error { return nil },
		guard:   func(do func() error) error { return do() },
		explain: func(err error) error { return err },
	}, nil
}

func (m *memory) Load(ctx context.Context, k *graph.Knowledge, how Loading) (*Loaded, error) {
	quads := quadsOf(k)
	next := memstore.New()
	err := how.batches(ctx, 0, quads, func(batch []quad.Quad, _ int) error {
		_, err := next.WriteQuads(batch)
		return err
	})
	if err != nil {
		return nil, stopped(err, m.String())
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	m.stamp, m.graph = stampOf(quads), next
	return &Loaded{Stamp: m.stamp}, nil
}

// ThroughGraph writes the knowledge into a graph and asks the graph for it: what
// comes back is what the graph holds, and nothing else.
func ThroughGraph(ctx context.Context, k *graph.Knowledge) (*graph.Knowledge, error) {
	g := memstore.New(k.Quads()...)
	back, err := graph.Read(ctx, g)
	if err != nil {
		return nil, fmt.Errorf("filling the graph: %w", err)
	}
	return back, g.Close()
}
