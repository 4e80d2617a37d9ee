package reason

import (
	"cmp"
	"slices"

	"telltale/graph"
	"telltale/graph/matrix"
)

// Confusion is a documented case of one plant taken for another, at the stage it
// happened, and what parts the two there.
type Confusion struct {
	One, Other string
	Stage      graph.Stage
	Evidence   string
	Sources    []string
	Groups     []string // evidence groups of constant differences at the stage
	Study      string   // the herb of the two that people gather, "" if neither is
	Poison     bool     // one of the two is poisonous
	Excused    *graph.TooClose
}

// enoughDifferences is how many constant differences a documented confusion has
// to have, or a study has to say why not: a poison is ruled out by two.
const enoughDifferences = 2

// Bad tells whether the confusion is an error: a gathered herb and a poison with
// fewer than two constant differences, and no study that says why and when they
// can be told apart.
func (c *Confusion) Bad() bool {
	return c.Study != "" && c.Poison && len(c.Groups) < enoughDifferences && c.Excused == nil
}

// documented tells whether somebody outside reported the confusion.
func documented(evidence string) bool {
	switch evidence {
	case "case_report", "poison_centre", "extension":
		return true
	}
	return false
}

// Confusions lists the documented confusions, pair by pair and stage by stage.
func Confusions(m *matrix.Matrix) []Confusion {
	var out []Confusion
	for _, t := range m.Knowledge.Taxa {
		for i := range t.Lookalikes {
			l := &t.Lookalikes[i]
			if documented(l.Evidence) {
				for _, stage := range confusedAt(m, t, l) {
					out = addConfusion(out, m, t, l, stage)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Confusion) int {
		return cmp.Or(cmp.Compare(a.One, b.One), cmp.Compare(a.Other, b.Other), cmp.Compare(a.Stage, b.Stage))
	})
	return out
}

// confusedAt gives the stages of a confusion. One that is not told happens when
// the herb of the two is gathered.
func confusedAt(m *matrix.Matrix, t *graph.Taxon, l *graph.Lookalike) []graph.Stage {
	if l.Stages != 0 {
		return l.Stages.List()
	}
	var set graph.StageSet
	for _, id := range []string{t.ID, l.Taxon} {
		if s, ok := m.Knowledge.Study(id); ok {
			for _, g := range s.Gather {
				set |= g.Stages
			}
		}
	}
	return set.List()
}

func addConfusion(list []Confusion, m *matrix.Matrix, t *graph.Taxon, l *graph.Lookalike, stage graph.Stage) []Confusion {
	one, other := min(t.ID, l.Taxon), max(t.ID, l.Taxon)
	for i := range list {
		if c := &list[i]; c.One == one && c.Other == other && c.Stage == stage {
			for _, s := range l.Sources {
				if !slices.Contains(c.Sources, s) {
					c.Sources = append(c.Sources, s)
				}
			}
			return list
		}
	}
	c := Confusion{One: one, Other: other, Stage: stage, Evidence: l.Evidence, Sources: slices.Clone(l.Sources)}
	c.Groups = ConstantGroups(m, m.TaxonIndex(one), m.TaxonIndex(other), stage)
	for _, id := range []string{one, other} {
		x, ok := m.Knowledge.Taxon(id)
		c.Poison = c.Poison || ok && x.Poisonous()
		s, ok := m.Knowledge.Study(id)
		if !ok || len(s.For("", stage)) == 0 {
			continue
		}
		c.Study = id
		against := one
		if id == one {
			against = other
		}
		if e := s.Excuses(against, stage); e != nil {
			c.Excused = e
		}
	}
	return append(list, c)
}
