package reason

import (
	"math/bits"

	"telltale/graph"
	"telltale/graph/matrix"
)

// Possible is what plants of a taxon can show of a trait: a set of states, in the
// bits of the vocabulary's order, or a span of numbers in the trait's unit.
// Anything says that nothing is impossible.
type Possible struct {
	Anything  bool
	States    uint64
	Low, High float64
}

// anything is what can be shown of a trait that nobody has scored.
var anything = Possible{Anything: true, States: ^uint64(0)}

// possible tells what can be shown where these statements apply together.
func possible(t *graph.Trait, s *matrix.Stated) Possible {
	if t.Kind != graph.StateKind {
		return possibleSpan(s)
	}
	positives := s.Positives()
	if exhaustive(s) {
		return Possible{States: positives}
	}
	never := s.ByFrequency[graph.Never] &^ positives
	left := allStates(t) &^ never
	if never == 0 || left == 0 { // a plant shows something: sources that leave nothing disagree
		return anything
	}
	return Possible{States: left}
}

// exhaustive tells whether the states given are all there are: one of them is
// always there, or two or more are given of which one is the usual (a flora that
// names the variation names all of it).
func exhaustive(s *matrix.Stated) bool {
	if s.Overruled {
		return s.Exhaustive && s.Positives() != 0 // a plant shows something, so none given are not all
	}
	if s.ByFrequency[graph.Always] != 0 {
		return true
	}
	return bits.OnesCount64(s.Positives()) >= 2 && s.ByFrequency[graph.Usually] != 0
}

func possibleSpan(s *matrix.Stated) Possible {
	if len(s.Spans) == 0 || s.Overruled && !s.Exhaustive {
		return anything
	}
	p := Possible{Low: s.Spans[0].LowExtreme, High: s.Spans[0].HighExtreme}
	for _, r := range s.Spans[1:] {
		p.Low, p.High = min(p.Low, r.LowExtreme), max(p.High, r.HighExtreme)
	}
	return p
}

func allStates(t *graph.Trait) uint64 {
	if len(t.States) == 64 {
		return ^uint64(0)
	}
	return 1<<len(t.States) - 1
}

// either joins what is possible here with what is possible there.
func (p Possible) either(q Possible) Possible {
	if p.Anything || q.Anything {
		return anything
	}
	return Possible{States: p.States | q.States, Low: min(p.Low, q.Low), High: max(p.High, q.High)}
}

// possibleIn tells what a cell of the matrix allows: whatever one of its groups
// of statements does.
func possibleIn(t *graph.Trait, c *matrix.Cell) Possible {
	if c.Open || len(c.Groups) == 0 {
		return anything
	}
	p := possible(t, &c.Groups[0])
	for i := 1; i < len(c.Groups); i++ {
		p = p.either(possible(t, &c.Groups[i]))
	}
	return p
}

// possibleAt tells what a taxon can show of a trait to a reading at this
// position, at a stage that is one of several: whatever one of them allows.
func possibleAt(m *matrix.Matrix, taxon, trait int, stages graph.StageSet, position string) Possible {
	var p Possible
	for i, stage := range stages.List() {
		c := m.Column(trait, stage, position)
		q := possibleIn(c.Trait, &c.Cells[taxon])
		if i == 0 {
			p = q
		} else {
			p = p.either(q)
		}
		if p.Anything {
			return p
		}
	}
	return p
}
