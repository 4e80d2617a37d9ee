package rules

import (
	"slices"
	"sync"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

func TestARuleWaitsForWhatIsUnknownAndMatters(t *testing.T) {
	tests := []struct {
		shows, then, when, seen string
		outcome                 string
		waitsFor                []string
		left                    string
	}{
		{"all is known and holds", graph.Note, `stem.surface == "hairless" && stage == "rosette"`, "stage=rosette stem.surface=hairless", graph.Fires, nil, ""},
		{"all is known and fails", graph.Note, `stem.surface == "hairless" && stage == "rosette"`, "stage=rosette stem.surface=woolly", graph.Quiet, nil, ""},
		{"one part fails, whatever the other is", graph.Note, `stem.surface == "hairless" && stage == "rosette"`, "stem.surface=woolly", graph.Quiet, nil, ""},
		{"one part holds, whatever the other is", graph.Note, `stem.surface == "hairless" || stage == "rosette"`, "stem.surface=hairless", graph.Fires, nil, ""},
		{"what is known is left out of what is left", graph.Note, `stem.surface == "hairless" && stage == "rosette"`, "stem.surface=hairless", graph.Waits, []string{"stage"}, `stage == "rosette"`},
		{"what fails is left out of what is left", graph.Note, `stem.surface == "hairless" || leaf.margin in ["serrate", "dentate"]`, "stem.surface=woolly", graph.Waits, []string{"leaf.margin"}, `leaf.margin in ["serrate", "dentate"]`},
		{"what is waited for is sorted, each once", graph.Note, `stem.surface == "woolly" && leaf.margin == "serrate" && leaf.length > 5 && stem.surface != "bristly"`, "", graph.Waits, []string{"leaf.length", "leaf.margin", "stem.surface"}, `stem.surface == "woolly" && leaf.margin == "serrate" && leaf.length > 5.0 && stem.surface != "bristly"`},
		{"brackets are kept where they matter", graph.Note, `(stem.surface == "woolly" || leaf.margin == "serrate") && (leaf.length > 5 || stage == "rosette")`, "stage=flowering", graph.Waits, []string{"leaf.length", "leaf.margin", "stem.surface"}, `(stem.surface == "woolly" || leaf.margin == "serrate") && leaf.length > 5.0`},
		{"an unsure reading is none", graph.Note, `stem.surface == "hairless"`, "stem.surface=hairless?", graph.Waits, []string{"stem.surface"}, `stem.surface == "hairless"`},
		{"an unsure reading against it is none", graph.Note, `stem.surface == "hairless"`, "stem.surface=woolly?", graph.Waits, []string{"stem.surface"}, `stem.surface == "hairless"`},
		{"an unsure measure is none", graph.Note, `leaf.length > 5`, "leaf.length=9cm?", graph.Waits, []string{"leaf.length"}, `leaf.length > 5.0`},
		{"stage untold", graph.Note, `stage in ["rosette", "seedling"]`, "", graph.Waits, []string{"stage"}, `stage in ["rosette", "seedling"]`},
		{"part untold", graph.Note, `part == "root"`, "", graph.Waits, []string{"part"}, `part == "root"`},
		{"month untold", graph.Note, `month >= 3 && month <= 5`, "", graph.Waits, []string{"month"}, `month >= 3 && month <= 5`},
		{"hope untold", graph.Leave, `hoped_for("carrot") && part == "root"`, "part=root", graph.Waits, []string{"hoped_for"}, `hoped_for("carrot")`},
		{"hoped for another", graph.Leave, `hoped_for("carrot") && part == "root"`, "hoped_for=hemlock", graph.Quiet, nil, ""},
		{"a test that waits", graph.Note, `stage == "rosette" ? stem.surface == "woolly" : leaf.margin == "serrate"`, "stem.surface=woolly", graph.Waits, []string{"leaf.margin", "stage"}, `(stage == "rosette") ? true : (leaf.margin == "serrate")`},
		{"a branch not taken is not waited for", graph.Note, `stage == "rosette" ? stem.surface == "woolly" : leaf.margin == "serrate"`, "stage=rosette", graph.Waits, []string{"stem.surface"}, `stem.surface == "woolly"`},
		{"a whole number is a measure too", graph.Note, `leaf.length > 5`, "leaf.length=5.5cm", graph.Fires, nil, ""},
		{"a number written first", graph.Note, `5 < leaf.length`, "leaf.length=5.5cm", graph.Fires, nil, ""},
		{"a measure that is equal", graph.Note, `leaf.length == 5 || leaf.length in [6, 7]`, "leaf.length=7cm", graph.Fires, nil, ""},
		{"a measure told in another unit", graph.Note, `leaf.length == 2.54`, "leaf.length=1in", graph.Fires, nil, ""},
		{"a count that is written with a point", graph.Note, `flower.petals == 5.0`, "flower.petals=5", graph.Fires, nil, ""},
		{"months of a trait", graph.Note, `season.flowering in [6, 7]`, "season.flowering=7", graph.Fires, nil, ""},
		{"what always holds", graph.Note, `true`, "", graph.Fires, nil, ""},

		{"to a leave rule a plant not ruled out is not open yet", graph.Leave, `is_open("hemlock")`, "", graph.Waits, []string{"is_ruled_out"}, `is_open("hemlock")`},
		{"nor is it ruled out", graph.Leave, `!is_ruled_out("hemlock")`, "", graph.Waits, []string{"is_ruled_out"}, `is_open("hemlock")`},
		{"a leave rule keeps quiet once it is ruled out", graph.Leave, `is_open("hemlock")`, "is_ruled_out=hemlock", graph.Quiet, nil, ""},
		{"to a must rule a plant not ruled out can still be", graph.Must, `is_ruled_out("hemlock")`, "", graph.Waits, []string{"is_ruled_out"}, `is_ruled_out("hemlock")`},
		{"a must rule holds once it is ruled out", graph.Must, `is_ruled_out("hemlock")`, "is_ruled_out=hemlock", graph.Fires, nil, ""},
		{"another plant ruled out is no help", graph.Must, `is_ruled_out("hemlock")`, "is_ruled_out=carrot", graph.Waits, []string{"is_ruled_out"}, `is_ruled_out("hemlock")`},
		{"of two plants the one that is left is named", graph.Must, `is_ruled_out("hemlock") && is_ruled_out("carrot")`, "is_ruled_out=carrot", graph.Waits, []string{"is_ruled_out"}, `is_ruled_out("hemlock")`},
		{"a note takes things as they stand", graph.Note, `is_open("hemlock")`, "", graph.Fires, nil, ""},
		{"a note on what is ruled out", graph.Note, `is_open("hemlock")`, "is_ruled_out=hemlock", graph.Quiet, nil, ""},
		{"a rule of thumb takes things as they stand", graph.ItIs, `is_ruled_out("hemlock")`, "", graph.Quiet, nil, ""},
		{"a rule of thumb on what is ruled out", graph.ItIs, `is_ruled_out("hemlock")`, "is_ruled_out=hemlock", graph.Fires, nil, ""},
	}
	f := newField(t)
	for _, test := range tests {
		t.Run(test.shows, func(t *testing.T) {
			got := f.try(f.rule(test.then, test.when), test.seen)
			if got.Outcome != test.outcome || !slices.Equal(got.WaitsFor, test.waitsFor) || got.Residual != test.left {
				t.Errorf("%s\nof %s:\n got %s %v %s\nwant %s %v %s", test.when, test.seen, got.Outcome, got.WaitsFor, got.Residual, test.outcome, test.waitsFor, test.left)
			}
		})
	}
}

func TestARuleNamesWhatItLooksAt(t *testing.T) {
	f := newField(t)
	r := f.rule(graph.Leave, `stage == "rosette" && (leaf.margin == "serrate" || stem.surface == "woolly") && leaf.margin != "entire" && is_open("hemlock") && month > 3`)
	if got, want := r.Traits(), []string{"stage", "leaf.margin", "stem.surface", "month"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestARuleIsAboutItsTaxonOrAny(t *testing.T) {
	for about, want := range map[string]bool{"": true, "carrot": true, "hemlock": false} {
		r := &Rule{Rule: &graph.Rule{For: about}}
		if got := r.About("carrot"); got != want {
			t.Errorf("a rule for %q is about carrot: %v", about, got)
		}
	}
}

// Readings of traits that the vocabulary does not know tell rules nothing.
func TestUnknownTraitsAreNoFacts(t *testing.T) {
	f := newField(t)
	obs := graph.Observation{Readings: []graph.Reading{{Trait: "leaf.colour", States: []string{"green"}}}}
	if facts := NewFacts(f.k.Vocabulary, &obs, "", nil); len(facts.known) > 0 {
		t.Errorf("known: %v", facts.known)
	}
}

func TestOneSetServesSeveralGoroutines(t *testing.T) {
	k := meadow(
		graphtest.Rule(`leave carrot when stem.surface == "hairless" && stage == "rosette"`),
		graphtest.Rule(`note any when leaf.length > 2 && leaf.length < 5 || is_open("hemlock")`),
	)
	set, err := NewSet(k)
	if err != nil {
		t.Fatal(err)
	}
	obs := graphtest.Seen(k, "rosette", "stem.surface=hairless|woolly", "leaf.length=1-6cm")
	facts := NewFacts(k.Vocabulary, &obs, "carrot", nil)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for _, r := range set.Rules {
				if got, err := r.Try(facts); err != nil || (got.Outcome == graph.Waits) != (r.Then == graph.Leave) {
					t.Errorf("%s: %v, %v", r.ID, got.Outcome, err)
				}
			}
		})
	}
	all.Wait()
}
