package rules

import (
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

func TestARuleIsHeldToItsOwnTests(t *testing.T) {
	tests := []struct {
		shows, when, seen string
		hoped, expect     string
		waitsFor          []string
		why               string // "" if it passes
	}{
		{"it fires as expected", `stem.surface == "hairless"`, "stem.surface=hairless", "", graph.Fires, nil, ""},
		{"it keeps quiet as expected", `stem.surface == "hairless"`, "stem.surface=woolly", "", graph.Quiet, nil, ""},
		{"it waits as expected", `stem.surface == "hairless"`, "", "", graph.Waits, nil, ""},
		{"it waits for what is expected, in any order", `stem.surface == "hairless" && leaf.margin == "serrate"`, "", "", graph.Waits, []string{"stem.surface", "leaf.margin"}, ""},
		{"the rule's own plant is hoped for if none is told", `hoped_for("carrot")`, "", "", graph.Fires, nil, ""},
		{"another plant is hoped for", `hoped_for("carrot")`, "", "hemlock", graph.Quiet, nil, ""},
		{"it fires and should be quiet", `stem.surface == "hairless"`, "stem.surface=hairless", "", graph.Quiet, nil, "expected that it keeps quiet, and it fires"},
		{"it is quiet and should wait", `stem.surface == "hairless"`, "stem.surface=woolly", "", graph.Waits, []string{"stem.surface"}, "expected that it waits for stem.surface, and it keeps quiet"},
		{"it waits and should fire", `stem.surface == "hairless"`, "", "", graph.Fires, nil, "expected that it fires, and it waits for stem.surface"},
		{"it waits for more than is expected", `stem.surface == "hairless" && leaf.margin == "serrate"`, "", "", graph.Waits, []string{"stem.surface"}, "expected that it waits for stem.surface, and it waits for leaf.margin, stem.surface"},
	}
	f := newField(t)
	for _, test := range tests {
		t.Run(test.shows, func(t *testing.T) {
			r, err := f.env.Compile(&graph.Rule{ID: "tried", For: "carrot", Then: graph.Leave, When: test.when, Tests: []graph.RuleTest{{
				Given: graphtest.Seen(f.k, "", strings.Fields(test.seen)...), Hoped: test.hoped, Expect: test.expect, For: test.waitsFor,
			}}})
			if err != nil {
				t.Fatal(err)
			}
			got := r.RunTests()
			if len(got) != 1 || got[0].Passed != (test.why == "") || got[0].Why != test.why || got[0].Test != &r.Tests[0] || got[0].Rule != r.Rule {
				t.Errorf("got %+v, want why %q", got, test.why)
			}
		})
	}
}
