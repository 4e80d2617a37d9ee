package reason

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

func mayGather(t *testing.T, k *graph.Knowledge, herb string, obs graph.Observation) *Verdict {
	t.Helper()
	r, err := New(k)
	if err != nil {
		t.Fatal(err)
	}
	taxon, ok := k.Taxon(herb)
	if !ok {
		t.Fatalf("there is no %s", herb)
	}
	v, err := r.MayGather(taxon, obs)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// lane is the graph that the verdicts below are given from, with what the test
// adds: a herb, a poisonous lookalike, a poison that looks like something else, a
// harmless lookalike, and a harmless plant that does not count.
func lane(more ...graphtest.Piece) *graph.Knowledge {
	return graphtest.Knowledge(append([]graphtest.Piece{
		graphtest.States("stem.surface", "hairless softly_hairy bristly", "softly_hairy ~ bristly"),
		graphtest.States("plant.odour", "none carrot mousy"),
		graphtest.States("stem.markings", "none blotched"),
		graphtest.States("root.type", "taproot tubers bulb"),
		graphtest.States("leaf.arrangement", "alternate opposite whorled"),
		graphtest.States("leaf.colour", "green blue"),
		graphtest.Measure("leaf.length", "cm"),
		graphtest.Plant("carrot", "looks like hemlock", "looks like chervil", "stem.surface always bristly", "plant.odour always carrot", "stem.markings always none",
			"root.type always taproot", "leaf.arrangement always alternate", "leaf.length always 5-15 cm"),
		graphtest.Plant("hemlock", "deadly", "stem.surface always hairless", "plant.odour always mousy", "stem.markings usually blotched", "leaf.length always 30-50 cm"),
		graphtest.Plant("spurge", "serious", "stem.surface always hairless", "root.type always tubers", "leaf.arrangement always opposite", "plant.odour always none"),
		graphtest.Plant("chervil", "stem.surface always hairless", "plant.odour always carrot"),
		graphtest.Plant("clover", "stem.surface always hairless", "plant.odour always none", "root.type always tubers", "leaf.arrangement always whorled"),
		graphtest.Study("carrot", "root at rosette", "plant.odour is carrot"),
	}, more...)...)
}

// enough is a full set of readings for the carrot of the lane.
var enough = []string{"part=root", "stem.surface=bristly", "plant.odour=carrot", "stem.markings=none", "root.type=taproot", "leaf.arrangement=alternate"}

// but gives enough with the readings of the same traits replaced; "-trait" takes
// one away.
func but(readings ...string) []string {
	out := slices.Clone(enough)
	for _, r := range readings {
		taken := strings.HasPrefix(r, "-")
		name := strings.TrimPrefix(r, "-")
		if i := strings.IndexAny(name, "=!@"); i >= 0 {
			name = name[:i]
		}
		out = slices.DeleteFunc(out, func(s string) bool { return strings.HasPrefix(s, name+"=") })
		if !taken {
			out = append(out, r)
		}
	}
	return out
}

// unlike is a poison that has three constant differences from the carrot and no
// link to it.
var unlike = graphtest.Plant("yew", "deadly", "root.type always bulb", "leaf.arrangement always whorled", "stem.markings always blotched")

// DESIGN section 3, Verdict, clause by clause.
func TestVerdictByClause(t *testing.T) {
	tests := []struct {
		name     string
		more     []graphtest.Piece
		stage    string
		readings []string
		want     string
	}{
		{"everything is seen and fits", nil, "rosette", enough, Gather},
		{"part not told where only one is gathered", nil, "rosette", but("-part"), Gather},

		// leave
		{"a leave-rule fires", []graphtest.Piece{graphtest.Rule(`leave carrot when stem.markings == "none"`)}, "rosette", enough, Leave},
		{"a leave-rule for any plant fires", []graphtest.Piece{graphtest.Rule(`leave any when stage == "rosette"`)}, "rosette", enough, Leave},
		{"a leave-rule for another plant says nothing", []graphtest.Piece{graphtest.Rule(`leave hemlock when stem.markings == "none"`)}, "rosette", enough, Gather},
		{"a leave-rule fires though nothing else was seen", []graphtest.Piece{graphtest.Rule(`leave carrot when stem.markings == "blotched"`)}, "rosette", []string{"stem.markings=blotched"}, Leave},
		{"a sure reading excludes the herb", nil, "rosette", but("stem.surface=hairless"), Leave},
		{"a measure excludes the herb", nil, "rosette", append(but(), "leaf.length=40"), Leave},
		{"a part that is not gathered", nil, "rosette", but("part=leaf"), Leave},
		{"a stage that is not one to gather", nil, "flowering", enough, Leave},
		{"a poisonous plant that nobody works up is left", []graphtest.Piece{graphtest.Plant("bane", "deadly")}, "rosette", append([]string{"herb=bane"}, enough...), Leave},

		// not yet
		{"the stage is not told", nil, "", enough, NotYet},
		{"nothing was read", nil, "rosette", nil, NotYet},
		{"nobody has worked the herb up", []graphtest.Piece{graphtest.Plant("fennel")}, "rosette", append([]string{"herb=fennel"}, enough...), NotYet},
		{"a check has not been looked at", nil, "rosette", but("-plant.odour", "leaf.length=10"), NotYet},
		{"a check is unsure", nil, "rosette", but("plant.odour=carrot?", "leaf.length=10"), NotYet},
		{"a check may be something else", nil, "rosette", but("plant.odour=carrot|none", "leaf.length=10"), NotYet},
		{"an unsure reading speaks against the herb", nil, "rosette", append(but(), "leaf.length=40?"), NotYet},
		{"an unsure reading that speaks for it does no harm", nil, "rosette", append(but(), "leaf.length=10?"), Gather},
		{"the poisonous lookalike is excluded once only", nil, "rosette", but("plant.odour=carrot", "stem.surface=softly_hairy?"), NotYet},
		{"the harmless lookalike is still open", nil, "rosette", append(but("-stem.surface"), "leaf.length=10"), NotYet},
		{"another poison is still open", []graphtest.Piece{unlike}, "rosette", but("-root.type", "-leaf.arrangement", "-stem.markings"), NotYet},
		{"another poison is excluded once: that is enough", []graphtest.Piece{unlike}, "rosette", but("-root.type", "-leaf.arrangement"), Gather},
		{"another harmless plant may stay open", []graphtest.Piece{graphtest.Plant("clary", "root.type always bulb", "leaf.arrangement always whorled", "stem.surface always hairless")},
			"rosette", but("-leaf.arrangement", "-root.type", "stem.surface=softly_hairy"), Gather},
		{"a must-rule does not hold", []graphtest.Piece{graphtest.Rule(`must carrot when root.type == "bulb"`)}, "rosette", enough, NotYet},
		{"a must-rule waits", []graphtest.Piece{graphtest.Rule(`must carrot when leaf.length > 3.0`)}, "rosette", enough, NotYet},
		{"a must-rule holds", []graphtest.Piece{graphtest.Rule(`must carrot when root.type == "taproot"`)}, "rosette", enough, Gather},
		{"a must-rule for any plant waits", []graphtest.Piece{graphtest.Rule(`must any when leaf.length > 3.0`)}, "rosette", enough, NotYet},
		{"a leave-rule waits", []graphtest.Piece{graphtest.Rule(`leave carrot when leaf.length > 20.0`)}, "rosette", enough, NotYet},
		{"a leave-rule waits on an unsure reading", []graphtest.Piece{graphtest.Rule(`leave carrot when leaf.length > 20.0`)}, "rosette", append(but(), "leaf.length=10?"), NotYet},
		{"a leave-rule keeps quiet", []graphtest.Piece{graphtest.Rule(`leave carrot when leaf.length > 20.0`)}, "rosette", append(but(), "leaf.length=10"), Gather},
		{"a leave-rule fires on one of what was read, and not on the other", []graphtest.Piece{graphtest.Rule(`leave carrot when stem.surface == "softly_hairy"`)}, "rosette", but("stem.surface=softly_hairy|bristly"), NotYet},
		{"a leave-rule that asks whether a poison is open waits until it is ruled out", []graphtest.Piece{graphtest.Rule(`leave carrot when is_open("hemlock")`)}, "rosette", but("-stem.surface"), NotYet},
		{"and keeps quiet then", []graphtest.Piece{graphtest.Rule(`leave carrot when is_open("hemlock")`)}, "rosette", enough, Gather},
		{"a note and a rule of thumb stop nobody", []graphtest.Piece{graphtest.Rule(`note any when stage == "rosette"`), graphtest.Rule(`it-is carrot when root.type == "bulb"`)}, "rosette", enough, Gather},

		// both
		{"what says leave goes over what says not yet", []graphtest.Piece{graphtest.Rule(`leave carrot when root.type == "taproot"`)}, "rosette", but("-plant.odour"), Leave},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			herb, readings := "carrot", test.readings
			if len(readings) > 0 && strings.HasPrefix(readings[0], "herb=") {
				herb, readings = readings[0][len("herb="):], readings[1:]
			}
			k := lane(test.more...)
			v := mayGather(t, k, herb, graphtest.Seen(k, test.stage, readings...))
			if v.Verdict != test.want {
				t.Errorf("%s, want %s: %s", v.Verdict, test.want, reasons(v))
			}
		})
	}
}

