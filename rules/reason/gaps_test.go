package reason

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// Each gap says on which of two plants something is missing: the traits to score on
// the plant in the way, and those to score on the herb.
func TestGapsTellWhichPlantToScore(t *testing.T) {
	traits := []graphtest.Piece{
		graphtest.States("leaf.margin", "entire serrate"), graphtest.States("stem.surface", "hairless bristly"),
		graphtest.States("root.type", "taproot bulb"), graphtest.States("flower.colour", "white pink", "seen at flowering"),
	}
	herb := []string{"leaf.margin always serrate", "stem.surface always bristly"}
	for _, tt := range []struct {
		shows string
		other []string
		want  []string // kind, plant: traits to score on it / traits to score on the herb
	}{
		{
			"a poison on which nothing is scored", []string{"deadly", "looks like herb"},
			[]string{"not cleared bad: leaf.margin stem.surface /", "scored for one bad: leaf.margin stem.surface /"},
		},
		{
			"one that is parted once", []string{"deadly", "looks like herb", "leaf.margin always entire"},
			[]string{"not cleared bad: stem.surface /", "scored for one bad: stem.surface /"},
		},
		{
			"one that is scored on what the herb is not", []string{"deadly", "looks like herb", "leaf.margin always entire", "root.type always bulb", "flower.colour always pink"},
			[]string{"not cleared bad: stem.surface / root.type", "scored for one herb: root.type flower.colour /", "scored for one bad: stem.surface /"},
		},
		{
			"one that is parted twice", []string{"deadly", "looks like herb", "leaf.margin always entire", "stem.surface always hairless"}, nil,
		},
	} {
		t.Run(tt.shows, func(t *testing.T) {
			k := graphtest.Knowledge(append(slices.Clone(traits), graphtest.Plant("herb", herb...), graphtest.Plant("bad", tt.other...), graphtest.Study("herb", "leaf at rosette", "leaf.margin is serrate"))...)
			r, err := New(k)
			if err != nil {
				t.Fatal(err)
			}
			plant, _ := k.Taxon("herb")
			gaps, err := r.Gaps(plant)
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, g := range gaps {
				if g.Kind == GapUnsafe || g.Kind == GapOneSided || g.Kind == GapPair {
					got = append(got, strings.TrimSpace(fmt.Sprintf("%s %s: %s / %s", g.Kind, g.Taxon, strings.Join(g.Traits, " "), strings.Join(g.Herb, " "))))
				}
				if g.Kind == GapOneSided && g.Beside == g.Taxon || g.Kind == GapUnsafe && g.Stage != graph.Rosette {
					t.Errorf("%+v", g)
				}
			}
			if !slices.Equal(got, tt.want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(tt.want, "\n"))
			}
		})
	}
}
