package reason

import (
	"cmp"
	"slices"
	"sync"

	"telltale/graph"
	"telltale/graph/matrix"
	"telltale/rules"
)

// Reasoner answers questions about observations. It may be used by several
// goroutines at once.
type Reasoner struct {
	Matrix *matrix.Matrix
	Rules  *rules.Set

	lookalikes sync.Map // []bool by lookalikeKey
}

// New makes a reasoner of what is known: the rules are read, and the graph is
// compiled into columns.
func New(k *graph.Knowledge) (*Reasoner, error) {
	set, err := rules.NewSet(k)
	if err != nil {
		return nil, err
	}
	return &Reasoner{Matrix: matrix.Compile(k), Rules: set}, nil
}

// Answer is what an observation could be.
type Answer struct {
	Stage       graph.Stage // told, or the only one that shows all that was read
	StageTold   bool
	Candidates  []Candidate // in falling weight
	Outside     float64     // the weight of a plant outside this graph
	PoisonsOpen []string    // the poisonous taxa that are not ruled out, in falling weight
	Next        []Look
	Rules       []rules.Result
}

// Known tells whether the plant is likelier to be one of the graph than one
// outside it: some candidate is open and none weighs less than the stranger.
func (a *Answer) Known() bool {
	for _, c := range a.Candidates {
		if c.Standing == Open && c.Weight >= a.Outside {
			return true
		}
	}
	return false
}

// Candidate is a taxon that the plant could be.
type Candidate struct {
	Taxon    *graph.Taxon
	Weight   float64
	Standing Standing
	Supports []Evidence // readings likelier on it than on a plant outside, most telling first
	Against  []Evidence // readings less likely on it that do not exclude it
	Excludes []Evidence // sure readings that it cannot show
}

// Evidence is one reading put beside what is stated of a taxon.
type Evidence struct {
	Trait   *graph.Trait
	Reading *graph.Reading
	Stated  []*graph.Statement // at the stage; empty if nothing is
	Ratio   float64            // how much likelier on the taxon than on a plant outside this graph
}

// Weigh tells what the plant of an observation could be.
func (r *Reasoner) Weigh(obs graph.Observation) (*Answer, error) {
	c := newCase(r.Matrix, obs)
	s := newScale(c)
	w := s.weights()
	a := &Answer{Stage: c.Stage(), StageTold: obs.Stage != graph.AnyStage, Outside: w.Outside}
	danger := make([]int, len(w.Taxa))
	for i, t := range r.Matrix.Knowledge.Taxa {
		standing := c.standing(i)
		a.Candidates = append(a.Candidates, s.candidate(i, w.Taxa[i], standing))
		if t.Poisonous() && standing != RuledOut {
			danger[i] = groupsToRuleOut(true) - len(c.groups(i))
		}
	}
	slices.SortStableFunc(a.Candidates, func(x, y Candidate) int {
		if d := cmp.Compare(y.Weight, x.Weight); d != 0 {
			return d
		}
		return cmp.Compare(x.Taxon.ID, y.Taxon.ID)
	})
	for _, x := range a.Candidates {
		if x.Taxon.Poisonous() && x.Standing != RuledOut {
			a.PoisonsOpen = append(a.PoisonsOpen, x.Taxon.ID)
		}
	}
	a.Next = s.looks(w, danger)
	var err error
	a.Rules, err = r.try(c, r.rulesFor(a.Candidates), "")
	return a, err
}

// leastForRules is the weight from which the rules about a candidate are tried,
// while it is not ruled out. From memory.
const leastForRules = 0.01

// rulesFor picks the rules that bear on an answer: those about any plant, and those
// about the candidates that carry weight.
func (r *Reasoner) rulesFor(candidates []Candidate) []*rules.Rule {
	carries := map[string]bool{"": true}
	for i := range candidates {
		if c := &candidates[i]; c.Standing != RuledOut && c.Weight >= leastForRules {
			carries[c.Taxon.ID] = true
		}
	}
	var out []*rules.Rule
	for _, rule := range r.Rules.Rules {
		if carries[rule.For] {
			out = append(out, rule)
		}
	}
	return out
}

// try puts rules to the case.
func (r *Reasoner) try(c *Case, list []*rules.Rule, hoped string) ([]rules.Result, error) {
	ruledOut := map[string]bool{}
	for i, t := range r.Matrix.Knowledge.Taxa {
		if c.standing(i) == RuledOut {
			ruledOut[t.ID] = true
		}
	}
	facts := rules.NewFacts(r.Matrix.Knowledge.Vocabulary, &c.obs, hoped, ruledOut)
	var out []rules.Result
	for _, rule := range list {
		res, err := rule.Try(facts)
		if err != nil {
			return nil, err
		}
		out = append(out, res)
	}
	return out, nil
}

// candidate puts the readings beside what is stated of a taxon.
func (s *scale) candidate(taxon int, weight float64, standing Standing) Candidate {
	out := Candidate{Taxon: s.c.m.Knowledge.Taxa[taxon], Weight: weight, Standing: standing}
	for i := range s.c.obs.Readings {
		e := s.evidence(taxon, i)
		switch {
		case slices.Contains(s.c.excluded[taxon], i):
			out.Excludes = append(out.Excludes, e)
		case e.Ratio > 1:
			out.Supports = append(out.Supports, e)
		case e.Ratio < 1:
			out.Against = append(out.Against, e)
		}
	}
	byRatio := func(x, y Evidence) int { return cmp.Compare(y.Ratio, x.Ratio) }
	slices.SortStableFunc(out.Supports, byRatio)
	slices.SortStableFunc(out.Against, func(x, y Evidence) int { return byRatio(y, x) })
	slices.SortStableFunc(out.Excludes, func(x, y Evidence) int { return byRatio(y, x) })
	return out
}

func (s *scale) evidence(taxon, reading int) Evidence {
	r := &s.c.obs.Readings[reading]
	e := Evidence{Trait: s.c.m.Knowledge.Vocabulary.Traits[s.c.traits[reading]], Reading: r, Ratio: s.ratios[reading][taxon]}
	for _, st := range s.c.m.Statements(taxon, s.c.traits[reading]) {
		if applies(st, s.c.stages) && (r.Position == "" || st.Position == "" || st.Position == r.Position) {
			e.Stated = append(e.Stated, st)
		}
	}
	return e
}

func applies(s *graph.Statement, stages graph.StageSet) bool {
	return s.Stages == 0 || s.Stages&stages != 0
}
