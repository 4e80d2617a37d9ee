package store

import (
	"context"
	"fmt"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/memstore"

	"telltale/graph"
)

// Memory fills a graph in memory with the knowledge.
func Memory(k *graph.Knowledge) cayley.QuadStore {
	return memstore.New(k.Quads()...)
}

// ThroughGraph writes the knowledge into a graph and asks the graph for it: what
// comes back is what the graph holds, and nothing else.
func ThroughGraph(ctx context.Context, k *graph.Knowledge) (*graph.Knowledge, error) {
	g := Memory(k)
	back, err := graph.Read(ctx, g)
	if err != nil {
		return nil, fmt.Errorf("filling the graph: %w", err)
	}
	return back, g.Close()
}
