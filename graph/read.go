package graph

import (
	"context"
	"fmt"
	"reflect"

	"github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/quad"
)

// Read asks a graph for everything it knows: each arrow in turn, from all nodes
// at once, and puts the knowledge together from the answers.
func Read(ctx context.Context, store graph.QuadStore) (*Knowledge, error) {
	cols := columns{}
	for _, name := range arrowNames() {
		col, err := readArrow(ctx, store, name)
		if err != nil {
			return nil, fmt.Errorf("asking the graph where %s leads: %w", name, err)
		}
		cols[name] = col
	}
	return knowledgeFrom(cols)
}

// readArrow finds all that an arrow leads to, by the nodes it leaves from.
func readArrow(ctx context.Context, store graph.QuadStore, name string) (map[string][]quad.Value, error) {
	ref, err := store.ValueOf(quad.IRI(name))
	if err != nil || ref == nil {
		return nil, err
	}
	col := map[string][]quad.Value{}
	it := store.QuadIterator(quad.Predicate, ref).Iterate()
	defer func() { _ = it.Close() }()
	for it.Next(ctx) {
		q, err := store.Quad(it.Result())
		if err != nil {
			return nil, err
		}
		subject, ok := q.Subject.(quad.IRI)
		if !ok {
			return nil, fmt.Errorf("it leaves from %v, which has no name", q.Subject)
		}
		col[string(subject)] = append(col[string(subject)], q.Object)
	}
	return col, it.Err()
}

// arrowNames lists the arrows that Knowledge is written with.
func arrowNames() []string {
	seen := map[string]bool{arrowOrder: true}
	names := []string{arrowOrder}
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	var walk func(reflect.Type)
	walk = func(t reflect.Type) {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct {
			return
		}
		for i := range t.NumField() {
			a, ok := arrowOf(t.Field(i))
			if !ok {
				continue
			}
			add(a.name)
			switch {
			case a.first:
				add(arrowFirst + a.name)
			case t.Field(i).Type == reflect.TypeFor[Observation]():
				add(a.name + "_stage")
				add(a.name + "_month")
				add(a.name + "_part")
				continue
			}
			walk(t.Field(i).Type)
		}
	}
	walk(reflect.TypeFor[Knowledge]())
	return names
}
