package reason

import (
	"telltale/graph"
	"telltale/graph/matrix"
)

// Parting is how far a trait parts two plants.
type Parting uint8

// The ways. NotKnown is scored for one of the two only.
const (
	NotScored Parting = iota
	NotKnown
	Shared
	UsualDifference
	ConstantDifference
)

// String gives the words that output uses.
func (p Parting) String() string {
	return [...]string{"not_scored", "not_known", "shared", "usual", "constant"}[p]
}

// Difference is one trait of a pair of plants.
type Difference struct {
	Trait *graph.Trait
	How   Parting
}

// Apart tells for each trait that can be seen at the stage how it parts two taxa,
// in the order of the vocabulary. Traits scored for neither are left out. A
// difference is constant if every reading that the one can give, misread as
// people misread, excludes the other; the readings that rule a plant out are
// judged by the same function.
func Apart(m *matrix.Matrix, a, b int, stage graph.Stage) []Difference {
	var out []Difference
	for i, t := range m.Knowledge.Vocabulary.Traits {
		if !t.Visible(stage) {
			continue
		}
		if how := parting(m, t, i, a, b, stage); how != NotScored {
			out = append(out, Difference{Trait: t, How: how})
		}
	}
	return out
}

func parting(m *matrix.Matrix, t *graph.Trait, trait, a, b int, stage graph.Stage) Parting {
	column := m.Column(trait, stage, "")
	x, y := &column.Cells[a], &column.Cells[b]
	switch {
	case !x.Scored() && !y.Scored():
		return NotScored
	case !x.Scored() || !y.Scored():
		return NotKnown
	case apart(t, possibleIn(t, x), possibleIn(t, y)):
		return ConstantDifference
	case usuallyDiffer(t, x, y):
		return UsualDifference
	}
	return Shared
}

// PartsConstantly tells whether a trait that can be seen at the stage is a constant
// difference of two taxa.
func PartsConstantly(m *matrix.Matrix, trait, a, b int, stage graph.Stage) bool {
	t := m.Knowledge.Vocabulary.Traits[trait]
	return t.Visible(stage) && parting(m, t, trait, a, b, stage) == ConstantDifference
}

// usuallyDiffer tells whether what is common in the one plant is not common in
// the other.
func usuallyDiffer(t *graph.Trait, x, y *matrix.Cell) bool {
	if t.Kind == graph.StateKind {
		p, q := common(x), common(y)
		return p != 0 && q != 0 && p&q == 0
	}
	for i := range x.Groups {
		for j := range y.Groups {
			if spansMeet(t, x.Groups[i].Spans, y.Groups[j].Spans) {
				return false
			}
		}
	}
	return true
}

// common is the set of states that a plant always or usually shows.
func common(c *matrix.Cell) uint64 {
	var out uint64
	for i := range c.Groups {
		out |= c.Groups[i].ByFrequency[graph.Always] | c.Groups[i].ByFrequency[graph.Usually]
	}
	return out
}

// spansMeet tells whether some usual ranges have a value, or a month, in common.
func spansMeet(t *graph.Trait, p, q []graph.Range) bool {
	for _, a := range p {
		for _, b := range q {
			if t.Kind == graph.MonthsKind {
				for m := 1; m <= 12; m++ {
					if a.HasMonth(m) && b.HasMonth(m) {
						return true
					}
				}
			} else if a.Low <= b.High && b.Low <= a.High {
				return true
			}
		}
	}
	return false
}

// ConstantGroups lists the evidence groups in which two taxa differ constantly at
// the stage, in order.
func ConstantGroups(m *matrix.Matrix, a, b int, stage graph.Stage) []string {
	groups := map[string]bool{}
	for _, d := range Apart(m, a, b, stage) {
		if d.How == ConstantDifference {
			groups[d.Trait.EvidenceGroup()] = true
		}
	}
	return sortedKeys(groups)
}

// lookalikeBelow is the number of constant differences under which a taxon counts
// as a lookalike, linked or not (DESIGN section 3).
const lookalikeBelow = 3

// Lookalikes tells for each taxon whether it is a lookalike of the herb at the
// stage: linked to it in either direction, or parted from it by fewer than three
// constant differences.
func Lookalikes(m *matrix.Matrix, herb int, stage graph.Stage) []bool {
	out := make([]bool, len(m.Knowledge.Taxa))
	for _, l := range m.Knowledge.LinksOf(m.Knowledge.Taxa[herb].ID) {
		out[m.TaxonIndex(l.Other)] = true
	}
	for i := range out {
		if i != herb && !out[i] {
			out[i] = len(ConstantGroups(m, herb, i, stage)) < lookalikeBelow
		}
	}
	return out
}

type lookalikeKey struct {
	herb  int
	stage graph.Stage
}

// lookalikesOf gives Lookalikes, which for one graph are always the same.
func (r *Reasoner) lookalikesOf(herb int, stage graph.Stage) []bool {
	key := lookalikeKey{herb, stage}
	if known, ok := r.lookalikes.Load(key); ok {
		return known.([]bool)
	}
	found := Lookalikes(r.Matrix, herb, stage)
	r.lookalikes.Store(key, found)
	return found
}
