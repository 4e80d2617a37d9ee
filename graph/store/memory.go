package store

import (
	"context"
	"fmt"
	"sync"

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

// InMemory opens a graph in memory with the knowledge in it.
func InMemory(k *graph.Knowledge) *Graph {
	quads := quadsOf(k)
	return openMemory(stampOf(quads), memstore.New(quads...))
}

func (*memory) String() string { return "memory" }

func (m *memory) Open(context.Context) (*Graph, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.graph == nil {
		return nil, fmt.Errorf("there is no graph in %s yet", m)
	}
	return openMemory(m.stamp, m.graph), nil
}

func openMemory(stamp Stamp, quads *memstore.QuadStore) *Graph {
	return &Graph{
		Stamp: stamp, kept: quads, copied: quads,
		close:   func() error { return nil },
		guard:   func(do func() error) error { return do() },
		explain: func(err error) error { return err },
	}
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
