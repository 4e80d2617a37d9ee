package reason

import (
	"math"
	"slices"
	"sort"

	"telltale/graph"
)

// Look is a trait worth looking at next.
type Look struct {
	Trait *graph.Trait
	// RulesOut are the taxa that an answer could exclude, in the order of
	// Knowledge.Taxa: poisons first of all, when any is still open.
	RulesOut []string
	// Bits is what the answer lowers the entropy of the ranking by, on average.
	Bits float64
	// Relief is what the answer takes, on average, off the chance that a poison is
	// still open.
	Relief float64
}

// answer is one thing that a look can come to: how likely it is on each taxon and
// outside, and the reading that it makes.
type answer struct {
	onTaxon []float64
	outside float64
	reading graph.Reading
}

// numberAnswers is in how many parts the numbers that a look can give are cut.
// From memory.
const numberAnswers = 6

// answers lists what a look at a trait can come to.
func (s *scale) answers(trait int) []answer {
	r := s.reckoner(trait, "")
	switch r.trait.Kind {
	case graph.StateKind:
		return stateAnswers(r, len(s.c.m.Knowledge.Taxa))
	case graph.MonthsKind:
		return nil
	}
	return numberAnswersOf(r)
}

func stateAnswers(r *reckoner, taxa int) []answer {
	out := make([]answer, len(r.trait.States))
	for i := range out {
		a := answer{onTaxon: make([]float64, taxa, taxa+1), outside: r.background[i]}
		a.reading = graph.Reading{Trait: r.trait.ID, States: []string{r.trait.States[i].ID}}
		for taxon := range a.onTaxon {
			a.onTaxon[taxon] = r.background[i]
			if r.read[taxon] != nil {
				a.onTaxon[taxon] = r.read[taxon][i]
			}
		}
		out[i] = a
	}
	return out
}

func numberAnswersOf(r *reckoner) []answer {
	var middles []float64
	for _, cs := range r.curves {
		for _, c := range cs {
			middles = append(middles, c.middle)
		}
	}
	if len(middles) == 0 {
		return nil
	}
	sort.Float64s(middles)
	cuts := []float64{math.Inf(-1)}
	for i := 1; i < numberAnswers; i++ {
		if x := middles[i*len(middles)/numberAnswers]; x > cuts[len(cuts)-1] {
			cuts = append(cuts, x)
		}
	}
	cuts = append(cuts, math.Inf(1))
	var out []answer
	for i := range len(cuts) - 1 {
		a := answer{onTaxon: make([]float64, len(r.curves), len(r.curves)+1)}
		scored := 0
		for taxon, cs := range r.curves {
			if len(cs) == 0 {
				continue
			}
			for _, c := range cs {
				a.onTaxon[taxon] += (c.below(cuts[i+1]) - c.below(cuts[i])) / float64(len(cs))
			}
			a.outside += a.onTaxon[taxon]
			scored++
		}
		a.outside /= float64(scored)
		for taxon, cs := range r.curves {
			if len(cs) == 0 {
				a.onTaxon[taxon] = a.outside
			}
		}
		x := math.Exp(middleOf(cuts[i], cuts[i+1], middles))
		a.reading = graph.Reading{Trait: r.trait.ID, Low: x, High: x}
		out = append(out, a)
	}
	return out
}

// middleOf is a value between two cuts, at the ends of the line the outermost
// middle.
func middleOf(low, high float64, middles []float64) float64 {
	if math.IsInf(low, -1) {
		low = middles[0]
	}
	if math.IsInf(high, 1) {
		high = middles[len(middles)-1]
	}
	return (low + high) / 2
}

// entropy is that of parts of 1, in bits.
func entropy(parts []float64) float64 {
	h := 0.0
	for _, p := range parts {
		if p > 0 {
			h -= p * math.Log2(p)
		}
	}
	return h
}

