package reason

import (
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/matrix"
)

func TestWhatIsTypical(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("leaf.stalk", "sessile petiolate winged"), graphtest.States("flower.colour", "white yellow", "seen at flowering"),
		graphtest.States("root.type", "taproot bulb"), graphtest.States("stem.surface", "hairless bristly"),
		graphtest.Measure("leaf.length", "cm"), graphtest.Count("flower.petals"), graphtest.Months("season.flowering"),
		graphtest.Plant("a", "leaf.stalk rarely sessile", "leaf.stalk usually petiolate", "leaf.stalk sometimes winged at flowering", "flower.colour always white",
			"root.type never bulb", "leaf.length usually (2-)6-14(-30) cm", "flower.petals usually 4-7", "season.flowering usually 5-7"),
	)
	obs := TypicalObservation(matrix.Compile(k), 0, graph.Rosette)
	var got []string
	for i := range obs.Readings {
		got = append(got, obs.Readings[i].Notation(k.Vocabulary))
	}
	// neither the flower of a rosette, nor what is only known not to be, nor months
	want := []string{"leaf.stalk=petiolate", "leaf.length=10 cm", "flower.petals=5"}
	if len(got) != len(want) || obs.Stage != graph.Rosette {
		t.Fatalf("got %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("got %s, want %s", got[i], want[i])
		}
	}
}

// A typical plant, read rightly, is never ruled out as what it is.
func TestNobodyIsExcludedByWhatIsTypical(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		for i, taxon := range w.k.Taxa {
			for _, stage := range graph.Stages() {
				c := newCase(w.r.Matrix, TypicalObservation(w.r.Matrix, i, stage))
				for _, x := range c.excluded[i] {
					t.Fatalf("%s at %s by %s\n%s", taxon.ID, stage, c.obs.Readings[x].Notation(w.k.Vocabulary), w)
				}
			}
		}
	})
}
