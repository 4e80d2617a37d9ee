package graph_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// meadow is a small vocabulary with everyday words on both sides of the sign, some
// of which mean several things.
func meadow() *graph.Vocabulary {
	k := graphtest.Knowledge(
		graphtest.States("leaf.margin", "entire serrate dentate crenate", "toothed means serrate dentate crenate", "smooth means entire", "dentelé means dentate"),
		graphtest.States("leaf.arrangement", "opposite alternate whorled"),
		graphtest.States("leaf.shape", "lanceolate ovate"),
		graphtest.States("stem.surface", "hairless bristly stinging", "smooth means hairless"),
		graphtest.States("stem.interior", "solid hollow pithy"),
		graphtest.States("root.interior", "solid chambered"),
		graphtest.States("plant.odour_crushed", "none minty musty"),
		graphtest.States("leaf.markings", "none white_blotched"),
		graphtest.Measure("leaf.length", "cm"),
		graphtest.Measure("leaf.segment_width", "mm"),
		graphtest.Count("flower.petals"),
		graphtest.Months("season.flowering"),
	)
	for id, words := range map[string][]string{
		"leaf.margin": {"leaf edge", "edge of the leaf", "edge"}, "plant.odour_crushed": {"smell", "odeur écrasée"},
		"stem.surface": {"surface"}, "leaf.shape": {"shape"}, "leaf.length": {"length", "size"}, "leaf.segment_width": {"size"},
	} {
		t, _ := k.Vocabulary.Trait(id)
		t.Words = words
	}
	k.Vocabulary.Index()
	return k.Vocabulary
}

func state(trait string, states ...string) graph.Reading {
	return graph.Reading{Trait: trait, States: states}
}

func number(trait string, low, high float64) graph.Reading {
	return graph.Reading{Trait: trait, Low: low, High: high}
}

func unsure(r graph.Reading) graph.Reading { r.Unsure = true; return r }

func on(position string, r graph.Reading) graph.Reading { r.Position = position; return r }

func not(r graph.Reading, states ...string) graph.Reading { r.Not = states; return r }

