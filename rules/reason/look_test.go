package reason

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// saturdayMornings is table 1 of Quinlan 1986, "Induction of decision trees",
// Machine Learning 1: 81-106: outlook, temperature, humidity, windy, class.
const saturdayMornings = `
sunny    hot  high   false N
sunny    hot  high   true  N
overcast hot  high   false P
rain     mild high   false P
rain     cool normal false P
rain     cool normal true  N
overcast cool normal true  P
sunny    mild high   false N
sunny    cool normal false P
rain     mild normal false P
sunny    mild normal true  P
overcast mild high   true  P
overcast hot  normal false P
rain     mild high   true  N`

// The gains that the same paper gives, in bits, to three places. It cuts the
// further places off.
func TestGainIsQuinlans(t *testing.T) {
	days := strings.Split(strings.TrimSpace(saturdayMornings), "\n")
	of := map[string]float64{"P": 9, "N": 5}
	prior := []float64{of["P"] / 14, of["N"] / 14}
	for column, want := range []struct {
		attribute string
		bits      float64
	}{{"outlook", 0.246}, {"temperature", 0.029}, {"humidity", 0.151}, {"windy", 0.048}} {
		seen := map[string][]float64{}
		for _, day := range days {
			f := strings.Fields(day)
			if seen[f[column]] == nil {
				seen[f[column]] = make([]float64, 2)
			}
			seen[f[column]][strings.Index("PN", f[4])] += 1 / of[f[4]]
		}
		var chances [][]float64
		for _, value := range sortedKeys(seen) {
			chances = append(chances, seen[value])
		}
		if got := Gain(prior, chances); got < want.bits || got >= want.bits+0.001 {
			t.Errorf("%s gains %.4f bits, the paper has %.3f", want.attribute, got, want.bits)
		}
	}
}

// What a look can gain lies between nothing and all that is unknown.
func TestGainIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 6).Draw(t, "plants"), rapid.IntRange(1, 5).Draw(t, "answers")
		part := func(n int, what string) []float64 {
			out, total := make([]float64, n), 0.0
			for i := range out {
				out[i] = float64(rapid.IntRange(0, 9).Draw(t, what)) + 0.001
				total += out[i]
			}
			for i := range out {
				out[i] /= total
			}
			return out
		}
		prior := part(n, "prior")
		chances := make([][]float64, m)
		for i := range chances {
			chances[i] = make([]float64, n)
		}
		for plant := range n {
			for i, p := range part(m, "chance") {
				chances[i][plant] = p
			}
		}
		if got := Gain(prior, chances); got < 0 || got > entropy(prior)+1e-9 {
			t.Fatalf("gains %g bits of %g", got, entropy(prior))
		}
	})
}

func TestGainOfTheExtremes(t *testing.T) {
	prior := []float64{0.25, 0.25, 0.5}
	if got := Gain(prior, [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}); math.Abs(got-1.5) > 1e-12 {
		t.Errorf("an answer that tells every plant gains %g of 1.5 bits", got)
	}
	if got := Gain(prior, [][]float64{{0.3, 0.3, 0.3}, {0.7, 0.7, 0.7}}); got > 1e-12 {
		t.Errorf("an answer that tells nothing gains %g bits", got)
	}
}

func traitsOf(looks []Look) string {
	var out []string
	for _, l := range looks {
		out = append(out, l.Trait.ID)
	}
	return strings.Join(out, " ")
}

// DESIGN section 3, Next look: what most lowers the chance that a poison is still
// open, then the entropy of the ranking, for the effort; of what can be seen now.
func TestWhatIsLookedAtNext(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("leaf.stalk", "petiolate sessile"),                              // parts the two harmless plants
		graphtest.States("stem.markings", "none blotched"),                               // parts the poison from both
		graphtest.States("root.interior", "solid chambered", "effort dig"),               // so does this, with a spade
		graphtest.States("flower.colour", "white yellow", "seen at flowering"),           // so does this, in flower
		graphtest.States("plant.habitat", "meadow wood", "never excludes", "effort eye"), // tells something, excludes nobody
		graphtest.States("leaf.margin", "entire toothed"),                                // tells nothing
		graphtest.Plant("hemlock", "deadly", "leaf.stalk always sessile", "stem.markings always blotched", "root.interior always chambered", "flower.colour always white", "plant.habitat always wood", "leaf.margin always entire"),
		graphtest.Plant("carrot", "leaf.stalk always sessile", "stem.markings always none", "root.interior always solid", "flower.colour always yellow", "plant.habitat always meadow", "leaf.margin always entire"),
		graphtest.Plant("parsnip", "leaf.stalk always petiolate", "stem.markings always none", "root.interior always solid", "flower.colour always yellow", "plant.habitat always meadow", "leaf.margin always entire"),
	)
	tests := []struct {
		name, stage string
		readings    []string
		first       string
	}{
		{"what rules the poison out comes first, the easier way of two", "rosette", nil, "stem.markings"},
		{"what was read is not looked at again", "rosette", []string{"stem.markings=none"}, "leaf.stalk"},
		{"nor is what was read unsurely", "rosette", []string{"stem.markings=none?"}, "leaf.stalk"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			a := weigh(t, k, graphtest.Seen(k, test.stage, test.readings...))
			if len(a.Next) == 0 || a.Next[0].Trait.ID != test.first {
				t.Errorf("looks: %s; want %s first", traitsOf(a.Next), test.first)
			}
			for _, l := range a.Next {
				for _, r := range test.readings {
					if strings.HasPrefix(r, l.Trait.ID) {
						t.Errorf("%s is looked at again", l.Trait.ID)
					}
				}
			}
		})
	}
	rosette, flowering := traitsOf(weigh(t, k, graphtest.Seen(k, "rosette")).Next), traitsOf(weigh(t, k, graphtest.Seen(k, "flowering")).Next)
	if strings.Contains(rosette, "flower.colour") || !strings.Contains(flowering, "flower.colour") {
		t.Errorf("flowers are looked at in the rosette (%s), or not in flower (%s)", rosette, flowering)
	}
	for _, l := range weigh(t, k, graphtest.Seen(k, "rosette")).Next {
		want := []string{"hemlock"} // the only poison: some answer excludes it, if only a rare one
		if l.Trait.ID == "plant.habitat" {
			want = nil
		}
		if !slices.Equal(l.RulesOut, want) || (l.Relief > 0) != (len(want) > 0) {
			t.Errorf("%s can rule out %v, want %v; its relief is %g", l.Trait.ID, l.RulesOut, want, l.Relief)
		}
	}
	if strings.Index(rosette, "stem.markings") > strings.Index(rosette, "root.interior") {
		t.Errorf("the spade comes before the eye: %s", rosette)
	}
}

