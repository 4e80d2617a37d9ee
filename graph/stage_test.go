package graph_test

import (
	"os"
	"slices"
	"testing"
	"testing/fstest"

	"telltale/graph"
	"telltale/graph/files"
)

// shippedVocabulary is the one that comes with the program.
func shippedVocabulary(t *testing.T) *graph.Vocabulary {
	t.Helper()
	text, err := os.ReadFile("../data/vocabulary.yaml")
	if err != nil {
		t.Fatal(err)
	}
	k, err := files.Load(fstest.MapFS{"vocabulary.yaml": {Data: text}, "sources.yaml": {Data: []byte("{}")}})
	if err != nil {
		t.Fatal(err)
	}
	return k.Vocabulary
}

// The principal growth stages of the BBCH scale (Meier 2001, BBCH Monograph, table
// 1): 0 germination, sprouting, bud development; 1 leaf development; 2 formation of
// side shoots; 3 stem elongation or rosette growth, shoot development; 4
// development of harvestable vegetative parts; 5 inflorescence emergence; 6
// flowering; 7 development of fruit; 8 ripening of fruit and seed; 9 senescence,
// beginning of dormancy.
func TestStagesStandForBBCHPrincipalStages(t *testing.T) {
	want := map[graph.Stage][]int{
		graph.Seedling: {0, 1}, graph.Rosette: {1, 3, 4}, graph.LeafyShoot: {1, 2, 3, 4}, graph.Flowering: {5, 6}, graph.Fruiting: {7, 8}, graph.Dormant: {0, 9},
	}
	v := shippedVocabulary(t)
	if len(v.Stages) != len(want) {
		t.Errorf("%d stages are defined, want %d", len(v.Stages), len(want))
	}
	covered := map[int]bool{}
	for _, def := range v.Stages {
		if !slices.Equal(def.BBCH, want[def.Stage]) {
			t.Errorf("%s stands for %v, want %v", def.Stage, def.BBCH, want[def.Stage])
		}
		for _, n := range def.BBCH {
			covered[n] = true
		}
	}
	for n := range 10 {
		if !covered[n] {
			t.Errorf("no stage stands for BBCH %d", n)
		}
	}
}

func TestStagesGoByTheirNames(t *testing.T) {
	for _, s := range graph.Stages() {
		for _, name := range []string{s.String(), s.Words()} {
			if got, ok := graph.StageNamed(name); !ok || got != s {
				t.Errorf("%q is %v, %v", name, got, ok)
			}
		}
	}
	for name, want := range map[string]graph.Stage{"": graph.AnyStage, "any": graph.AnyStage, "Leafy-Shoot": graph.LeafyShoot, " flowering ": graph.Flowering} {
		if got, ok := graph.StageNamed(name); !ok || got != want {
			t.Errorf("%q is %v, %v", name, got, ok)
		}
	}
	for _, name := range []string{"flower", "no stage", "rosettes"} {
		if got, ok := graph.StageNamed(name); ok || got != graph.AnyStage {
			t.Errorf("%q passes for %v", name, got)
		}
	}
	if s := graph.Stage(9).String(); s != "no stage" {
		t.Error(s)
	}
}

func TestStageSets(t *testing.T) {
	set := graph.StagesOf(graph.Fruiting, graph.Rosette, graph.AnyStage)
	if !slices.Equal(set.Names(), []string{"rosette", "fruiting"}) || set.Has(graph.AnyStage) || set.Has(graph.Flowering) || !set.Has(graph.Rosette) {
		t.Error(set.Names())
	}
	if set.Only() != graph.AnyStage || graph.StagesOf(graph.Dormant).Only() != graph.Dormant || graph.StagesOf() != 0 {
		t.Error("the only stage of a set")
	}
	if len(graph.AllStages().List()) != 6 {
		t.Error(graph.AllStages().Names())
	}
}
