package graph_test

import (
	"context"
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/cayleygraph/cayley/graph/memstore"
	"github.com/cayleygraph/quad"

	"telltale/graph"
	"telltale/graph/graphtest"
)

func written() []quad.Quad {
	return graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly"),
		graphtest.Measure("leaf.length", "cm"),
		graphtest.Plant("herba-bona", "stem.surface usually bristly at rosette", "leaf.length always 5-15 cm", "deadly", "looks like herba-mala at rosette"),
		graphtest.Plant("herba-mala"),
		graphtest.Study("herba-bona", "leaf at rosette", "stem.surface is bristly"),
		graphtest.Rule(`leave herba-bona when stage == "rosette"`),
	).Quads()
}

// A graph that others have changed is refused, whatever is wrong with it: a plant
// must not lose a stage, a frequency or a poison on the way.
func TestMangledGraphsAreRefused(t *testing.T) {
	statement := "taxon/herba-bona/statement/000"
	tests := []struct{ shows, node, arrow, object, want string }{
		{"no such stage", statement, "stage", "rosete", `the graph at taxon/herba-bona/statement/000: "rosete" is no stage`},
		{"any stage", statement, "stage", "any", `the graph at taxon/herba-bona/statement/000: "any" is no stage`},
		{"no such frequency", statement, "frequency", "often", `the graph at taxon/herba-bona/statement/000: "often" is no frequency`},
		{"no frequency", statement, "frequency", "", `knowledge/herba-bona/statement 1: this statement does not say how often`},
		{"no such trait", statement, "trait", "<trait/stem.surfac>", `knowledge/herba-bona/statement 1: there is no trait "stem.surfac" (known: stem.surface, leaf.length); the nearest is "stem.surface"`},
		{"no trait", statement, "trait", "", `knowledge/herba-bona/statement 1: this statement is of no trait`},
		{"no such state", statement, "state", "bristley", `knowledge/herba-bona/statement 1: there is no state of stem.surface "bristley" (known: hairless, bristly); the nearest is "bristly"`},
		{"no such position", statement, "position", "uper", `knowledge/herba-bona/statement 1: there is no position "uper" (known: upper, lower, basal, young); the nearest is "upper"`},
		{"no such source", statement, "source", "<source/flora>", `knowledge/herba-bona/statement 1: there is no source "flora" (known: memory)`},
		{"no range", "taxon/herba-bona/statement/001", "range", "long", `the graph at taxon/herba-bona/statement/001: "long" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"a range that falls", "taxon/herba-bona/statement/001", "range", "15-5", `knowledge/herba-bona/statement 2: leaf.length: 15-5 does not rise from low to high`},
		{"no such severity", "taxon/herba-bona/toxicity/000", "severity", "fatal", `the graph at taxon/herba-bona/toxicity/000: "fatal" is no severity`},
		{"no such part", "taxon/herba-bona/toxicity/000", "part", "<part/nose>", `knowledge/herba-bona/toxicity 1: there is no part "nose"`},
		{"no such lookalike", "taxon/herba-bona/lookalike/000", "taken_for", "<taxon/herba-mali>", `knowledge/herba-bona/lookalike 1: there is no taxon "herba-mali" (known: herba-bona, herba-mala); the nearest is "herba-mala"`},
		{"no such kind", "trait/stem.surface", "kind", "colour", `the graph at trait/stem.surface: "colour" is no kind`},
		{"no kind", "trait/stem.surface", "kind", "", `knowledge/stem.surface: this trait has no kind`},
		{"a check of no state", "study/herba-bona/gather/000/check/000", "state", "bristley", `knowledge/herba-bona/gather 1/check 1: there is no state of stem.surface "bristley" (known: hairless, bristly); the nearest is "bristly"`},
		{"a rule for no plant", `rule/leave herba-bona when stage == "rosette"`, "for_taxon", "<taxon/herba-bon>", `knowledge/leave herba-bona when stage == "rosette": there is no taxon "herba-bon" (known: herba-bona, herba-mala); the nearest is "herba-bona"`},
		{"a rate that is no number", "trait/stem.surface", "error_rate", "much", `the graph at trait/stem.surface: "much" is no float64`},
		{"a truth that is none", "trait/stem.surface", "excludes", "perhaps", `the graph at trait/stem.surface: "perhaps" is no bool`},
	}
	for _, c := range tests {
		t.Run(c.shows, func(t *testing.T) {
			var mangled []quad.Quad
			found := false
			for _, q := range written() {
				if q.Subject == quad.IRI(c.node) && q.Predicate == quad.IRI(c.arrow) {
					found = true
					continue
				}
				mangled = append(mangled, q)
			}
			if !found && c.arrow != "position" && c.arrow != "range" {
				t.Fatalf("nothing leads from %s by %s", c.node, c.arrow)
			}
			if c.object != "" {
				var object quad.Value = quad.String(c.object)
				if iri, ok := strings.CutPrefix(c.object, "<"); ok {
					object = quad.IRI(strings.TrimSuffix(iri, ">"))
				}
				mangled = append(mangled, quad.Quad{Subject: quad.IRI(c.node), Predicate: quad.IRI(c.arrow), Object: object})
			}
			k, err := graph.Read(context.Background(), memstore.New(mangled...))
			if err == nil || k != nil || err.Error() != c.want {
				t.Errorf("%v, %v\nwant %s", k, err, c.want)
			}
		})
	}
}

func TestGraphsOfOthersAreRefused(t *testing.T) {
	for shows, c := range map[string]struct {
		quads []quad.Quad
		want  string
	}{
		"an empty graph": {nil, "this graph holds no vocabulary: it was not loaded by Telltale"},
		"plants only":    {[]quad.Quad{{Subject: quad.IRI("taxon/a"), Predicate: quad.IRI("name"), Object: quad.String("A b")}}, "this graph holds no vocabulary: it was not loaded by Telltale"},
		"nameless nodes": {[]quad.Quad{{Subject: quad.BNode("x"), Predicate: quad.IRI("name"), Object: quad.String("A b")}}, "<name> leaves from _:x, which has no name"},
	} {
		if k, err := graph.Read(context.Background(), memstore.New(c.quads...)); k != nil || err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, %v", shows, k, err)
		}
	}
}

func TestReadingAGraphCanBeStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if k, err := graph.Read(ctx, memstore.New(written()...)); k != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("%v, %v", k, err)
	}
}

// The property that the graph changes nothing is worth as much as what it is
// tried on: every field that is written occurs.
func TestDrawnKnowledgeUsesEveryField(t *testing.T) {
	used := map[string]bool{}
	var note func(v reflect.Value)
	note = func(v reflect.Value) {
		for v.Kind() == reflect.Pointer {
			v = v.Elem()
		}
		switch {
		case v.Kind() == reflect.Slice:
			for i := range v.Len() {
				note(v.Index(i))
			}
		case v.Kind() == reflect.Struct:
			for i := range v.NumField() {
				if f := v.Type().Field(i); f.IsExported() {
					name := v.Type().Name() + "." + f.Name
					used[name] = used[name] || !v.Field(i).IsZero()
					note(v.Field(i))
				}
			}
		}
	}
	any := graphtest.AnyKnowledge()
	for seed := range 200 {
		note(reflect.ValueOf(any.Example(seed)))
	}
	if len(used) < 80 {
		t.Errorf("only %d fields are drawn", len(used))
	}
	for name, occurs := range used {
		if !occurs {
			t.Errorf("%s is always empty", name)
		}
	}
}
