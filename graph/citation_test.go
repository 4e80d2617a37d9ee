package graph_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"telltale/graph"
	"telltale/graph/graphtest"
)

func TestCitationsTellWhatRestsOnASource(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly"),
		graphtest.Plant("carrot", "stem.surface usually bristly", "stem.surface rarely hairless", "mild", "looks like hemlock at rosette"),
		graphtest.Plant("hemlock"),
		graphtest.Study("carrot", "root at rosette", "stem.surface is bristly"),
		graphtest.Rule(`leave carrot when stem.surface == "hairless"`),
	)
	carrot, _ := k.Taxon("carrot")
	for i := range carrot.Statements {
		if s := &carrot.Statements[i]; s.State == "bristly" {
			s.Sources = []string{"flora", graph.Memory}
		}
	}
	carrot.Toxicity[0].Sources = []string{"flora"}
	k.Studies[0].Gather[0].Checks[0].Sources = []string{"flora"}
	want := []graph.Citation{
		{Kind: "statement", Of: "carrot", What: "stem.surface usually bristly"},
		{Kind: "toxicity", Of: "carrot", What: "whole_plant", Alone: true},
		{Kind: "check", Of: "carrot", What: "stem.surface bristly", Alone: true},
	}
	if d := cmp.Diff(want, k.CitationsOf("flora")); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
	if got := k.CitationCounts()["flora"]; got != len(want) {
		t.Errorf("cited %d times, want %d", got, len(want))
	}
	kinds := map[string]int{}
	for _, c := range k.CitationsOf(graph.Memory) {
		kinds[c.Kind]++
	}
	if d := cmp.Diff(map[string]int{"plant": 2, "statement": 2, "lookalike": 1, "study": 1, "gather": 1, "rule": 1, "trait": 1, "effort": 6}, kinds); d != "" {
		t.Errorf("from memory (-want +got):\n%s", d)
	}
}
