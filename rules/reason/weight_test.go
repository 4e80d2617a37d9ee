package reason

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// hedge is a graph in which the chances can be followed by hand.
func hedge() *graph.Knowledge {
	return graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly woolly", "group hairs", "smooth means hairless"),
		graphtest.States("plant.clothing", "bare hairy", "group hairs"),
		graphtest.States("plant.clothing_hairs", "bare hairy", "group hairs"),
		graphtest.States("stem.markings", "none blotched"),
		graphtest.Measure("leaf.length", "cm"), graphtest.Measure("plant.height", "cm"),
		graphtest.Months("season.flowering"), graphtest.Months("season.leafing"),
		graphtest.Plant("carrot", "stem.surface always bristly", "plant.clothing always hairy", "plant.clothing_hairs always hairy", "stem.markings always none", "leaf.length usually 5-15 cm", "season.flowering usually 6-8"),
		graphtest.Plant("hemlock", "deadly", "stem.surface always hairless", "plant.clothing always bare", "plant.clothing_hairs always bare", "stem.markings usually blotched", "leaf.length usually 20-40 cm", "season.flowering usually 5-7"),
		graphtest.Plant("parsnip", "stem.surface usually hairless", "stem.surface sometimes bristly", "plant.height usually 50-100 cm", "season.leafing usually 3-9"),
		graphtest.Plant("unscored"),
	)
}

func weigh(t *testing.T, k *graph.Knowledge, obs graph.Observation) *Answer {
	t.Helper()
	r, err := New(k)
	if err != nil {
		t.Fatal(err)
	}
	a, err := r.Weigh(obs)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func weightsOf(a *Answer) map[string]float64 {
	out := map[string]float64{"": a.Outside}
	for _, c := range a.Candidates {
		out[c.Taxon.ID] = c.Weight
	}
	return out
}

// Before anything is read the plants of the graph are as likely as one another.
func TestThePriorIsEven(t *testing.T) {
	k := hedge()
	w := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering")))
	if math.Abs(w[""]-priorOutside) > 1e-12 {
		t.Errorf("a plant outside weighs %g, want %g", w[""], priorOutside)
	}
	for id, x := range w {
		if id != "" && math.Abs(x-(1-priorOutside)/4) > 1e-12 {
			t.Errorf("%s weighs %g", id, x)
		}
	}
}

// Weights are parts of one belief, a plant outside this graph among them.
func TestWeightsSumToOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		a := w.weigh(t, w.obs)
		sum := a.Outside
		for _, c := range a.Candidates {
			if c.Weight < 0 || math.IsNaN(c.Weight) {
				t.Fatalf("%s weighs %g\n%s", c.Taxon.ID, c.Weight, w)
			}
			sum += c.Weight
		}
		if math.Abs(sum-1) > 1e-9 || math.IsNaN(sum) {
			t.Fatalf("the weights come to %g\n%s", sum, w)
		}
		if len(a.Candidates) != len(w.k.Taxa) {
			t.Fatalf("%d candidates of %d plants", len(a.Candidates), len(w.k.Taxa))
		}
	})
}

// What was read first changes nothing: not a bit of any weight, no standing, no
// verdict.
func TestTheOrderOfReadingsChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		other := w.obs
		other.Readings = rapid.Permutation(w.obs.Readings).Draw(t, "other order")
		a, b := w.weigh(t, w.obs), w.weigh(t, other)
		if a.Outside != b.Outside {
			t.Fatalf("a plant outside weighs %g, and in the order %v %g\n%s", a.Outside, other.Readings, b.Outside, w)
		}
		for i, x := range a.Candidates {
			if y := b.Candidates[i]; x.Taxon != y.Taxon || x.Weight != y.Weight || x.Standing != y.Standing {
				t.Fatalf("%s weighs %g and is %s; in the order %v %s weighs %g and is %s\n%s", x.Taxon.ID, x.Weight, x.Standing, other.Readings, y.Taxon.ID, y.Weight, y.Standing, w)
			}
		}
		if !slices.Equal(a.PoisonsOpen, b.PoisonsOpen) {
			t.Fatalf("poisons open: %v, %v", a.PoisonsOpen, b.PoisonsOpen)
		}
		for i, x := range a.Next {
			if y := b.Next[i]; x.Trait != y.Trait || x.Bits != y.Bits || x.Relief != y.Relief {
				t.Fatalf("the next look is %s, or %s\n%s", x.Trait.ID, y.Trait.ID, w)
			}
		}
		if x, y := w.mayGather(t, w.obs), w.mayGather(t, other); x.Verdict != y.Verdict || x.Slack != y.Slack {
			t.Fatalf("the verdict is %s, in the order %v %s\n%s", x.Verdict, other.Readings, y.Verdict, w)
		}
	})
}

