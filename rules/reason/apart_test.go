package reason

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/matrix"
)

// DESIGN section 3, Parting a pair.
func TestHowATraitPartsTwoPlants(t *testing.T) {
	tests := []struct{ name, a, b, want string }{
		{"neither is scored", "", "", "not_scored"},
		{"one is scored", "always hairless", "", "not_known"},
		{"always one and always another, far from near", "always hairless", "always bristly", "constant"},
		{"always one and always a near one", "always bristly", "always stinging", "usual"},
		{"both near to a third", "always softly_hairy", "always woolly", "usual"},
		{"the same", "always hairless", "always hairless", "shared"},
		{"usual ones differ, rare ones meet", "usually hairless, rarely bristly", "usually bristly, rarely hairless", "usual"},
		{"named variation that does not meet", "usually hairless, rarely felted", "always stinging", "constant"},
		{"a lone usually is no constant difference", "usually hairless", "always bristly", "usual"},
		{"both lone", "usually hairless", "usually bristly", "usual"},
		{"sometimes one, always another", "sometimes hairless", "always bristly", "shared"},
		{"never what the other always shows", "never bristly", "always bristly", "shared"},
		{"never it nor anything near it", "never bristly, never stinging", "always bristly", "constant"},
		{"overruled: the variation is not all there is", "always hairless, is not exhaustive", "always bristly", "usual"},
		{"overruled: the lone usually is", "usually hairless, is exhaustive", "always bristly", "constant"},
		{"of different stages", "always hairless at flowering", "always bristly at rosette", "not_known"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			k := graphtest.Knowledge(
				graphtest.States("stem.surface", "hairless softly_hairy felted woolly bristly stinging", "felted ~ softly_hairy", "felted ~ woolly", "bristly ~ stinging"),
				graphtest.Plant("a", statements("stem.surface", test.a)...), graphtest.Plant("b", statements("stem.surface", test.b)...))
			m := matrix.Compile(k)
			for _, pair := range [][2]int{{0, 1}, {1, 0}} {
				got := "not_scored"
				if list := Apart(m, pair[0], pair[1], graph.Rosette); len(list) > 0 {
					got = list[0].How.String()
				}
				if got != test.want {
					t.Errorf("%q and %q: %s, want %s", test.a, test.b, got, test.want)
				}
			}
		})
	}
}

// statements puts a trait before each of several sayings.
func statements(trait, said string) []string {
	var lines []string
	for _, s := range strings.Split(said, ", ") {
		if s != "" {
			lines = append(lines, trait+" "+s)
		}
	}
	return lines
}

// Two measured plants differ constantly only if no length could be read of both:
// each misread by half, that is 2.25 times between the extremes.
func TestHowAMeasurePartsTwoPlants(t *testing.T) {
	tests := []struct{ name, a, b, want string }{
		{"ranges that meet", "always 2-5 cm", "always 4-10 cm", "shared"},
		{"ranges that do not", "always 2-4 cm", "always 5-10 cm", "usual"},
		{"extremes that meet", "always 2-4(-6) cm", "always 5-10 cm", "usual"},
		{"two and a quarter times apart", "always 2-4 cm", "always 9-10 cm", "usual"},
		{"more than that apart", "always 2-4 cm", "always 9.01-10 cm", "constant"},
		{"one is not measured", "always 2-4 cm", "", "not_known"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			k := graphtest.Knowledge(graphtest.Measure("leaf.length", "cm"),
				graphtest.Plant("a", statements("leaf.length", test.a)...), graphtest.Plant("b", statements("leaf.length", test.b)...))
			m := matrix.Compile(k)
			for _, pair := range [][2]int{{0, 1}, {1, 0}} {
				if got := Apart(m, pair[0], pair[1], graph.Rosette)[0].How.String(); got != test.want {
					t.Errorf("%q and %q: %s, want %s", test.a, test.b, got, test.want)
				}
			}
		})
	}
}

func TestWhatCannotBeSeenAtTheStagePartsNobody(t *testing.T) {
	k := graphtest.Knowledge(graphtest.States("flower.colour", "white yellow", "seen at flowering"),
		graphtest.Plant("a", "flower.colour always white"), graphtest.Plant("b", "flower.colour always yellow"))
	m := matrix.Compile(k)
	if d := Apart(m, 0, 1, graph.Rosette); len(d) != 0 {
		t.Errorf("a rosette's flowers part them: %v", d)
	}
	if got := ConstantGroups(m, 0, 1, graph.Flowering); !slices.Equal(got, []string{"flower.colour"}) {
		t.Errorf("in flower they are parted by %v", got)
	}
}