// The looks of a verdict name whom each could rule out, and none that cannot.
func TestEachLookNamesWhomItCanRuleOut(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("stem.markings", "none blotched"), graphtest.States("stem.surface", "hairless bristly"),
		graphtest.States("plant.habitat", "meadow wood", "never excludes"),
		graphtest.Plant("carrot", "looks like hemlock", "stem.markings always none", "stem.surface always bristly", "plant.habitat always meadow"),
		graphtest.Plant("hemlock", "deadly", "stem.markings always blotched", "stem.surface always hairless", "plant.habitat always wood"),
		graphtest.Plant("chervil", "looks like carrot", "stem.markings always none", "stem.surface always hairless"),
		graphtest.Study("carrot", "root at rosette", "stem.surface is bristly"),
	)
	v := mayGather(t, k, "carrot", graphtest.Seen(k, "rosette"))
	want := map[string][]string{"stem.surface": {"chervil", "hemlock"}, "stem.markings": {"hemlock"}}
	if len(v.Look) != len(want) || v.Look[0].Trait.ID != "stem.surface" {
		t.Errorf("looks: %s; want the check first, then the markings", traitsOf(v.Look))
	}
	for _, l := range v.Look {
		if slices.Sort(l.RulesOut); !slices.Equal(l.RulesOut, want[l.Trait.ID]) {
			t.Errorf("%s rules out %v, want %v", l.Trait.ID, l.RulesOut, want[l.Trait.ID])
		}
	}
}

// Where nothing seen at this stage parts the herb from what is in the way, the
// answer says when something does.
func TestWhatPartsThemLater(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly"),
		graphtest.States("flower.colour", "white yellow", "seen at flowering"), graphtest.States("fruit.surface", "smooth ribbed", "seen at fruiting"),
		graphtest.Plant("carrot", "looks like hemlock", "stem.surface always bristly", "flower.colour always yellow", "fruit.surface always smooth"),
		graphtest.Plant("hemlock", "deadly", "stem.surface always bristly", "flower.colour always white", "fruit.surface always ribbed"),
		graphtest.Study("carrot", "root at rosette", "stem.surface is bristly"),
	)
	v := mayGather(t, k, "carrot", graphtest.Seen(k, "rosette", "stem.surface=bristly"))
	got := map[string]graph.StageSet{}
	for _, l := range v.Later {
		if slices.Equal(l.Parts, []string{"hemlock"}) {
			got[l.Trait.ID] = l.Stages
		}
	}
	if v.Verdict != NotYet || got["flower.colour"] != graph.StagesOf(graph.Flowering) || got["fruit.surface"] != graph.StagesOf(graph.Fruiting) {
		t.Errorf("%s; later: %v", v.Verdict, got)
	}
}

// Looks are put in order, so what they are ordered by has to be numbers.
func TestLooksAreWorthSomething(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		for _, l := range w.weigh(t, w.obs).Next {
			if !(l.Bits >= 0 && l.Bits < 4 && l.Relief >= 0 && l.Relief < 10) { // of five plants and a stranger
				t.Fatalf("%s: %g bits, relief %g\n%s", l.Trait.ID, l.Bits, l.Relief, w)
			}
			if w.obs.Reads(l.Trait.ID) || !l.Trait.Visible(w.obs.Stage) {
				t.Fatalf("%s is read already, or cannot be seen at %s\n%s", l.Trait.ID, w.obs.Stage, w)
			}
			for _, id := range l.RulesOut {
				if c := w.weigh(t, w.obs).of(t, id); !c.Taxon.Poisonous() || c.Standing == RuledOut {
					t.Fatalf("%s would rule out %s, which is %s and severity %s\n%s", l.Trait.ID, id, c.Standing, c.Taxon.Severity(), w)
				}
			}
		}
	})
}