func TestReadingsAsPeopleTypeThem(t *testing.T) {
	v := meadow()
	tests := []struct {
		shows, text string
		want        graph.Reading
	}{
		{"a state", "leaf.arrangement=opposite", state("leaf.arrangement", "opposite")},
		{"blanks around the sign", " leaf.arrangement = opposite ", state("leaf.arrangement", "opposite")},
		{"the sign of rules", "leaf.arrangement==opposite", state("leaf.arrangement", "opposite")},
		{"capitals", "Leaf.Arrangement=OPPOSITE", state("leaf.arrangement", "opposite")},
		{"looked for and not there", "stem.surface!=stinging", not(state("stem.surface", "hairless", "bristly"), "stinging")},
		{"none of several", "stem.surface != stinging|bristly", not(state("stem.surface", "hairless"), "bristly", "stinging")},
		{"one of several, in the order of the vocabulary", "leaf.margin=dentate|serrate", state("leaf.margin", "serrate", "dentate")},
		{"the same state twice", "leaf.margin=serrate|serrate", state("leaf.margin", "serrate")},
		{"not sure", "plant.odour_crushed=minty?", unsure(state("plant.odour_crushed", "minty"))},
		{"not sure that it was not there", "stem.surface!=stinging?", unsure(not(state("stem.surface", "hairless", "bristly"), "stinging"))},
		{"not sure which of two", "leaf.margin=serrate|dentate ?", unsure(state("leaf.margin", "serrate", "dentate"))},
		{"where it was read", "leaf.shape@upper=lanceolate", on("upper", state("leaf.shape", "lanceolate"))},
		{"where, with blanks and capitals", "leaf.shape @ Upper = lanceolate", on("upper", state("leaf.shape", "lanceolate"))},
		{"an everyday word for the trait", "edge of the leaf=serrate", state("leaf.margin", "serrate")},
		{"an everyday word with a position", "shape@basal=ovate", on("basal", state("leaf.shape", "ovate"))},
		{"the label of the trait", "leaf shape=ovate", state("leaf.shape", "ovate")},
		{"an everyday word for several states", "leaf.margin=toothed", state("leaf.margin", "serrate", "dentate", "crenate")},
		{"everyday words on both sides", "edge=toothed", state("leaf.margin", "serrate", "dentate", "crenate")},
		{"not an everyday word", "edge!=toothed", not(state("leaf.margin", "entire"), "serrate", "dentate", "crenate")},
		{"a word that two traits have, of one", "surface=smooth", state("stem.surface", "hairless")},
		{"a state's underscore as a blank", "leaf.markings=white blotched", state("leaf.markings", "white_blotched")},
		{"a state's underscore as a hyphen", "leaf.markings=white-blotched", state("leaf.markings", "white_blotched")},
		{"letters beyond ASCII", "odeur écrasée=minty", state("plant.odour_crushed", "minty")},

		{"a bare length is in the trait's unit", "leaf.length=12", number("leaf.length", 12, 12)},
		{"a bare length of a trait in mm", "leaf.segment_width=12", number("leaf.segment_width", 12, 12)},
		{"a length with its unit", "leaf.length=8.1 cm", number("leaf.length", 8.1, 8.1)},
		{"a span", "leaf.length=8-12cm", number("leaf.length", 8, 12)},
		{"a span with the dash of printers", "leaf.length=8 – 12 cm", number("leaf.length", 8, 12)},
		{"no digit before the point", "leaf.length=.5", number("leaf.length", 0.5, 0.5)},
		{"an unsure length", "leaf.length=8 cm?", unsure(number("leaf.length", 8, 8))},
		{"a length somewhere", "leaf.length@lower=8", on("lower", number("leaf.length", 8, 8))},
		{"a count", "flower.petals=5", number("flower.petals", 5, 5)},
		{"a span of counts", "flower.petals=5-7", number("flower.petals", 5, 7)},
		{"none counted", "flower.petals=0", number("flower.petals", 0, 0)},
		{"a month by number", "season.flowering=5", number("season.flowering", 5, 5)},
		{"a month by name", "season.flowering=September", number("season.flowering", 9, 9)},
		{"a month by its first letters", "season.flowering=sept", number("season.flowering", 9, 9)},

		{"a bare word that one trait has", "opposite", state("leaf.arrangement", "opposite")},
		{"a bare word with its organ", "hollow stem", state("stem.interior", "hollow")},
		{"the organ first", "stem hollow", state("stem.interior", "hollow")},
		{"several organs", "opposite leaves", state("leaf.arrangement", "opposite")},
		{"the organ as it is built into a word", "hollow-stemmed", state("stem.interior", "hollow")},
		{"a bare word for several states", "toothed", state("leaf.margin", "serrate", "dentate", "crenate")},
		{"a bare word that the organ decides", "solid root", state("root.interior", "solid")},
		{"a bare word that is not sure", "Hollow stem?", unsure(state("stem.interior", "hollow"))},
	}
	for _, c := range tests {
		t.Run(c.shows, func(t *testing.T) {
			got, err := graph.ParseReading(v, c.text)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(c.want, got); d != "" {
				t.Errorf("%q (-want +got):\n%s", c.text, d)
			}
		})
	}
}

// The inch is 2.54 cm and the foot 30.48 cm exactly (NIST SP 811, appendix B.8).
func TestLengthsInEveryUnit(t *testing.T) {
	v := meadow()
	for text, want := range map[string]graph.Reading{
		"leaf.length=1in": number("leaf.length", 2.54, 2.54), "leaf.length=1 ft": number("leaf.length", 30.48, 30.48),
		"leaf.length=100 in": number("leaf.length", 254, 254), "leaf.length=3.2in": number("leaf.length", 8.128, 8.128),
		`leaf.length=2"`: number("leaf.length", 5.08, 5.08), "leaf.length=2'": number("leaf.length", 60.96, 60.96),
		"leaf.length=2 inches": number("leaf.length", 5.08, 5.08), "leaf.length=1 FOOT": number("leaf.length", 30.48, 30.48),
		"leaf.length=25.4 mm": number("leaf.length", 2.54, 2.54), "leaf.length=3mm": number("leaf.length", 0.3, 0.3),
		"leaf.length=1.2 m": number("leaf.length", 120, 120), "leaf.length=1-2 m": number("leaf.length", 100, 200),
		"leaf.segment_width=1 in": number("leaf.segment_width", 25.4, 25.4), "leaf.segment_width=1 ft": number("leaf.segment_width", 304.8, 304.8),
		"leaf.segment_width=0.3 cm": number("leaf.segment_width", 3, 3), "leaf.segment_width=0.001m": number("leaf.segment_width", 1, 1),
	} {
		got, err := graph.ParseReading(v, text)
		if err != nil {
			t.Error(err)
		} else if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", text, d)
		}
	}
}

