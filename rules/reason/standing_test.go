package reason

import (
	"fmt"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// DESIGN section 3, Standing: two evidence groups for a poisonous taxon, one for
// any other; excluded by fewer is contested.
func TestStandingByEvidenceGroups(t *testing.T) {
	tests := []struct {
		groups    int
		poisonous bool
		want      string
	}{
		{0, false, "open"}, {1, false, "ruled_out"}, {2, false, "ruled_out"},
		{0, true, "open"}, {1, true, "contested"}, {2, true, "ruled_out"}, {5, true, "ruled_out"},
	}
	for _, test := range tests {
		t.Run(fmt.Sprintf("%d groups, poisonous %v", test.groups, test.poisonous), func(t *testing.T) {
			if got := standing(test.groups, test.poisonous).String(); got != test.want {
				t.Errorf("got %s, want %s", got, test.want)
			}
		})
	}
}

// standings weighs the readings and gives how each plant stands.
func standings(t testing.TB, k *graph.Knowledge, obs graph.Observation) map[string]string {
	t.Helper()
	r, err := New(k)
	if err != nil {
		t.Fatal(err)
	}
	a, err := r.Weigh(obs)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, c := range a.Candidates {
		out[c.Taxon.ID] = c.Standing.String()
	}
	return out
}

// DESIGN section 3, Evidence groups: traits that say the same thing twice count
// once, and all measures together count once. Counts are no measures.
func TestEvidenceGroupsCountOnce(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly", "group hairs"),
		graphtest.States("plant.clothing", "bare hairy", "group hairs"),
		graphtest.States("stem.markings", "none blotched", "group blotches"),
		graphtest.Measure("leaf.length", "cm", "group leaf-size"),
		graphtest.Measure("plant.height", "cm", "group plant-size"),
		graphtest.Count("flower.petals"),
		graphtest.Plant("hemlock", "deadly", "stem.surface always hairless", "plant.clothing always bare", "stem.markings always blotched",
			"leaf.length always 20-40 cm", "plant.height always 100-200 cm", "flower.petals always 5"),
		graphtest.Plant("nettle", "mild", "stem.surface always hairless", "plant.clothing always bare"),
	)
	tests := []struct {
		name            string
		readings        []string
		hemlock, nettle string
	}{
		{"nothing read", nil, "open", "open"},
		{"one reading", []string{"stem.surface=bristly"}, "contested", "ruled_out"},
		{"two of one group", []string{"stem.surface=bristly", "plant.clothing=hairy"}, "contested", "ruled_out"},
		{"the same trait read twice", []string{"stem.surface@upper=bristly", "stem.surface@lower=bristly"}, "contested", "ruled_out"},
		{"two of two groups", []string{"stem.surface=bristly", "stem.markings=none"}, "ruled_out", "ruled_out"},
		{"two of two groups, one unsure", []string{"stem.surface=bristly", "stem.markings=none?"}, "contested", "ruled_out"},
		{"two measures", []string{"leaf.length=2", "plant.height=5"}, "contested", "open"},
		{"two measures, whatever groups they name, and one state", []string{"leaf.length=2", "plant.height=5", "stem.markings=none"}, "ruled_out", "open"},
		{"a measure and a count", []string{"leaf.length=2", "flower.petals=12"}, "ruled_out", "open"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := standings(t, k, graphtest.Seen(k, "flowering", test.readings...))
			if got["hemlock"] != test.hemlock || got["nettle"] != test.nettle {
				t.Errorf("hemlock %s, nettle %s; want %s, %s", got["hemlock"], got["nettle"], test.hemlock, test.nettle)
			}
		})
	}
}

// A taxon counts by its worst part to eat; deadly and serious are poisonous, and
// what harms the skin is not.
func TestWhoIsPoisonous(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly"),
		graphtest.Plant("a-deadly", "deadly", "stem.surface always hairless"), graphtest.Plant("b-serious", "serious", "stem.surface always hairless"),
		graphtest.Plant("c-mild", "mild", "stem.surface always hairless"), graphtest.Plant("d-none", "none_known", "stem.surface always hairless"),
		graphtest.Plant("e-mild-and-serious", "mild", "serious", "stem.surface always hairless"),
		graphtest.Plant("f-burns", "stem.surface always hairless"),
	)
	burns, _ := k.Taxon("f-burns")
	burns.Toxicity = append(burns.Toxicity, graph.Toxicity{Parts: []string{"sap"}, Severity: graph.Serious, Irritant: true, Route: graph.SkinAndSun})
	got := standings(t, k, graphtest.Seen(k, "rosette", "stem.surface=bristly"))
	for id, want := range map[string]string{
		"a-deadly": "contested", "b-serious": "contested", "c-mild": "ruled_out", "d-none": "ruled_out", "e-mild-and-serious": "contested", "f-burns": "ruled_out",
	} {
		if got[id] != want {
			t.Errorf("%s is %s, want %s", id, got[id], want)
		}
	}
}
