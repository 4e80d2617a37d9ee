package rules

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
)

// A rule comes out as Kleene's tables have it of every value that may be true, put
// to it one by one: CEL, and the trying of no more values than it takes, change
// nothing.
func TestARuleComesOutAsItDoesOfEveryValueThatMayBeTrue(t *testing.T) {
	f := newField(t)
	rapid.Check(t, func(t *rapid.T) {
		x, r := drawRule(t, f.env, graph.Leave, rapid.IntRange(0, 3).Draw(t, "depth"))
		s := drawSeen(t, f.k, 2)
		got, err := r.Try(s.facts(f.k))
		if err != nil {
			t.Fatalf("%s\n%s", x.text, err)
		}
		if want := x.cameToAll(s.everyWay(f.k, x.names)); got.Outcome != want {
			t.Fatalf("%s\nof %s\nshould be %s, and it %s", x.text, s.words(f.k), want, got.Outcome)
		}
	})
}

// What is left of a rule that waits is a rule itself, it looks at nothing but what
// is waited for, and whatever is read afterwards it comes out as the whole does.
func TestTheResidualSaysWhatTheWholeRuleDoes(t *testing.T) {
	f := newField(t)
	rapid.Check(t, func(t *rapid.T) {
		then := pick(t, graph.Leave, graph.Must, graph.ItIs, graph.Note)
		x, whole := drawRule(t, f.env, then, rapid.IntRange(1, 3).Draw(t, "depth"))
		before := drawSeen(t, f.k, 1)
		got, err := whole.Try(before.facts(f.k))
		if err != nil {
			t.Fatal(err)
		}
		if got.Outcome != graph.Waits {
			if got.Residual != "" || len(got.WaitsFor) > 0 {
				t.Fatalf("%s %s, and yet it waits for %v: %s", x.text, got.Outcome, got.WaitsFor, got.Residual)
			}
			return
		}
		left, err := f.env.Compile(&graph.Rule{ID: "left", Then: then, When: got.Residual})
		if err != nil {
			t.Fatalf("of %s is left %s\n%s", x.text, got.Residual, err)
		}
		var looks []string
		for _, l := range left.looks {
			looks = append(looks, l.waitsAs())
		}
		slices.Sort(looks)
		if want := slices.Compact(looks); !slices.Equal(got.WaitsFor, want) {
			t.Fatalf("%s waits for %v, and %s is left, which looks at %v", x.text, got.WaitsFor, got.Residual, want)
		}
		after := before.narrowed(t, f.k, whole.bearsOnGathering())
		a, err := whole.Try(after.facts(f.k))
		if err != nil {
			t.Fatal(err)
		}
		b, err := left.Try(after.facts(f.k))
		if err != nil {
			t.Fatal(err)
		}
		if a.Outcome != b.Outcome {
			t.Fatalf("%s\nof %s leaves %s;\nof %s the whole %s and the rest %s", x.text, before.words(f.k), got.Residual, after.words(f.k), a.Outcome, b.Outcome)
		}
	})
}

// narrowed draws an observation of the same plant by somebody who looked at
// everything and is sure of it. Where a rule waits for plants to be ruled out, all
// of them are by now.
func (s *seen) narrowed(t *rapid.T, k *graph.Knowledge, ruledOut bool) *seen {
	out := &seen{obs: s.obs, hoped: s.hoped, ruledOut: s.ruledOut}
	if ruledOut {
		out.ruledOut = map[string]bool{"carrot": true, "hemlock": true}
	}
	if out.obs.Stage == graph.AnyStage {
		out.obs.Stage = pick(t, graph.Rosette, graph.Flowering)
	}
	if out.obs.Part == "" {
		out.obs.Part = pick(t, "root", "leaf")
	}
	if out.obs.Month == 0 {
		out.obs.Month = pick(t, 2, 3, 4, 5)
	}
	if out.hoped == "" {
		out.hoped = pick(t, drawnPlants...)
	}
	out.obs.Readings = nil
	for _, trait := range k.Vocabulary.Traits {
		r := graph.Reading{Trait: trait.ID}
		switch possible := s.possible(k, trait.ID); {
		case trait.Kind == graph.StateKind && len(possible) > 0:
			r.States = []string{pick(t, possible...).(string)}
		case trait.Kind == graph.StateKind:
			r.States = []string{pick(t, trait.StateIDs()...)}
		case len(possible) > 0:
			r.Low = pick(t, possible...).(float64)
		default:
			r.Low = float64(rapid.IntRange(1, 7).Draw(t, "measured"))
		}
		r.High = r.Low
		out.obs.Readings = append(out.obs.Readings, r)
	}
	return out
}