func TestSlipsInReadings(t *testing.T) {
	v := meadow()
	tests := []struct{ shows, text, want string }{
		{"an unknown trait", "leaf.mrgin=serrate", `column 1: there is no trait "leaf.mrgin"; the nearest is "leaf.margin"`},
		{"an unknown everyday name", "egde=serrate", `column 1: there is no trait "egde"; the nearest is "edge"`},
		{"a trait like no other", "zzzzzzzz=serrate", `column 1: there is no trait "zzzzzzzz"`},
		{"a word for two traits", "size=3", `column 1: "size" can be leaf.length or leaf.segment_width: write which`},
		{"no trait", "=serrate", `column 1: no trait is named before the sign`},
		{"no trait before !=", " !=serrate", `column 1: no trait is named before the sign`},
		{"an unknown state", "leaf.margin=serate", `column 13: there is no state of leaf.margin "serate" (known: entire, smooth, serrate, toothed, dentate, dentelé, crenate); the nearest is "serrate"`},
		{"an unknown state after a known one", "leaf.arrangement=opposite|altrnate", `column 27: there is no state of leaf.arrangement "altrnate" (known: opposite, alternate, whorled); the nearest is "alternate"`},
		{"a state that is part of the one before", "leaf.arrangement=opposite|opp", `column 27: there is no state of leaf.arrangement "opp" (known: opposite, alternate, whorled)`},
		{"a value that stands in the trait too", "leaf.shape=leaf", `column 12: there is no state of leaf.shape "leaf" (known: lanceolate, ovate)`},
		{"blanks before the state", "leaf.shape  =   lancolate", `column 17: there is no state of leaf.shape "lancolate" (known: lanceolate, ovate); the nearest is "lanceolate"`},
		{"columns are characters, not bytes", "odeur écrasée=mintie", `column 15: there is no state of plant.odour_crushed "mintie" (known: none, minty, musty); the nearest is "minty"`},
		{"a state beyond ASCII", "leaf.margin=déntelé|serate", `column 13: there is no state of leaf.margin "déntelé" (known: entire, smooth, serrate, toothed, dentate, dentelé, crenate); the nearest is "dentelé"`},
		{"an empty state", "leaf.margin=serrate||dentate", `column 21: an empty state beside | in "serrate||dentate"`},
		{"an empty last state", "leaf.margin=serrate|", `column 21: an empty state beside | in "serrate|"`},
		{"a question mark inside", "leaf.shape=ovate?|lanceolate", `column 12: there is no state of leaf.shape "ovate?" (known: lanceolate, ovate); the nearest is "ovate"`},
		{"an unknown position", "leaf.shape@uper=ovate", `column 12: there is no position "uper" (known: upper, lower, basal, young); the nearest is "upper"`},
		{"an empty position", "leaf.shape@=ovate", `column 12: there is no position "" (known: upper, lower, basal, young)`},
		{"two positions", "leaf.shape@upper@lower=ovate", `column 12: there is no position "upper@lower" (known: upper, lower, basal, young)`},
		{"a measure for a state", "leaf.shape=3 cm", `column 12: leaf.shape takes a state, not the measure "3 cm": expected one of lanceolate, ovate`},
		{"a state for a measure", "leaf.length=long", `column 13: leaf.length takes a length such as 12 cm: "long" is no number`},
		{"a measure that it is not", "leaf.length!=3cm", `column 14: leaf.length takes a length such as 12 cm: it cannot be read as what it is not`},
		{"a count that it is not", "flower.petals!=5", `column 16: flower.petals takes a whole number: it cannot be read as what it is not`},
		{"an empty value", "leaf.shape=", `column 12: nothing was read of leaf.shape: give one of lanceolate, ovate, or leave the reading out`},
		{"an empty length", "leaf.length= ", `column 13: nothing was read of leaf.length: give a length such as 12 cm, or leave the reading out`},
		{"nothing but a question mark", "leaf.shape=?", `column 12: nothing was read of leaf.shape: give one of lanceolate, ovate, or leave the reading out`},
		{"not nothing", "leaf.shape!=", `column 13: nothing was read of leaf.shape: give one of lanceolate, ovate, or leave the reading out`},
		{"no state at all", "leaf.shape!=ovate|lanceolate", `column 13: this leaves no state that leaf.shape can have`},
		{"two signs", "leaf.shape=ovate=lanceolate", `column 17: a second = stands here: write one reading at a time, TRAIT=STATE`},
		{"twice not", "stem.surface!=!=stinging", `column 16: a second = stands here: write one reading at a time, TRAIT=STATE`},
		{"three equals signs", "leaf.shape===ovate", `column 13: a second = stands here: write one reading at a time, TRAIT=STATE`},
		{"an unknown unit", "leaf.length=3 cmm", `column 13: leaf.length takes a length such as 12 cm: there is no unit "cmm" (known: mm, cm, m, in, ft); the nearest is "cm"`},
		{"a unit beyond ASCII", "leaf.length=3 µm", `column 13: leaf.length takes a length such as 12 cm: there is no unit "µm" (known: mm, cm, m, in, ft); the nearest is "mm"`},
		{"a number below zero", "leaf.length=-3", `column 13: leaf.length takes a length such as 12 cm: "-3" is below zero`},
		{"no number", "leaf.length=NaN", `column 13: leaf.length takes a length such as 12 cm: "NaN" is no number`},
		{"infinity", "leaf.length=+Inf", `column 13: leaf.length takes a length such as 12 cm: "+Inf" is no number`},
		{"an exponent", "leaf.length=1e3", `column 13: leaf.length takes a length such as 12 cm: "1e3" is no number`},
		{"a decimal comma", "leaf.length=3,5 cm", `column 13: leaf.length takes a length such as 12 cm: "3,5 cm" is no number: decimals stand behind a point`},
		{"larger than any plant", "leaf.length=20000 m", `column 13: leaf.length takes a length such as 12 cm: "20000 m" is larger than any plant`},
		{"a span that falls", "leaf.length=9-3", `column 13: leaf.length takes a length such as 12 cm: "9-3" runs from high to low`},
		{"half a petal", "flower.petals=4.5", `column 15: flower.petals takes a whole number: "4.5" is no whole number`},
		{"a count with a unit", "flower.petals=5 cm", `column 15: flower.petals takes a whole number: a unit (cm) is out of place: this is a plain number`},
		{"a month that is none", "season.flowering=13", `column 18: season.flowering takes a month, 1 to 12 or its name: there is no month 13: they run from 1 to 12`},
		{"a misspelt month", "season.flowering=Febuary", `column 18: season.flowering takes a month, 1 to 12 or its name: there is no month "Febuary"; the nearest is "february"`},
		{"nothing", "", `column 1: nothing was read: write TRAIT=STATE, such as leaf.arrangement=opposite`},
		{"nothing but a question mark, bare", " ?", `column 2: nothing was read: write TRAIT=STATE, such as leaf.arrangement=opposite`},
		{"a bare word that nobody knows", "hollw", `column 1: "hollw" is no reading: write TRAIT=STATE, such as leaf.arrangement=opposite; the nearest is "hollow"`},
		{"a bare word of several traits", "solid", `column 1: "solid" can be stem.interior=solid or root.interior=solid: write which`},
		{"a bare word of several traits, not sure", " smooth?", `column 2: "smooth?" can be leaf.margin=entire? or stem.surface=hairless?: write which`},
	}
	for _, c := range tests {
		t.Run(c.shows, func(t *testing.T) {
			got, err := graph.ParseReading(v, c.text)
			if err == nil {
				t.Fatalf("%q was read as %+v", c.text, got)
			}
			if _, rest, _ := strings.Cut(err.Error(), `", `); rest != c.want && !strings.HasSuffix(err.Error(), `", `+c.want) {
				t.Errorf("%q\n got %s\nwant %s", c.text, rest, c.want)
			}
			var p *graph.Problem
			if !errors.As(err, &p) || !cmp.Equal(got, graph.Reading{}) {
				t.Errorf("%q: %T with %+v", c.text, err, got)
			}
		})
	}
}

