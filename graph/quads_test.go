package graph_test

import (
	"context"
	"testing"

	"github.com/cayleygraph/cayley/graph/memstore"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// sameKnowledge compares what people wrote, not the indexes made of it.
var sameKnowledge = cmp.Options{
	cmpopts.IgnoreUnexported(graph.Knowledge{}, graph.Vocabulary{}, graph.Statement{}, graph.Range{}), cmpopts.EquateEmpty(),
}

func TestGraphNeverChangesWhatItIsGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := graphtest.AnyKnowledge().Draw(t, "knowledge")
		back, err := graph.Read(context.Background(), memstore.New(k.Quads()...))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(k, back, sameKnowledge); d != "" {
			t.Fatalf("the graph changed what it was given (-given +read):\n%s", d)
		}
	})
}

func TestSortingTwiceChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := graphtest.AnyKnowledge().Draw(t, "knowledge")
		once := k.Quads()
		k.Sort()
		if d := cmp.Diff(once, k.Quads()); d != "" {
			t.Fatal(d)
		}
	})
}
