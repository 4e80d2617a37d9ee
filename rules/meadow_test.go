package rules

import (
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// meadow is the small graph that the tests of this package are about.
func meadow(pieces ...graphtest.Piece) *graph.Knowledge {
	return graphtest.Knowledge(append([]graphtest.Piece{
		graphtest.States("stem.surface", "hairless bristly woolly", "furry means bristly woolly", "bald means hairless"),
		graphtest.States("leaf.margin", "entire serrate crenate dentate", "toothed means serrate crenate dentate"),
		graphtest.States("leaf.upper_surface", "hairless hairy glossy"),
		graphtest.States("leaf.lower_surface", "glossy hairless hairy"),
		graphtest.States("flower.ray", "white yellow"),
		graphtest.States("flower.disc", "white yellow"),
		graphtest.Measure("leaf.length", "cm"),
		graphtest.Measure("leaf.breadth", "cm"),
		graphtest.Measure("seed.length", "mm"),
		graphtest.Count("flower.petals"),
		graphtest.Months("season.flowering"),
		graphtest.Plant("carrot"),
		graphtest.Plant("hemlock", "deadly"),
	}, pieces...)...)
}

// field is where a test puts rules to the test.
type field struct {
	*testing.T
	k   *graph.Knowledge
	env *Env
}

func newField(t *testing.T) *field {
	t.Helper()
	k := meadow()
	env, err := NewEnv(k)
	if err != nil {
		t.Fatal(err)
	}
	return &field{t, k, env}
}

// rule makes a rule ready that must be without fault.
func (f *field) rule(then, when string) *Rule {
	f.Helper()
	r, err := f.env.Compile(&graph.Rule{ID: "tried", Then: then, When: when})
	if err != nil {
		f.Fatalf("%s\n%s", when, err)
	}
	return r
}

// told makes facts of what is seen, "stage=rosette stem.surface=hairless?". Besides
// what an observation holds it takes "hoped_for=carrot" and "is_ruled_out=hemlock".
func (f *field) told(seen string) *Facts {
	f.Helper()
	stage, hoped, ruledOut := "", "", map[string]bool{}
	var readings []string
	for _, x := range strings.Fields(seen) {
		switch name, value, _ := strings.Cut(x, "="); name {
		case "stage":
			stage = value
		case "hoped_for":
			hoped = value
		case "is_ruled_out":
			ruledOut[value] = true
		default:
			readings = append(readings, x)
		}
	}
	obs := graphtest.Seen(f.k, stage, readings...)
	return NewFacts(f.k.Vocabulary, &obs, hoped, ruledOut)
}

// try puts a rule to what is seen.
func (f *field) try(r *Rule, seen string) Result {
	f.Helper()
	res, err := r.Try(f.told(seen))
	if err != nil {
		f.Fatalf("%s of %q: %s", r.When, seen, err)
	}
	return res
}