// DESIGN section 3, Lookalikes: linked in either direction, or fewer than three
// constant differences at that stage, and these are counted by evidence group.
func TestWhoIsALookalike(t *testing.T) {
	// three groups of two traits each, one of which can be seen in flower only
	traits := []graphtest.Piece{
		graphtest.States("stem.surface", "hairless bristly", "group hairs"), graphtest.States("plant.clothing", "bare hairy", "group hairs"),
		graphtest.States("stem.markings", "none blotched"), graphtest.States("root.type", "taproot bulb"),
		graphtest.States("flower.colour", "white yellow", "seen at flowering"),
	}
	herb := graphtest.Plant("herb", "looks like linked-by-herb at flowering", "stem.surface always bristly", "plant.clothing always hairy",
		"stem.markings always none", "root.type always taproot", "flower.colour always white")
	others := map[string][]string{
		"linked-by-herb":     {"stem.surface always hairless", "stem.markings always blotched", "root.type always bulb", "flower.colour always yellow"},
		"linked-to-herb":     {"looks like herb", "stem.surface always hairless", "stem.markings always blotched", "root.type always bulb", "flower.colour always yellow"},
		"unlike":             {"stem.surface always hairless", "stem.markings always blotched", "root.type always bulb"},
		"unlike-in-flower":   {"stem.surface always hairless", "stem.markings always blotched", "flower.colour always yellow"},
		"two-groups-unlike":  {"stem.surface always hairless", "plant.clothing always bare", "stem.markings always blotched"},
		"all-the-same":       {"stem.surface always bristly", "stem.markings always none", "root.type always taproot"},
		"nobody-scored-it":   {},
		"usual-differences":  {"stem.surface usually hairless", "stem.markings usually blotched", "root.type usually bulb", "flower.colour usually yellow"},
		"looks-like-another": {"looks like unlike", "stem.surface always hairless", "stem.markings always blotched", "root.type always bulb"},
	}
	pieces := append(traits, herb)
	for id, lines := range others {
		pieces = append(pieces, graphtest.Plant(id, lines...))
	}
	m := matrix.Compile(graphtest.Knowledge(pieces...))
	lookalikes := func(stage graph.Stage) string {
		var out []string
		for i, is := range Lookalikes(m, m.TaxonIndex("herb"), stage) {
			if is {
				out = append(out, m.Knowledge.Taxa[i].ID)
			}
		}
		return strings.Join(out, " ")
	}
	if got, want := lookalikes(graph.Rosette), "all-the-same linked-by-herb linked-to-herb nobody-scored-it two-groups-unlike unlike-in-flower usual-differences"; got != want {
		t.Errorf("in the rosette:\n got %s\nwant %s", got, want)
	}
	if got, want := lookalikes(graph.Flowering), "all-the-same linked-by-herb linked-to-herb nobody-scored-it two-groups-unlike usual-differences"; got != want {
		t.Errorf("in flower:\n got %s\nwant %s", got, want)
	}
}

// What parts A from B parts B from A.
func TestDifferencesHoldBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		for _, stage := range graph.Stages() {
			for a := range w.k.Taxa {
				for b := range a {
					x, y := Apart(w.r.Matrix, a, b, stage), Apart(w.r.Matrix, b, a, stage)
					if fmt.Sprint(x) != fmt.Sprint(y) {
						t.Fatalf("%s and %s at %s: %v, and the other way %v\n%s", w.k.Taxa[a].ID, w.k.Taxa[b].ID, stage, x, y, w)
					}
				}
			}
		}
	})
}

// A constant difference is a promise: whatever the one plant shows, and whatever
// that is taken for, the reading excludes the other.
func TestAConstantDifferenceExcludesWhateverIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		stage := rapid.SampledFrom(graph.Stages()).Draw(t, "stage")
		for a := range w.k.Taxa {
			for b := range w.k.Taxa {
				for _, d := range Apart(w.r.Matrix, a, b, stage) {
					if a != b && d.How == ConstantDifference {
						for _, r := range readingsOf(w, a, d.Trait, stage) {
							c := newCase(w.r.Matrix, graph.Observation{Stage: stage, Readings: []graph.Reading{r}})
							if len(c.excluded[b]) == 0 {
								t.Fatalf("%s can give %s at %s, which does not exclude %s\n%s", w.k.Taxa[a].ID, r.Notation(w.k.Vocabulary), stage, w.k.Taxa[b].ID, w)
							}
						}
					}
				}
			}
		}
	})
}

// readingsOf lists every reading of one value that a plant can give, rightly read
// or taken for a near state; of numbers, those from end to end.
func readingsOf(w *world, taxon int, t *graph.Trait, stage graph.Stage) []graph.Reading {
	trait := w.k.Vocabulary.TraitIndex(t.ID)
	p := possibleAt(w.r.Matrix, taxon, trait, graph.StagesOf(stage), "")
	var out []graph.Reading
	if t.Kind != graph.StateKind {
		for i := range 21 {
			x := p.Low/beyond + (p.High*beyond-p.Low/beyond)*float64(i)/20
			out = append(out, graph.Reading{Trait: t.ID, Low: x, High: x})
		}
		return out
	}
	for i := range t.States {
		if withNear(t, p.States)&(1<<i) != 0 {
			out = append(out, graph.Reading{Trait: t.ID, States: []string{t.States[i].ID}})
		}
	}
	return out
}

// And what is no constant difference promises nothing: some reading that the one
// plant can give leaves the other open, for state traits that both are scored in.
func TestWhatIsNoConstantDifferenceCanBeMisread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		stage := rapid.SampledFrom(graph.Stages()).Draw(t, "stage")
		for a := range w.k.Taxa {
			for b := range w.k.Taxa {
				for _, d := range Apart(w.r.Matrix, a, b, stage) {
					if a == b || d.Trait.Kind != graph.StateKind || d.How != UsualDifference && d.How != Shared {
						continue
					}
					open := false
					for _, r := range readingsOf(w, a, d.Trait, stage) {
						c := newCase(w.r.Matrix, graph.Observation{Stage: stage, Readings: []graph.Reading{r}})
						open = open || len(c.excluded[b]) == 0
					}
					if !open {
						t.Fatalf("%s is %s between %s and %s at %s, and every reading of the first excludes the second\n%s", d.Trait.ID, d.How, w.k.Taxa[a].ID, w.k.Taxa[b].ID, stage, w)
					}
				}
			}
		}
	})
}