// Whoever pastes a page gets one short error, at once.
func TestHugeReadingsEndInAShortError(t *testing.T) {
	v := meadow()
	for shows, text := range map[string]string{
		"a long name":       strings.Repeat("leaf", 300),
		"a long value":      "leaf.margin=" + strings.Repeat("serrate|", 200_000),
		"a long number":     "leaf.length=" + strings.Repeat("9", 400),
		"a longer number":   "leaf.length=" + strings.Repeat("9", 4000),
		"a long everything": strings.Repeat("=", 1<<20),
		"a long word":       strings.Repeat("é", 900),
		"a long unit":       "leaf.length=3 " + strings.Repeat("é", 900),
		"a long state":      "leaf.shape=" + strings.Repeat("x", 900),
		"a long position":   "leaf.shape@" + strings.Repeat("x", 900) + "=ovate",
		"many states":       "leaf.margin=" + strings.Repeat("|", 900),
	} {
		_, err := graph.ParseReading(v, text)
		if err == nil {
			t.Errorf("%s was read", shows)
		} else if n := len(err.Error()); n > 1500 {
			t.Errorf("%s: the error has %d bytes", shows, n)
		}
	}
}

func TestEverySynonymReadsAsItsStates(t *testing.T) {
	v := meadow()
	for _, trait := range v.Traits {
		for _, s := range trait.States {
			for _, word := range append([]string{s.ID}, s.Words...) {
				var want []string
				for _, other := range trait.States {
					if other.ID == word || s.ID != word && slices.Contains(other.Words, word) {
						want = append(want, other.ID)
					}
				}
				for _, sign := range []string{"=", "!="} {
					byWord, err := graph.ParseReading(v, trait.ID+sign+word)
					if err != nil {
						t.Fatal(err)
					}
					byState, err := graph.ParseReading(v, trait.ID+sign+strings.Join(want, "|"))
					if err != nil {
						t.Fatal(err)
					}
					if d := cmp.Diff(byState, byWord); d != "" {
						t.Errorf("%s%s%s (-states +word):\n%s", trait.ID, sign, word, d)
					}
				}
			}
		}
	}
}

