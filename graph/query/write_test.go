package query_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"telltale/graph"
	"telltale/graph/query"
	"telltale/graph/store"
)

// All that JavaScript can reach of Cayley, listed so that a new version of Cayley
// that could do more would be noticed. None of it writes.
var reachable = map[string][]string{
	"Object.getPrototypeOf(g)": {"IRI", "M", "Morphism", "V", "Vertex", "addDefaultNamespaces", "addNamespace", "emit", "loadNamespaces"},
	"g.V()": {
		"all", "and", "as", "back", "both", "count", "difference", "except", "filter", "follow", "followR", "followRecursive", "forEach", "getLimit", "has",
		"hasR", "in", "inPredicates", "intersect", "is", "labelContext", "labels", "limit", "map", "or", "order", "out", "outPredicates", "save",
		"saveInPredicates", "saveOpt", "saveOptR", "saveOutPredicates", "saveR", "skip", "tag", "tagArray", "tagValue", "toArray", "toValue", "union", "unique",
	},
}

func TestNothingInReachOfAQueryWrites(t *testing.T) {
	g := inMemory(t, world())
	for of, want := range reachable {
		var got []string
		for _, name := range ask(t, g, `Object.getOwnPropertyNames(`+of+`).forEach(function (n) { g.emit(n) })`) {
			older := strings.ToUpper(name[:1]) == name[:1] && slices.Contains(want, strings.ToLower(name[:1])+name[1:]) // each has a second name
			if !older && name != "Uri" {
				got = append(got, name)
			}
		}
		slices.Sort(got)
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s can do other things than were looked at (-looked at +there):\n%s", of, d)
		}
	}
	globals := ask(t, g, `g.emit([typeof require, typeof process, typeof fetch, typeof XMLHttpRequest, typeof importScripts, typeof console].join(" "))`)
	sameLines(t, globals, []string{strings.TrimSpace(strings.Repeat("undefined ", 6))})
}

// Whatever a query tries, the graph is afterwards what it was before.
func TestAQueryCannotWrite(t *testing.T) {
	everyGraph(t, world(), func(t *testing.T, g *store.Graph) {
		for _, text := range []string{
			`g.addQuad("<taxon/carrot>", "<name>", "Hemlock")`, `g.AddQuad("a", "b", "c")`, `graph.write([])`, `g.qs.applyDeltas([])`, `g.s.qs.close()`, `g.V("<taxon/carrot>").delete()`,
			`g.V("<taxon/carrot>").remove().all()`, `g.addNamespace("t", "taxon/"); g.V("<taxon/carrot>").out("<name>").all()`, `g.loadNamespaces()`, `g = null; graph = null`,
			`var rows = g.V("<taxon/carrot>").out("<name>").tagArray(); rows[0].id = "Hemlock"; g.emit(rows[0])`, `Object.prototype.out = null; g.V("<taxon/carrot>").all()`,
		} {
			_, _ = query.Run(context.Background(), quadsOf(t, g), gizmo(text), query.Limits{})
		}
		for _, text := range []string{`mutation { nodes { id } }`, `mutation { insert(id: "x") { id } }`, `{ nodes(id: "<taxon/carrot>") { name: delete } }`} {
			_, _ = query.Run(context.Background(), quadsOf(t, g), query.Query{Language: query.GraphQL, Name: "query", Text: text}, query.Limits{})
		}
		quads, err := graph.Fetch(context.Background(), quadsOf(t, g))
		if err != nil {
			t.Fatal(err)
		}
		asked, err := graph.FromQuads(quads)
		if err != nil {
			t.Fatal(err)
		}
		kept, err := g.Knowledge(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		same := []cmp.Option{cmpopts.IgnoreUnexported(graph.Knowledge{}, graph.Vocabulary{}, graph.Statement{}, graph.Range{}), cmpopts.EquateEmpty()}
		if d := cmp.Diff(world(), asked, same...); d != "" {
			t.Errorf("the graph that is asked has changed (-loaded +asked):\n%s", d)
		}
		if d := cmp.Diff(world(), kept, same...); d != "" {
			t.Errorf("the graph that is kept has changed (-loaded +kept):\n%s", d)
		}
		sameLines(t, ask(t, g, `g.V("<taxon/carrot>").out("<name>").all()`), []string{"Carrot"})
	})
}