// reasons lists why.
func reasons(v *Verdict) string {
	var out []string
	for _, b := range v.Because {
		out = append(out, b.Verdict+": "+b.Text)
	}
	return strings.Join(out, "\n")
}

// Who is in the way, how many evidence groups each takes, and which exclude it so
// far: two for a poisonous lookalike, one for any other poison and for a harmless
// lookalike, none for other harmless plants.
func TestWhoIsInTheWay(t *testing.T) {
	tests := []struct {
		name     string
		readings []string
		want     string
		poisons  string
	}{
		{"nothing read", nil, "hemlock 0/2, spurge 0/1, yew 0/1, chervil 0/1", "hemlock spurge yew"},
		{"one group", []string{"plant.odour=carrot"}, "hemlock 1/2, yew 0/1, chervil 0/1", "hemlock yew"},
		{"unsurely", []string{"plant.odour=carrot?"}, "hemlock 0/2, spurge 0/1, yew 0/1, chervil 0/1", "hemlock spurge yew"},
		{"a second group that excludes the lookalikes", []string{"plant.odour=carrot", "stem.surface=bristly"}, "yew 0/1", "yew"},
		{"and one that excludes the poison that is none", []string{"plant.odour=carrot", "stem.surface=bristly", "root.type=taproot"}, "", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			k := lane(unlike)
			v := mayGather(t, k, "carrot", graphtest.Seen(k, "rosette", test.readings...))
			var got []string
			for _, o := range v.InTheWay {
				got = append(got, fmt.Sprintf("%s %d/%d", o.Taxon.ID, len(o.Groups), o.Needed))
			}
			slices.Sort(got)
			want := strings.Split(test.want, ", ")
			slices.Sort(want)
			if strings.Join(got, ", ") != strings.Join(want, ", ") {
				t.Errorf("in the way: %v, want %v", got, want)
			}
			poisons := slices.Sorted(slices.Values(v.PoisonsOpen))
			if strings.Join(poisons, " ") != test.poisons {
				t.Errorf("poisons: %v, want %s", poisons, test.poisons)
			}
			for i, o := range v.InTheWay {
				if i > 0 && o.Taxon.Poisonous() && !v.InTheWay[i-1].Taxon.Poisonous() {
					t.Errorf("%s comes after a harmless plant", o.Taxon.ID)
				}
			}
		})
	}
}

