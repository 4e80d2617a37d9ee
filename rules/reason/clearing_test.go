package reason

import (
	"fmt"
	"strings"
	"testing"

	"telltale/graph"
)

// leastCleared is the share of herb-stages at which a typical plant has to be
// cleared. Botany says no to the rest, or nobody has looked: the table names the
// plants in the way.
const leastCleared = 0.6

// TestHowManyHerbsCanBeCleared keeps, for each herb and stage at which it is
// gathered, whether a typical plant read in full may be gathered, after how many
// looks when they are asked for one by one, or which plants stand in the way.
func TestHowManyHerbsCanBeCleared(t *testing.T) {
	r := reasonerShipped(t)
	var table strings.Builder
	fmt.Fprintln(&table, "# herb, stage, part: cleared after so many looks, or what stands in the way")
	cleared, all := 0, 0
	for _, study := range r.Matrix.Knowledge.Studies {
		herb, _ := r.Matrix.Knowledge.Taxon(study.Taxon)
		for _, stage := range graph.Stages() {
			parts := partsOf(study.For("", stage))
			if len(parts) == 0 {
				continue
			}
			all++
			line, ok := clearing(t, r, herb, stage, parts)
			if ok {
				cleared++
			}
			fmt.Fprintf(&table, "%s, %s: %s\n", herb.ID, stage, line)
		}
	}
	fmt.Fprintf(&table, "# %d of %d cleared\n", cleared, all)
	golden(t, "clearing.golden", table.String())
	if float64(cleared) < leastCleared*float64(all) {
		t.Errorf("%d of %d herb-stages can be cleared, wanted %.0f in a hundred", cleared, all, 100*leastCleared)
	}
}

// clearing tells of the first part that a typical plant is cleared for, or of the
// last that it is not.
func clearing(t *testing.T, r *Reasoner, herb *graph.Taxon, stage graph.Stage, parts []string) (string, bool) {
	t.Helper()
	obs := TypicalObservation(r.Matrix, r.Matrix.TaxonIndex(herb.ID), stage)
	var v *Verdict
	for _, part := range parts {
		obs.Part = part
		var err error
		if v, err = r.MayGather(herb, obs); err != nil {
			t.Fatal(err)
		}
		if v.Verdict == Gather {
			return fmt.Sprintf("%s, %d looks", part, looksAsked(t, r, herb, obs)), true
		}
	}
	var inTheWay []string
	for _, o := range v.InTheWay {
		inTheWay = append(inTheWay, fmt.Sprintf("%s %d/%d", o.Taxon.ID, len(o.Groups), o.Needed))
	}
	for _, b := range v.Because {
		if b.Verdict != Gather && b.Obstacle == nil {
			inTheWay = append(inTheWay, b.Verdict+": "+b.Text)
		}
	}
	return strings.Join(inTheWay, "; "), false
}

// looksAsked starts from nothing and reads, each time, the first of the looks that
// the verdict asks for and that a typical plant can answer, until the herb is
// cleared; it counts the looks.
func looksAsked(t *testing.T, r *Reasoner, herb *graph.Taxon, typical graph.Observation) int {
	t.Helper()
	obs := typical
	obs.Readings = nil
	for len(obs.Readings) < len(typical.Readings) {
		v, err := r.MayGather(herb, obs)
		if err != nil {
			t.Fatal(err)
		}
		if v.Verdict == Gather {
			break
		}
		next := firstAnswer(v.Look, typical, &obs)
		if next == nil { // the rest has to be read in any order
			next = firstUnread(typical, &obs)
		}
		obs.Readings = append(obs.Readings, *next)
	}
	return len(obs.Readings)
}

func firstAnswer(looks []Look, typical graph.Observation, obs *graph.Observation) *graph.Reading {
	for _, l := range looks {
		for i := range typical.Readings {
			if x := &typical.Readings[i]; x.Trait == l.Trait.ID && !obs.Reads(x.Trait) {
				return x
			}
		}
	}
	return nil
}

func firstUnread(typical graph.Observation, obs *graph.Observation) *graph.Reading {
	for i := range typical.Readings {
		if x := &typical.Readings[i]; !obs.Reads(x.Trait) {
			return x
		}
	}
	return nil
}
