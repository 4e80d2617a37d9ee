package graph_test

import (
	"slices"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

func TestNearStatesHoldBothWays(t *testing.T) {
	k := graphtest.Knowledge(graphtest.States("stem.surface", "hairless bristly woolly felted", "felted ~ woolly", "bristly ~ felted", "bristly ~ woolly"))
	surface, _ := k.Vocabulary.Trait("stem.surface")
	want := map[string][]string{"hairless": nil, "bristly": {"woolly", "felted"}, "woolly": {"bristly", "felted"}, "felted": {"bristly", "woolly"}}
	for _, again := range []bool{false, true} {
		if again {
			k.Vocabulary.Index()
		}
		for _, s := range surface.States {
			if !slices.Equal(s.Near, want[s.ID]) {
				t.Errorf("%s is taken for %v, want %v", s.ID, s.Near, want[s.ID])
			}
		}
	}
}

func TestAllMeasuresAreOneEvidenceGroup(t *testing.T) {
	k := graphtest.Knowledge(graphtest.Measure("leaf.length", "cm", "group leaf"), graphtest.Measure("stem.length", "cm"), graphtest.Count("flower.petals", "group petals"))
	var groups []string
	for _, t := range k.Vocabulary.Traits {
		groups = append(groups, t.EvidenceGroup())
	}
	if !slices.Equal(groups, []string{"measures", "measures", "petals"}) {
		t.Error(groups)
	}
}

func TestTraitsAreVisibleAtTheirStages(t *testing.T) {
	k := graphtest.Knowledge(graphtest.Count("flower.petals", "seen at flowering"), graphtest.States("stem.surface", "hairless bristly"))
	petals, surface := k.Vocabulary.Traits[0], k.Vocabulary.Traits[1]
	for _, c := range []struct {
		trait *graph.Trait
		stage graph.Stage
		want  bool
	}{{petals, graph.Flowering, true}, {petals, graph.Rosette, false}, {petals, graph.AnyStage, true}, {surface, graph.Rosette, true}} {
		if got := c.trait.Visible(c.stage); got != c.want {
			t.Errorf("%s at %s: %v", c.trait.ID, c.stage, got)
		}
	}
}

// A word that is a state's own name is never taken for another state.
func TestStateNamesWinOverEverydayWords(t *testing.T) {
	k := graphtest.Knowledge(graphtest.States("leaf.margin", "entire toothed serrate", "toothed means serrate"))
	margin, _ := k.Vocabulary.Trait("leaf.margin")
	if got := margin.StatesCalled("toothed"); !slices.Equal(got, []string{"toothed"}) {
		t.Error(got)
	}
}

func TestEveryKindOfTraitGoesByItsName(t *testing.T) {
	for _, name := range graph.KindNames() {
		if k, ok := graph.KindNamed(name); !ok || k.String() != name {
			t.Errorf("%s is %s", name, k)
		}
	}
	for _, name := range graph.FrequencyNames() {
		if f, ok := graph.FrequencyNamed(name); !ok || f.String() != name {
			t.Errorf("%s is %s", name, f)
		}
	}
	if _, ok := graph.KindNamed(""); ok {
		t.Error("no name passes for a kind")
	}
	if _, ok := graph.FrequencyNamed("often"); ok {
		t.Error("often passes for a frequency")
	}
}