func TestTraitsGoByTheirEverydayNames(t *testing.T) {
	v := meadow()
	for _, trait := range v.Traits {
		for _, name := range append([]string{trait.Label}, trait.Words...) {
			called := v.TraitsCalled(name)
			if !slices.Contains(called, trait) {
				t.Errorf("%q does not find %s", name, trait.ID)
			}
			if len(called) == 1 {
				got, position, err := graph.ParseTrait(v, " "+strings.ToUpper(name)+" @ upper")
				if err != nil || got != trait || position != "upper" {
					t.Errorf("%q is read as %v at %q: %v", name, got, position, err)
				}
			}
		}
	}
}

func TestNotationNeverLosesAReading(t *testing.T) {
	v := meadow()
	any := graphtest.AnyReading(v)
	rapid.Check(t, func(t *rapid.T) {
		want := any.Draw(t, "reading")
		text := want.Notation(v)
		got, err := graph.ParseReading(v, text)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Fatalf("%s (-drawn +read):\n%s", text, d)
		}
	})
}

func TestReadingsInWords(t *testing.T) {
	v := meadow()
	for text, want := range map[string]string{
		"leaf.margin=serrate|dentate": "serrate|dentate", "stem.surface!=stinging": "not stinging", "stem.surface!=stinging|bristly?": "not bristly|stinging?",
		"leaf.length@upper=3.2in?": "8.128 cm (on the upper part)?", "leaf.segment_width=1-2": "1-2 mm", "flower.petals=5": "5", "season.flowering=May": "5",
	} {
		r, err := graph.ParseReading(v, text)
		if err != nil {
			t.Error(err)
		} else if got := r.Value(v); got != want {
			t.Errorf("%s is %q in words, want %q", text, got, want)
		}
	}
}

// What stands behind the sign is read from files without the trait.
func TestValuesMayCarryTheirSign(t *testing.T) {
	v := meadow()
	surface, _ := v.Trait("stem.surface")
	got, err := graph.ParseValue(v, surface, " != stinging ? ", false)
	if want := unsure(not(state("stem.surface", "hairless", "bristly"), "stinging")); err != nil || !cmp.Equal(want, got) {
		t.Errorf("%+v, %v", got, err)
	}
	if got, err := graph.ParseValue(v, surface, "!=stinging", true); err == nil {
		t.Errorf("what is not not was read as %+v", got)
	}
}

func FuzzParseReading(f *testing.F) {
	v := meadow()
	for _, text := range []string{
		"leaf.arrangement=opposite", "stem.surface!=stinging", "leaf.margin=serrate|dentate", "plant.odour_crushed=minty?", "leaf.length=3.2in",
		"leaf.shape@upper=lanceolate", "hollow stem", "size=3", "a=b=c", "leaf.length=-3", "leaf.length=1-2 ft?", "season.flowering=may", "\xff=\xfe",
		"edge=toothed|smooth", "=", "!=", "?", "|", "@", "leaf.margin=|", "flower.petals=5-7", "leaf.length=3 µm", "odeur écrasée=mintie",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := graph.ParseReading(v, text)
		if err != nil {
			var p *graph.Problem
			if !errors.As(err, &p) || p.Place.Column < 1 || p.Place.Column > len([]rune(text))+1 {
				t.Errorf("%q: the error is placed nowhere: %v", text, err)
			}
			return
		}
		again, err := graph.ParseReading(v, r.Notation(v))
		if err != nil || !cmp.Equal(r, again) {
			t.Errorf("%q reads as %+v, its notation %s as %+v: %v", text, r, r.Notation(v), again, err)
		}
	})
}
