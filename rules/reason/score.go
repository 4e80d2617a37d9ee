package reason

import (
	"slices"

	"telltale/graph"
)

// Score tells how the reasoner fares on plants whose names are known.
type Score struct {
	Known      int // described plants that the graph has
	First      int // the true plant came first
	AmongThree int // or second or third
	TrueOut    int // the true plant was ruled out
	Strangers  int // described plants that the graph does not have
	CalledSo   int // strangers that were called so, or left with nothing open
	Cleared    int // herbs that were cleared though the plant was another
	Gathered   int // true herbs that were cleared
	Misses     []Miss
	Kinds      map[string]*Score
}

// Miss is one description that went wrong, and how.
type Miss struct {
	ID, Truth, What string
}

// Described is an observation whose plant is known.
type Described struct {
	ID, Truth, Kind string
	Observation     graph.Observation
}

// Score puts descriptions to the reasoner, and asks of each herb that is worked
// up whether it might be gathered from them.
func (r *Reasoner) Score(list []Described) (*Score, error) {
	total := &Score{Kinds: map[string]*Score{}}
	for _, d := range list {
		if total.Kinds[d.Kind] == nil {
			total.Kinds[d.Kind] = &Score{}
		}
		answer, err := r.Weigh(d.Observation)
		if err != nil {
			return nil, err
		}
		for _, s := range []*Score{total, total.Kinds[d.Kind]} {
			s.take(r, d, answer)
		}
		if err := r.scoreVerdicts(total, d); err != nil {
			return nil, err
		}
	}
	return total, nil
}

func (s *Score) miss(d Described, what string) {
	s.Misses = append(s.Misses, Miss{ID: d.ID, Truth: d.Truth, What: what})
}

func (s *Score) take(r *Reasoner, d Described, a *Answer) {
	if r.Matrix.TaxonIndex(d.Truth) < 0 {
		s.Strangers++
		if a.Known() {
			s.miss(d, "a stranger was taken for "+a.Candidates[0].Taxon.ID)
		} else {
			s.CalledSo++
		}
		return
	}
	s.Known++
	place := slices.IndexFunc(a.Candidates, func(c Candidate) bool { return c.Taxon.ID == d.Truth })
	if place == 0 {
		s.First++
	} else {
		s.miss(d, "came behind "+a.Candidates[0].Taxon.ID)
	}
	if place < 3 {
		s.AmongThree++
	}
	if c := a.Candidates[place]; c.Standing == RuledOut {
		s.TrueOut++
		s.miss(d, "was ruled out by "+c.Excludes[0].Trait.ID)
	}
}

// scoreVerdicts asks of every herb with a study, each part and the stage told,
// whether it may be gathered. The readings are put on the scale once for all.
func (r *Reasoner) scoreVerdicts(s *Score, d Described) error {
	on := newScale(newCase(r.Matrix, d.Observation))
	for _, study := range r.Matrix.Knowledge.Studies {
		t, ok := r.Matrix.Knowledge.Taxon(study.Taxon)
		if !ok {
			continue
		}
		for _, part := range partsOf(study.Gather) {
			j, err := r.judge(t, on.hopedFor(part))
			if err != nil {
				return err
			}
			switch {
			case j.v.Verdict != Gather:
			case t.ID == d.Truth:
				s.Gathered++
			default:
				s.Cleared++
				s.miss(d, "was cleared as "+t.ID)
			}
		}
	}
	return nil
}

// hopedFor is the same scale with another part hoped for, which changes no
// weight.
func (s *scale) hopedFor(part string) *scale {
	c, out := *s.c, *s
	c.obs.Part = part
	out.c = &c
	return &out
}
