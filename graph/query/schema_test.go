package query_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/cayleygraph/quad"
	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/query"
	"telltale/graph/store"
)

// arrowsOf lists the arrows of a graph as the schema writes them: kind of node,
// arrow, kind of node or value.
func arrowsOf(quads []quad.Quad) map[string]bool {
	kinds := map[quad.Value]string{}
	for _, q := range quads {
		if q.Predicate == quad.IRI("is_a") {
			kinds[q.Subject] = string(q.Object.(quad.String))
		}
	}
	kind := func(v quad.Value) string {
		switch x := v.(type) {
		case quad.IRI:
			if k := kinds[x]; k != "" {
				return k
			}
			k, _, _ := strings.Cut(string(x), "/") // families, parts and what was never defined
			return k
		case quad.String:
			return "text"
		case quad.Bool:
			return "truth"
		case quad.Int, quad.Float:
			return "number"
		}
		return fmt.Sprintf("%T", v)
	}
	out := map[string]bool{}
	for _, q := range quads {
		from, arrow := kind(q.Subject), string(q.Predicate.(quad.IRI))
		if arrow == "is_a" || arrow == "order" {
			from = query.AnyNode
		}
		out[strings.Join([]string{from, arrow, kind(q.Object)}, " ")] = true
	}
	return out
}

func documented() map[string]bool {
	out := map[string]bool{}
	for _, a := range query.Arrows() {
		out[strings.Join([]string{a.From, a.Name, a.To}, " ")] = true
	}
	return out
}

func TestEveryArrowOfAGraphIsInTheSchema(t *testing.T) {
	known := documented()
	rapid.Check(t, func(t *rapid.T) {
		for a := range arrowsOf(graphtest.AnyKnowledge().Draw(t, "knowledge").Quads()) {
			if !known[a] {
				t.Errorf("the schema does not have %s", a)
			}
		}
	})
}

func TestEveryArrowOfTheSchemaIsInSomeGraph(t *testing.T) {
	found := map[string]bool{}
	for seed := range 100 {
		k := graphtest.AnyKnowledge().Example(seed)
		k.Corrections = []graph.Correction{{Kind: "taxon", Of: "herba-a", What: []string{"name"}, File: "mine.yaml"}}
		for a := range arrowsOf(k.Quads()) {
			found[a] = true
		}
	}
	for a := range documented() {
		if !found[a] {
			t.Errorf("no graph has %s", a)
		}
	}
}

func TestTheSchemaNamesEveryKindOfNode(t *testing.T) {
	var kinds []string
	for _, n := range query.Nodes() {
		kinds = append(kinds, n.Kind)
	}
	for _, a := range query.Arrows() {
		for _, end := range []string{a.From, a.To} {
			if !slices.Contains(append(kinds, query.AnyNode, "text", "number", "truth"), end) {
				t.Errorf("%s -%s-> %s: what a %s is, is not said", a.From, a.Name, a.To, end)
			}
		}
		if a.Means == "" {
			t.Errorf("%s -%s-> %s: what it says, is not said", a.From, a.Name, a.To)
		}
	}
}

// The examples run on what comes with the program, and find something there.
func TestTheExamplesFindSomethingInTheData(t *testing.T) {
	k, err := store.Embedded(context.Background(), os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	quads := store.ForQueries(k)
	for _, e := range query.Examples() {
		a, err := query.Run(context.Background(), quads, e.Query, query.Limits{Time: query.UsualTime * 3})
		switch {
		case err != nil:
			t.Errorf("%s: %v", e.Name, err)
		case len(a.Rows) == 0:
			t.Errorf("%s finds nothing", e.Name)
		case e.About == "":
			t.Errorf("%s does not say what it is about", e.Name)
		}
	}
}
