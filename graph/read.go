package graph

import (
	"context"
	"fmt"

	"github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/quad"
)

// Read asks a graph for everything it knows.
func Read(ctx context.Context, store graph.QuadStore) (*Knowledge, error) {
	quads, err := Fetch(ctx, store)
	if err != nil {
		return nil, err
	}
	return FromQuads(quads)
}

// FromQuads is Quads backwards.
func FromQuads(quads []quad.Quad) (*Knowledge, error) {
	cols := columns{}
	for _, q := range quads {
		subject, ok := q.Subject.(quad.IRI)
		if !ok {
			return nil, fmt.Errorf("%v leaves from %v, which has no name", q.Predicate, q.Subject)
		}
		name := text(q.Predicate)
		if cols[name] == nil {
			cols[name] = map[string][]quad.Value{}
		}
		cols[name][string(subject)] = append(cols[name][string(subject)], q.Object)
	}
	return knowledgeFrom(cols)
}

// namedAtOnce is how many nodes a graph is asked the names of in one go: enough
// that a graph behind a network is not asked once for each (common practice, no
// source).
const namedAtOnce = 8192

// Fetch takes all arrows out of a graph. The names of nodes are asked for many at
// a time, and of each node once.
func Fetch(ctx context.Context, store graph.QuadStore) ([]quad.Quad, error) {
	links, nodes, err := links(ctx, store)
	if err != nil {
		return nil, fmt.Errorf("asking the graph for its arrows: %w", err)
	}
	names := make([]quad.Value, 0, len(nodes))
	for len(nodes) > 0 {
		n := min(namedAtOnce, len(nodes))
		some, err := graph.ValuesOf(ctx, store, nodes[:n])
		if err != nil {
			return nil, fmt.Errorf("asking the graph for its names: %w", err)
		}
		names, nodes = append(names, some...), nodes[n:]
	}
	quads := make([]quad.Quad, len(links))
	for i, l := range links {
		q := quad.Quad{Subject: names[l[0]], Predicate: names[l[1]], Object: names[l[2]]}
		if q.Subject == nil || q.Predicate == nil || q.Object == nil {
			return nil, fmt.Errorf("the graph has lost the name of a node: %v %v %v", q.Subject, q.Predicate, q.Object)
		}
		quads[i] = q
	}
	return quads, nil
}

// link is an arrow by the places of its subject, itself and its object in a list
// of nodes.
type link [3]int

func links(ctx context.Context, store graph.QuadStore) ([]link, []graph.Ref, error) {
	var all []link
	var nodes []graph.Ref
	places := map[any]int{}
	it := store.QuadsAllIterator().Iterate()
	defer func() { _ = it.Close() }()
	for it.Next(ctx) && ctx.Err() == nil {
		var l link
		for i, d := range []quad.Direction{quad.Subject, quad.Predicate, quad.Object} {
			node, err := store.QuadDirection(it.Result(), d)
			if err != nil {
				return nil, nil, err
			}
			place, known := places[node.Key()]
			if !known {
				place = len(nodes)
				places[node.Key()] = place
				nodes = append(nodes, node)
			}
			l[i] = place
		}
		all = append(all, l)
	}
	if err := ctx.Err(); err != nil {
		return nil, nil, err
	}
	return all, nodes, it.Err()
}
