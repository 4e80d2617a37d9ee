package reason

import (
	"math/bits"

	"telltale/graph"
	"telltale/graph/matrix"
)

// Typical gives the reading of a trait that a typical plant of the taxon makes at
// the stage: its most frequent state, or the middle of its usual range. It is
// false where nothing is stated.
func Typical(m *matrix.Matrix, taxon, trait int, stage graph.Stage) (graph.Reading, bool) {
	column := m.Column(trait, stage, "")
	cell, t := &column.Cells[taxon], column.Trait
	r := graph.Reading{Trait: t.ID}
	for f := graph.Always; f <= graph.Rarely; f++ {
		for i := range cell.Groups {
			if set := cell.Groups[i].ByFrequency[f]; set != 0 {
				r.States = []string{t.States[bits.TrailingZeros64(set)].ID}
				return r, true
			}
		}
	}
	for i := range cell.Groups {
		if spans := cell.Groups[i].Spans; len(spans) > 0 {
			s := &spans[0]
			r.Low = (s.Low + s.High) / 2
			if t.Kind == graph.CountKind {
				r.Low = float64(int(r.Low))
			}
			if t.Kind == graph.MonthsKind {
				r.Low = s.Low
			}
			r.High = r.Low
			return r, true
		}
	}
	return r, false
}

// TypicalObservation gives the observation of a typical plant of the taxon at the
// stage, read in full: every trait that can be seen then and is stated.
func TypicalObservation(m *matrix.Matrix, taxon int, stage graph.Stage) graph.Observation {
	o := graph.Observation{Stage: stage}
	for i, t := range m.Knowledge.Vocabulary.Traits {
		if !t.Visible(stage) || t.Kind == graph.MonthsKind {
			continue
		}
		if r, ok := Typical(m, taxon, i, stage); ok {
			o.Readings = append(o.Readings, r)
		}
	}
	return o
}