// Gain is what an answer lowers the entropy of a ranking by, in bits, on average:
// the ranking's entropy less that after each answer, weighted by how likely the
// answer is (Quinlan 1986). The last of prior, and of each answer's chances, can
// be the plant outside.
func Gain(prior []float64, chances [][]float64) float64 {
	gain := entropy(prior)
	for _, chance := range chances {
		total := 0.0
		after := make([]float64, len(prior))
		for i, p := range prior {
			after[i] = p * chance[i]
			total += after[i]
		}
		if total == 0 {
			continue
		}
		for i := range after {
			after[i] /= total
		}
		gain -= total * entropy(after)
	}
	return max(gain, 0)
}

// looks ranks the traits that are not read yet and can be seen at the stage: by
// what they take off the chance that a poison is still open, then by bits, both
// for the effort. danger gives for each taxon how many evidence groups are still
// needed to be rid of it, 0 for those that are no danger or gone. believed are
// the weights to expect answers by.
func (s *scale) looks(believed Weights, danger []int) []Look {
	v := s.c.m.Knowledge.Vocabulary
	prior := append(slices.Clone(believed.Taxa), believed.Outside)
	read := map[int]bool{}
	taken := make([]map[string]bool, len(danger))
	for taxon := range danger {
		taken[taxon] = map[string]bool{}
		for _, g := range s.c.groups(taxon) {
			taken[taxon][g] = true
		}
	}
	for _, t := range s.c.traits {
		read[t] = true
	}
	type ranked struct {
		Look
		cost float64
	}
	var all []ranked
	for i, t := range v.Traits {
		if read[i] || !s.c.visible(t) || t.Kind == graph.MonthsKind {
			continue
		}
		l := s.look(i, t, prior, danger, taken)
		if l.Bits > 0.001 || l.Relief > 0 { // less is no gain but rounding
			all = append(all, ranked{l, v.EffortCost(t.Effort)})
		}
	}
	slices.SortStableFunc(all, func(a, b ranked) int {
		x, y := a.Relief/a.cost, b.Relief/b.cost
		if math.Abs(x-y) > 1e-6 { // relief decides unless it is the same
			return compareFalling(x, y)
		}
		return compareFalling(a.Bits/a.cost, b.Bits/b.cost)
	})
	out := make([]Look, len(all))
	for i := range all {
		out[i] = all[i].Look
	}
	return out
}

func compareFalling(x, y float64) int {
	switch {
	case x > y:
		return -1
	case x < y:
		return 1
	}
	return 0
}

func (s *scale) look(trait int, t *graph.Trait, prior []float64, danger []int, taken []map[string]bool) Look {
	l := Look{Trait: t}
	answers := s.answers(trait)
	chances := make([][]float64, len(answers))
	out := make([]bool, len(danger))
	dangers := s.dangers(trait, t, danger, taken)
	for i, a := range answers {
		chances[i] = append(a.onTaxon, a.outside)
		likely := 0.0
		for j, p := range prior {
			likely += p * chances[i][j]
		}
		excluded := excluder(t, &a.reading)
		for _, d := range dangers {
			if excluded(d.possible) {
				out[d.taxon] = out[d.taxon] || likely > 0
				// What is left of the danger is shared between the groups needed.
				l.Relief += likely * (prior[d.taxon] + smallestDanger) / float64(danger[d.taxon])
			}
		}
	}
	l.Bits = Gain(prior, chances)
	for taxon, gone := range out {
		if gone {
			l.RulesOut = append(l.RulesOut, s.c.m.Knowledge.Taxa[taxon].ID)
		}
	}
	return l
}

// menace is a plant that a look at a trait may rule out, and what it can show of it.
type menace struct {
	taxon    int
	possible Possible
}

// dangers lists the plants that a look at a trait may still speak against: those
// that are a danger and that its evidence group does not exclude already.
func (s *scale) dangers(trait int, t *graph.Trait, danger []int, taken []map[string]bool) []menace {
	var out []menace
	for taxon, needed := range danger {
		if needed > 0 && !taken[taxon][t.EvidenceGroup()] {
			out = append(out, menace{taxon, possibleAt(s.c.m, taxon, trait, s.c.stages, "")})
		}
	}
	return out
}

// smallestDanger is what a poison that is still open counts for however small its
// weight: exclusion decides, not likelihood. From memory.
const smallestDanger = 0.02