// A gather says how many readings would have to be wrong before a poison could be
// in the basket: the fewest evidence groups that exclude any.
func TestSlackOfAGather(t *testing.T) {
	k := lane()
	for want, readings := range map[int][]string{2: enough, 3: append(but(), "leaf.length=10")} {
		v := mayGather(t, k, "carrot", graphtest.Seen(k, "rosette", readings...))
		if v.Verdict != Gather || v.Slack != want {
			t.Errorf("%s with a slack of %d, want %d: %s", v.Verdict, v.Slack, want, reasons(v))
		}
	}
}

// A herb that is not excluded, and has nobody in its way, may still be a stranger.
func TestAHerbThatFitsWorseThanAStrangerIsNotYet(t *testing.T) {
	pieces := []graphtest.Piece{graphtest.States("leaf.hair", "present absent")}
	carrot, ash := []string{"leaf.hair always absent"}, []string{"leaf.hair always present"}
	for _, id := range []string{"leaf.edge", "leaf.tip", "leaf.foot", "stem.form"} {
		pieces = append(pieces, graphtest.States(id, "plain odd"))
		carrot, ash = append(carrot, id+" usually plain", id+" rarely odd"), append(ash, id+" always odd")
	}
	k := graphtest.Knowledge(append(pieces, graphtest.Plant("carrot", carrot...), graphtest.Plant("ash", ash...), graphtest.Study("carrot", "root at rosette", "leaf.hair is absent"))...)
	for edge, want := range map[string]string{"plain": Gather, "odd": NotYet} {
		v := mayGather(t, k, "carrot", graphtest.Seen(k, "rosette", "leaf.hair=absent", "leaf.edge="+edge, "leaf.tip="+edge, "leaf.foot="+edge, "stem.form="+edge))
		if v.Verdict != want || len(v.InTheWay) > 0 {
			t.Errorf("%s: %s, want %s with nobody in the way: %s", edge, v.Verdict, want, reasons(v))
		}
	}
}