// The same observation, weighed again, comes to the same last bit: nothing hangs
// on the order that a map happens to have.
func TestWeighingAgainComesToTheSame(t *testing.T) {
	k := hedge()
	obs := graphtest.Seen(k, "flowering", "month=6", "stem.surface=bristly", "plant.clothing=hairy", "stem.markings=none?", "leaf.length=12", "plant.height=60")
	first := weightsOf(weigh(t, k, obs))
	for range 50 {
		for id, x := range weightsOf(weigh(t, hedge(), obs)) {
			if x != first[id] {
				t.Fatalf("%q weighs %g, then %g", id, first[id], x)
			}
		}
	}
}

// DESIGN section 3, Evidence groups: a trait that says the same thing again
// weighs nothing more.
func TestAGroupOfTraitsWeighsOnce(t *testing.T) {
	k := hedge()
	once := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "plant.clothing=hairy", "stem.markings=none")))
	twice := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "plant.clothing=hairy", "plant.clothing_hairs=hairy", "stem.markings=none")))
	other := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "plant.clothing=hairy")))
	for id, x := range once {
		if twice[id] != x {
			t.Errorf("%q weighs %g with hairs read once, %g with hairs read twice", id, x, twice[id])
		}
	}
	if once["carrot"] <= other["carrot"] {
		t.Errorf("a trait of another group adds nothing: %g, without it %g", once["carrot"], other["carrot"])
	}
}

func TestAllMeasuresWeighOnce(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.Measure("leaf.length", "cm", "group leaves"), graphtest.Measure("plant.height", "cm", "group plant"),
		graphtest.Plant("a", "leaf.length usually 5-10 cm", "plant.height usually 5-10 cm"),
		graphtest.Plant("b", "leaf.length usually 50-100 cm", "plant.height usually 50-100 cm"))
	once := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "leaf.length=7")))
	twice := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "leaf.length=7", "plant.height=7")))
	for id, x := range once {
		if twice[id] != x {
			t.Errorf("%q weighs %g measured once, %g measured twice", id, x, twice[id])
		}
	}
}

// An everyday word is the state that it stands for, and one that stands for
// several is "one of these".
func TestAnEverydayWordWeighsAsItsState(t *testing.T) {
	k := hedge()
	for word, state := range map[string]string{
		"stem.surface=smooth": "stem.surface=hairless", "stem surface=Smooth": "stem.surface=hairless", "smooth stem": "stem.surface=hairless",
		"stem.surface!=smooth": "stem.surface=bristly|woolly", "stem.surface=woolly|smooth": "stem.surface=hairless|woolly",
	} {
		a, b := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", word))), weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", state)))
		for id, x := range a {
			if b[id] != x {
				t.Errorf("%q weighs %g on %s and %g on %s", id, x, word, b[id], state)
			}
		}
	}
}

// What nobody has scored of a plant speaks neither for nor against it.
func TestWhatIsNotScoredSaysNothing(t *testing.T) {
	k := hedge()
	a := weigh(t, k, graphtest.Seen(k, "flowering", "stem.surface=bristly", "leaf.length=12", "season.flowering=6"))
	for _, c := range a.Candidates {
		if c.Taxon.ID == "unscored" && len(c.Supports)+len(c.Against)+len(c.Excludes) > 0 {
			t.Errorf("for %v, against %v, excludes %v", c.Supports, c.Against, c.Excludes)
		}
	}
	w := weightsOf(a)
	if x, y := w["unscored"]/w[""], (1-priorOutside)/4/priorOutside; math.Abs(x-y) > 1e-9 {
		t.Errorf("beside a plant outside it weighs %g, before anything was read %g", x, y)
	}
}