func TestOneOfTheseIsPutToTheRuleOneByOne(t *testing.T) {
	tests := []struct {
		shows, when, seen string
		outcome           string
		waitsFor          []string
		left              string
	}{
		{"all states read come to the same", `stem.surface in ["bristly", "woolly"]`, "stem.surface=bristly|woolly", graph.Fires, nil, ""},
		{"none of the states read fires", `stem.surface == "hairless"`, "stem.surface=bristly|woolly", graph.Quiet, nil, ""},
		{"they differ", `stem.surface == "bristly"`, "stem.surface=bristly|woolly", graph.Waits, []string{"stem.surface"}, `stem.surface == "bristly"`},
		{"looked for and not there", `stem.surface == "hairless"`, "stem.surface!=hairless", graph.Quiet, nil, ""},
		{"not there leaves several others", `stem.surface == "woolly"`, "stem.surface!=hairless", graph.Waits, []string{"stem.surface"}, `stem.surface == "woolly"`},
		{"not there leaves one other", `stem.surface == "woolly"`, "stem.surface!=hairless|bristly", graph.Fires, nil, ""},
		{"a state or any other holds of whatever was read", `stem.surface == "woolly" || stem.surface != "woolly"`, "stem.surface=bristly|woolly", graph.Fires, nil, ""},
		{"of what is not read at all nothing holds", `stem.surface == "woolly" || stem.surface != "woolly"`, "", graph.Waits, []string{"stem.surface"}, `stem.surface == "woolly" || stem.surface != "woolly"`},
		{"what differs does not matter", `stem.surface == "bristly" && stage == "rosette"`, "stem.surface=bristly|woolly stage=flowering", graph.Quiet, nil, ""},
		{"what differs is waited for with what is not read", `stem.surface == "bristly" && leaf.margin == "serrate"`, "stem.surface=bristly|woolly", graph.Waits, []string{"leaf.margin", "stem.surface"}, `stem.surface == "bristly" && leaf.margin == "serrate"`},
		{"what comes to the same is not waited for", `(stem.surface == "bristly" || stem.surface == "woolly") && leaf.margin == "serrate"`, "stem.surface=bristly|woolly", graph.Waits, []string{"leaf.margin"}, `leaf.margin == "serrate"`},
		{"of two that were read as one of several one matters", `(stem.surface == "bristly" || stem.surface == "woolly") && (leaf.margin == "serrate" || leaf.margin == "dentate")`, "stem.surface=bristly|woolly leaf.margin=serrate|crenate", graph.Waits, []string{"leaf.margin"}, `leaf.margin == "serrate" || leaf.margin == "dentate"`},
		{"two sure readings differ", `leaf.margin == "serrate"`, "leaf.margin@upper=serrate leaf.margin@lower=entire", graph.Waits, []string{"leaf.margin"}, `leaf.margin == "serrate"`},
		{"two sure readings come to the same", `leaf.margin != "crenate"`, "leaf.margin@upper=serrate leaf.margin@lower=entire", graph.Fires, nil, ""},
		{"two sure readings are the same", `leaf.margin == "serrate"`, "leaf.margin@upper=serrate leaf.margin=serrate", graph.Fires, nil, ""},
		{"an unsure reading beside a sure one counts for nothing", `leaf.margin == "serrate"`, "leaf.margin=serrate leaf.margin=entire?", graph.Fires, nil, ""},
		{"a span above", `leaf.length > 5`, "leaf.length=6-8cm", graph.Fires, nil, ""},
		{"a span that ends at the bound", `leaf.length > 5`, "leaf.length=3-5cm", graph.Quiet, nil, ""},
		{"a span that ends at the bound, which counts", `leaf.length <= 5`, "leaf.length=3-5cm", graph.Fires, nil, ""},
		{"a span that begins at the bound", `leaf.length < 5`, "leaf.length=5-7cm", graph.Quiet, nil, ""},
		{"a span that begins at the bound, which counts", `leaf.length >= 5`, "leaf.length=5-7cm", graph.Fires, nil, ""},
		{"a span that touches the bound, which counts", `leaf.length <= 5`, "leaf.length=5-7cm", graph.Waits, []string{"leaf.length"}, `leaf.length <= 5.0`},
		{"a span across the bound", `leaf.length > 5`, "leaf.length=3-5.1cm", graph.Waits, []string{"leaf.length"}, `leaf.length > 5.0`},
		{"a span whose ends are both outside", `leaf.length > 4 && leaf.length < 6`, "leaf.length=3-7cm", graph.Waits, []string{"leaf.length"}, `leaf.length > 4.0 && leaf.length < 6.0`},
		{"a span whose ends are both inside", `leaf.length < 4 || leaf.length > 6`, "leaf.length=3-7cm", graph.Waits, []string{"leaf.length"}, `leaf.length < 4.0 || leaf.length > 6.0`},
		{"a span that holds the very number", `leaf.length == 5`, "leaf.length=3-7cm", graph.Waits, []string{"leaf.length"}, `leaf.length == 5.0`},
		{"a span of whole numbers has none between", `flower.petals > 4 && flower.petals < 5`, "flower.petals=4-5", graph.Quiet, nil, ""},
		{"a wide span of whole numbers", `flower.petals == 50`, "flower.petals=3-100", graph.Waits, []string{"flower.petals"}, `flower.petals == 50`},
		{"two spans apart", `leaf.length > leaf.breadth`, "leaf.length=5-7cm leaf.breadth=2-4cm", graph.Fires, nil, ""},
		{"two spans that overlap", `leaf.length > leaf.breadth`, "leaf.length=3-7cm leaf.breadth=3-7cm", graph.Waits, []string{"leaf.breadth", "leaf.length"}, `leaf.length > leaf.breadth`},
		{"a span across what another measures", `leaf.length > leaf.breadth || leaf.length < leaf.breadth`, "leaf.length=3-7cm leaf.breadth=5cm", graph.Waits, []string{"leaf.length"}, `leaf.length > 5.0 || leaf.length < 5.0`},
		{"a span with another beside it", `leaf.length > leaf.breadth || leaf.length < leaf.breadth`, "leaf.length=3-4cm leaf.breadth=5-6cm", graph.Fires, nil, ""},
		{"two leaves measured, on either side of the bound", `leaf.length > 5`, "leaf.length=3cm leaf.length=7cm", graph.Waits, []string{"leaf.length"}, `leaf.length > 5.0`},
		{"two surfaces alike whichever it is", `leaf.upper_surface == leaf.lower_surface`, "leaf.upper_surface=hairless|hairy leaf.lower_surface=glossy", graph.Quiet, nil, ""},
	}
	f := newField(t)
	for _, test := range tests {
		t.Run(test.shows, func(t *testing.T) {
			got := f.try(f.rule(graph.Leave, test.when), test.seen)
			if got.Outcome != test.outcome || !slices.Equal(got.WaitsFor, test.waitsFor) || got.Residual != test.left {
				t.Errorf("%s\nof %s:\n got %s %v %s\nwant %s %v %s", test.when, test.seen, got.Outcome, got.WaitsFor, got.Residual, test.outcome, test.waitsFor, test.left)
			}
		})
	}
}