// A check needs a sure reading that fits: every state it leaves is named, or where
// none is named is stated of the herb there; of numbers, within what is stated.
func TestWhatPassesACheck(t *testing.T) {
	tests := []struct {
		name, check string
		readings    []string
		passes      bool
	}{
		{"not looked at", "leaf.stalk is petiolate", nil, false},
		{"the state named", "leaf.stalk is petiolate", []string{"leaf.stalk=petiolate"}, true},
		{"unsurely", "leaf.stalk is petiolate", []string{"leaf.stalk=petiolate?"}, false},
		{"another state", "leaf.stalk is petiolate", []string{"leaf.stalk=winged"}, false},
		{"one of the states named", "leaf.stalk is petiolate|winged", []string{"leaf.stalk=winged"}, true},
		{"both of the states named", "leaf.stalk is petiolate|winged", []string{"leaf.stalk=petiolate|winged"}, true},
		{"the state named or another", "leaf.stalk is petiolate", []string{"leaf.stalk=petiolate|winged"}, false},
		{"what is left when the other is looked for and not there", "leaf.stalk is petiolate|winged", []string{"leaf.stalk!=sessile|short"}, true},
		{"a near state is not the state", "leaf.stalk is petiolate", []string{"leaf.stalk=short"}, false},
		{"read twice, once as named", "leaf.stalk is petiolate", []string{"leaf.stalk@upper=winged", "leaf.stalk@lower=petiolate"}, true},
		{"on any part where none is named", "leaf.stalk is petiolate", []string{"leaf.stalk@upper=petiolate"}, true},
		{"on the part named", "leaf.stalk on lower is petiolate", []string{"leaf.stalk@lower=petiolate"}, true},
		{"on another part", "leaf.stalk on lower is petiolate", []string{"leaf.stalk@upper=petiolate"}, false},
		{"on a part that was not told", "leaf.stalk on lower is petiolate", []string{"leaf.stalk=petiolate"}, false},
		{"as stated, a usual state", "leaf.stalk as stated", []string{"leaf.stalk=petiolate"}, true},
		{"as stated, a rare state", "leaf.stalk as stated", []string{"leaf.stalk=winged"}, true},
		{"as stated, a state that is not", "leaf.stalk as stated", []string{"leaf.stalk=short"}, false},
		{"as stated, a state of another stage", "leaf.stalk as stated", []string{"leaf.stalk=sessile"}, false},
		{"a length as stated", "leaf.length as stated", []string{"leaf.length=10"}, true},
		{"a length between the extremes", "leaf.length as stated", []string{"leaf.length=5"}, true},
		{"a length a little below them, which excludes nothing", "leaf.length as stated", []string{"leaf.length=4.5"}, false},
		{"a length a little above them, which excludes nothing", "leaf.length as stated", []string{"leaf.length=21"}, false},
		{"a span that reaches beyond them", "leaf.length as stated", []string{"leaf.length=10-21"}, false},
		{"a length as stated, unsurely", "leaf.length as stated", []string{"leaf.length=10?"}, false},
		{"a number that nobody has stated", "flower.petals as stated", []string{"flower.petals=5"}, false},
		{"and that is none", "flower.petals as stated", []string{"flower.petals=0"}, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			k := graphtest.Knowledge(
				graphtest.States("leaf.stalk", "petiolate winged short sessile", "petiolate ~ short"), graphtest.Measure("leaf.length", "cm"), graphtest.Count("flower.petals"),
				graphtest.Plant("carrot", "leaf.stalk usually petiolate", "leaf.stalk rarely winged", "leaf.stalk sometimes sessile at flowering", "leaf.length usually (5-)8-15(-20) cm"),
				graphtest.Study("carrot", "root at rosette", test.check))
			v := mayGather(t, k, "carrot", graphtest.Seen(k, "rosette", test.readings...))
			passed := false
			for _, b := range v.Because {
				passed = passed || b.Check != nil && b.Verdict == Gather
			}
			if passed != test.passes || !passed && v.Verdict == Gather {
				t.Errorf("passes %v, want %v: %s, %s", passed, test.passes, v.Verdict, reasons(v))
			}
		})
	}
}

// Each reason says what it is about, so that output can show it in its own way.
func TestEachReasonSaysWhatItIsAbout(t *testing.T) {
	k := lane(graphtest.Rule(`leave carrot when leaf.length > 20.0`))
	v := mayGather(t, k, "carrot", graphtest.Seen(k, "rosette", "stem.surface=hairless", "leaf.arrangement=opposite?"))
	count := map[string]int{}
	for _, b := range v.Because {
		switch {
		case b.Evidence != nil && !b.Evidence.Reading.Unsure:
			count["excludes "+b.Verdict]++
		case b.Evidence != nil:
			count["unsure "+b.Verdict]++
		case b.Check != nil:
			count["check "+b.Verdict]++
		case b.Obstacle != nil:
			count["obstacle "+b.Verdict]++
		case b.Rule != nil:
			count["rule "+b.Verdict]++
		}
	}
	for what, want := range map[string]int{"excludes leave": 1, "unsure not-yet": 1, "check not-yet": 1, "obstacle not-yet": 3, "rule not-yet": 1} {
		if count[what] != want {
			t.Errorf("%s: %d reasons, want %d: %s", what, count[what], want, reasons(v))
		}
	}
}
