package reason

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/matrix"
)

// excluded lists the plants that the readings exclude, each with the number of
// evidence groups that do: "carrot 1, hemlock 2".
func excluded(k *graph.Knowledge, obs graph.Observation) string {
	c := newCase(matrix.Compile(k), obs)
	var out []string
	for i, t := range k.Taxa {
		if n := len(c.groups(i)); n > 0 {
			out = append(out, fmt.Sprintf("%s %d", t.ID, n))
		}
	}
	return strings.Join(out, ", ")
}

// DESIGN section 3, Near states and what a reading excludes. The near pair is
// told once, of softly_hairy.
func TestWhatAReadingExcludes(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless softly_hairy woolly bristly stinging", "softly_hairy ~ woolly", "bristly ~ stinging", "smooth means hairless", "furry means softly_hairy woolly"),
		graphtest.Plant("bare", "stem.surface always hairless"),
		graphtest.Plant("soft", "stem.surface always softly_hairy"),
		graphtest.Plant("wool", "stem.surface always woolly"),
		graphtest.Plant("sting", "stem.surface always stinging"),
		graphtest.Plant("mixed", "stem.surface usually hairless", "stem.surface rarely bristly"),
		graphtest.Plant("maybe", "stem.surface usually hairless"),
		graphtest.Plant("never-bare", "stem.surface never hairless"),
		graphtest.Plant("unscored"),
	)
	tests := []struct{ name, reading, want string }{
		{"a state excludes whoever cannot show it", "stem.surface=hairless", "never-bare 1, soft 1, sting 1, wool 1"},
		{"but nobody who shows a state it is taken for", "stem.surface=softly_hairy", "bare 1, mixed 1, sting 1"},
		{"nor the other way round", "stem.surface=woolly", "bare 1, mixed 1, sting 1"},
		{"what is near one way is near the other", "stem.surface=stinging", "bare 1, soft 1, wool 1"},
		{"one of two excludes whoever can show neither", "stem.surface=hairless|softly_hairy", "sting 1"},
		{"and nobody who can show one of them", "stem.surface=hairless|stinging", "soft 1, wool 1"},
		{"an everyday word is one of the states it stands for", "stem.surface=furry", "bare 1, mixed 1, sting 1"},
		{"and is its state where it stands for one", "stem.surface=smooth", "never-bare 1, soft 1, sting 1, wool 1"},
		{"looked for and not there excludes whoever always shows it", "stem.surface!=hairless", "bare 1"},
		{"but not who shows what can be taken for something else that is left", "stem.surface!=stinging", ""},
		{"all of what is near it looked for and not there", "stem.surface!=stinging|bristly", "sting 1"},
		{"what is left is one of the others", "stem.surface!=hairless|bristly|stinging", "bare 1, mixed 1, sting 1"},
		{"an unsure reading excludes nobody", "stem.surface=hairless?", ""},
		{"an unsure set neither", "stem.surface=hairless|stinging?", ""},
		{"an unsure absence neither", "stem.surface!=hairless?", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if got := excluded(k, graphtest.Seen(k, "rosette", test.reading)); got != test.want {
				t.Errorf("%s excludes %q, want %q", test.reading, got, test.want)
			}
		})
	}
}

// What is taken for something that is taken for a third thing is not taken for
// the third: misreadings do not add up.
func TestNearIsOneStepOnly(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("leaf.composition", "once twice thrice", "once ~ twice", "twice ~ thrice"),
		graphtest.Plant("a", "leaf.composition always thrice"))
	for reading, want := range map[string]string{"once": "a 1", "twice": "", "thrice": ""} {
		if got := excluded(k, graphtest.Seen(k, "rosette", "leaf.composition="+reading)); got != want {
			t.Errorf("%s excludes %q, want %q", reading, got, want)
		}
	}
}

// DESIGN section 3: a measure excludes only beyond the stated extremes by half as
// much again, below two thirds of the lowest, above one and a half times the
// highest.
func TestMeasuresExcludeOnlyFarBeyondTheirExtremes(t *testing.T) {
	tests := []struct {
		name, stated, reading string
		out                   bool
	}{
		{"within the usual range", "always (6-)9-10(-12) cm", "9.5", false},
		{"at the lowest extreme", "always (6-)9-10(-12) cm", "6", false},
		{"at two thirds of the lowest", "always (6-)9-10(-12) cm", "4", false},
		{"just above two thirds of the lowest", "always (6-)9-10(-12) cm", "4.001", false},
		{"just below two thirds of the lowest", "always (6-)9-10(-12) cm", "3.999", true},
		{"at the highest extreme", "always (6-)9-10(-12) cm", "12", false},
		{"just below one and a half times the highest", "always (6-)9-10(-12) cm", "17.999", false},
		{"at one and a half times the highest", "always (6-)9-10(-12) cm", "18", false},
		{"just above one and a half times the highest", "always (6-)9-10(-12) cm", "18.001", true},
		{"the usual range is the extreme where none is given", "always 6-12 cm", "18.001", true},
		{"a span that reaches into the limits", "always 6-12 cm", "1-4", false},
		{"a span that ends below them", "always 6-12 cm", "1-3.9", true},
		{"a span that begins above them", "always 6-12 cm", "18.1-30", true},
		{"a span round all of them", "always 6-12 cm", "1-30", false},
		{"the same limit in inches, 18.034 cm", "always 6-12 cm", "7.1in", true},
		{"just inside it in inches, 17.78 cm", "always 6-12 cm", "7in", false},
		{"the same limit in mm", "always 6-12 cm", "180mm", false},
		{"two statements: the extremes of both", "usually 6-8 cm, sometimes 10-12 cm", "18", false},
		{"two statements, the lower one last", "usually 10-12 cm, sometimes 6-8 cm", "4", false},
		{"below the lower one", "usually 10-12 cm, sometimes 6-8 cm", "3.9", true},
		{"a range stated as the usual one excludes as well", "usually 6-12 cm", "18.001", true},
		{"overruled: the stated range is not all there is", "usually 6-12 cm, is not exhaustive", "90", false},
		{"a length that never occurs is no range", "never 6-12 cm", "90", false},
		{"nobody has measured it", "", "90", false},
		{"an unsure measure", "always 6-12 cm", "90?", false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var lines []string
			for _, l := range strings.Split(test.stated, ", ") {
				if l != "" {
					lines = append(lines, "leaf.length "+l)
				}
			}
			k := graphtest.Knowledge(graphtest.Measure("leaf.length", "cm"), graphtest.Plant("a", lines...))
			got := excluded(k, graphtest.Seen(k, "rosette", "leaf.length="+test.reading))
			if (got != "") != test.out {
				t.Errorf("%s of a plant with %q: excludes %q, want excluded %v", test.reading, test.stated, got, test.out)
			}
		})
	}
}