// What is usual speaks more for a plant than what is rare, and what it never
// shows against it. Each pair: the first weighs more on the reading.
func TestFrequenciesRankThePlants(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly woolly"),
		graphtest.Plant("always", "stem.surface always hairless"),
		graphtest.Plant("usually", "stem.surface usually hairless", "stem.surface sometimes bristly"),
		graphtest.Plant("sometimes", "stem.surface sometimes hairless", "stem.surface usually bristly"),
		graphtest.Plant("rarely", "stem.surface rarely hairless", "stem.surface usually bristly"),
		graphtest.Plant("never", "stem.surface never hairless", "stem.surface usually bristly"),
	)
	w := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "stem.surface=hairless")))
	for _, pair := range [][2]string{{"always", "usually"}, {"usually", "sometimes"}, {"sometimes", "rarely"}, {"rarely", "never"}} {
		if w[pair[0]] <= w[pair[1]] {
			t.Errorf("%s weighs %g, %s %g", pair[0], w[pair[0]], pair[1], w[pair[1]])
		}
	}
	unsure := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "stem.surface=hairless?")))
	if !(unsure["always"] < w["always"] && unsure["never"] > w["never"] && unsure["always"] > unsure["never"]) {
		t.Errorf("an unsure reading: always %g, never %g; a sure one: %g, %g", unsure["always"], unsure["never"], w["always"], w["never"])
	}
}

// A trait that is often misread says less than one that is hardly ever.
func TestWhatIsOftenMisreadSaysLess(t *testing.T) {
	weight := func(rate string) float64 {
		k := graphtest.Knowledge(graphtest.States("stem.surface", "hairless bristly", "error "+rate),
			graphtest.Plant("a", "stem.surface always hairless"), graphtest.Plant("b", "stem.surface always bristly"))
		return weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "stem.surface=hairless")))["a"]
	}
	if often, hardly := weight("0.3"), weight("0.01"); often >= hardly {
		t.Errorf("misread in 30 of 100: %g, in 1 of 100: %g", often, hardly)
	}
}

// A misreading is likelier to be of a near state: who is mistaken for what was
// read weighs more than who is not.
func TestNearStatesAreTheLikelierMisreadings(t *testing.T) {
	k := graphtest.Knowledge(graphtest.States("stem.surface", "hairless softly_hairy woolly", "softly_hairy ~ woolly"),
		graphtest.Plant("soft", "stem.surface always softly_hairy"), graphtest.Plant("bare", "stem.surface always hairless"))
	w := weightsOf(weigh(t, k, graphtest.Seen(k, "flowering", "stem.surface=woolly")))
	if w["soft"] <= w["bare"] {
		t.Errorf("soft %g, bare %g", w["soft"], w["bare"])
	}
}

// A plant in flower outside its months is less to be expected, never ruled out.
func TestTheMonthShiftsTheRankingAndNoMore(t *testing.T) {
	k := hedge()
	in, out := weigh(t, k, graphtest.Seen(k, "flowering", "month=6")), weigh(t, k, graphtest.Seen(k, "flowering", "month=11"))
	if x, y := weightsOf(in)["carrot"], weightsOf(out)["carrot"]; x <= y {
		t.Errorf("in its month the carrot weighs %g, outside it %g", x, y)
	}
	for _, c := range out.Candidates {
		if c.Standing != Open {
			t.Errorf("%s is %s", c.Taxon.ID, c.Standing)
		}
	}
}

// A candidate that fits worse than its own plants usually do loses to a plant
// outside this graph; when that wins, or nothing is open, no plant is known.
func TestAStrangerIsNotTakenForAPlantOfTheGraph(t *testing.T) {
	k := hedge()
	k.Taxa = slices.DeleteFunc(k.Taxa, func(t *graph.Taxon) bool { return t.ID == "unscored" }) // which fits everything
	k.Index()
	tests := []struct {
		name     string
		readings []string
		known    bool
	}{
		{"a hairy unspotted plant is one of them", []string{"stem.surface=bristly", "stem.markings=none", "leaf.length=10"}, true},
		{"a hairy one with blotches and enormous leaves is not", []string{"stem.surface=woolly", "stem.markings=blotched", "leaf.length=300", "plant.height=900"}, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			a := weigh(t, k, graphtest.Seen(k, "flowering", test.readings...))
			if a.Known() != test.known {
				t.Errorf("known %v; outside %g, first %s %s with %g", a.Known(), a.Outside, a.Candidates[0].Taxon.ID, a.Candidates[0].Standing, a.Candidates[0].Weight)
			}
		})
	}
	nothingOpen := &Answer{Outside: 0.1, Candidates: []Candidate{{Weight: 0.9, Standing: Contested}}}
	if nothingOpen.Known() {
		t.Error("nothing is open, and a plant is known")
	}
}