func TestCountsExcludeByTheSameLimits(t *testing.T) {
	k := graphtest.Knowledge(graphtest.Count("flower.petals"), graphtest.Plant("a", "flower.petals always 3-4"))
	for count, want := range map[string]string{"1": "a 1", "2": "", "3": "", "6": "", "7": "a 1"} {
		if got := excluded(k, graphtest.Seen(k, "flowering", "flower.petals="+count)); got != want {
			t.Errorf("%s petals exclude %q, want %q", count, got, want)
		}
	}
}

// The limits hold for any range, wherever it lies and however narrow it is.
func TestMeasureLimitsOfAnyRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(0.01, 1000).Draw(t, "lowest")
		high := low * rapid.Float64Range(1, 50).Draw(t, "highest, times the lowest")
		trait := &graph.Trait{ID: "leaf.length", Kind: graph.MeasureKind, Excludes: true}
		p := Possible{Low: low, High: high}
		for x, out := range map[float64]bool{
			low / 1.5: false, low / 1.5 * 0.9999: true, low: false, high: false, high * 1.5: false, high * 1.5 * 1.0001: true,
		} {
			if got := excludes(trait, &graph.Reading{Trait: trait.ID, Low: x, High: x}, p); got != out {
				t.Fatalf("%g of %g-%g: excluded %v, want %v", x, low, high, got, out)
			}
		}
	})
}

// DESIGN section 3: habitat, range, month and life cycle never exclude.
func TestHabitatLifeCycleAndMonthsNeverExclude(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("plant.habitat", "meadow wood", "never excludes", "many"),
		graphtest.States("plant.life_cycle", "annual biennial", "never excludes"),
		graphtest.Months("season.flowering"),
		graphtest.Plant("a", "plant.habitat always meadow", "plant.life_cycle always annual", "season.flowering always 5-6"),
		graphtest.Plant("b", "plant.habitat always wood", "plant.life_cycle always biennial", "season.flowering always 9-10"),
	)
	obs := graphtest.Seen(k, "flowering", "plant.habitat=wood", "plant.life_cycle=biennial", "season.flowering=9", "month=12")
	if got := excluded(k, obs); got != "" {
		t.Errorf("excluded %s", got)
	}
	m := matrix.Compile(k)
	if groups := ConstantGroups(m, 0, 1, graph.Flowering); len(groups) != 0 {
		t.Errorf("%v part the two constantly", groups)
	}
}

// Which stage a plant is at, where that is not told, follows from what was surely
// seen, and from nothing else.
func TestStagesLeftByWhatWasSeen(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.States("flower.colour", "white yellow", "seen at flowering"),
		graphtest.States("fruit.surface", "smooth ribbed", "seen at fruiting"),
		graphtest.States("stem.surface", "hairless bristly", "seen at leafy_shoot flowering fruiting"),
		graphtest.States("leaf.stalk", "petiolate sessile"),
		graphtest.Plant("a"),
	)
	tests := []struct {
		name, stage string
		readings    []string
		want        string
	}{
		{"told", "rosette", []string{"flower.colour=white"}, "rosette"},
		{"nothing read", "", nil, "seedling rosette leafy_shoot flowering fruiting dormant"},
		{"what can be seen always tells nothing", "", []string{"leaf.stalk=sessile"}, "seedling rosette leafy_shoot flowering fruiting dormant"},
		{"a flower", "", []string{"flower.colour=white"}, "flowering"},
		{"a stem", "", []string{"stem.surface=bristly"}, "leafy_shoot flowering fruiting"},
		{"a stem and a flower", "", []string{"stem.surface=bristly", "flower.colour=white"}, "flowering"},
		{"perhaps a flower", "", []string{"flower.colour=white?"}, "seedling rosette leafy_shoot flowering fruiting dormant"},
		{"flower and fruit at once leave every stage", "", []string{"flower.colour=white", "fruit.surface=ribbed"}, "seedling rosette leafy_shoot flowering fruiting dormant"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			c := newCase(matrix.Compile(k), graphtest.Seen(k, test.stage, test.readings...))
			if got := strings.Join(c.stages.Names(), " "); got != test.want {
				t.Errorf("got %s, want %s", got, test.want)
			}
		})
	}
}
