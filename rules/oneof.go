package rules

import (
	"slices"

	"github.com/google/cel-go/common/types/ref"

	"telltale/graph"
)

// open is a variable of which several values may be true and have to be tried.
type open struct {
	at       int // its place among the looks
	possible []ref.Val
	matters  bool // the rule does not come to the same for all of them
}

// several finds the variables of which more than one value may be true. Those that
// the rule comes to once are settled there and then.
func (s *situation) several(f *Facts) []open {
	var out []open
	ways := 1
	for i, l := range s.rule.looks {
		if s.values[i] != nil || l.kind == answer || !f.several(l.variable) {
			continue
		}
		if l.once() {
			s.settle(l, f)
			continue
		}
		o := open{at: i, possible: l.possible(f, s.rule.looks)}
		// A rule is bounded for one reading of each trait. Whoever gives so many of
		// each that this is not enough has told nothing that it could go by.
		if ways *= len(o.possible); ways > maxWays {
			return nil
		}
		out = append(out, o)
	}
	return out
}

// settle gives a variable, and the one it is compared with, a value that stands
// for all that may be true if these come to the same. Otherwise it stays unknown.
func (s *situation) settle(l *look, f *Facts) {
	c := &l.comparisons[0]
	mine, others := l.possible(f, s.rule.looks), c.values
	if c.with == nil {
		if same(mine, func(x ref.Val) bool { return holds(x, c.sign, others) }) {
			s.values[l.at] = mine[0]
		}
		return
	}
	if others = s.standing(c.with, f); len(others) == 0 {
		return
	}
	if same(mine, func(x ref.Val) bool { return holds(x, c.sign, others[:1]) }) &&
		!slices.ContainsFunc(mine, func(x ref.Val) bool {
			return !same(others, func(y ref.Val) bool { return holds(x, c.sign, []ref.Val{y}) })
		}) {
		s.values[l.at], s.values[c.with.at] = mine[0], others[0]
	}
}

// standing lists the values that a variable can have, none if nothing is known.
func (s *situation) standing(l *look, f *Facts) []ref.Val {
	if x := s.values[l.at]; x != nil {
		return []ref.Val{x}
	}
	if !f.several(l.variable) {
		return nil
	}
	return l.possible(f, s.rule.looks)
}

// same tells whether something comes to the same for all values.
func same(values []ref.Val, is func(ref.Val) bool) bool {
	for _, x := range values[1:] {
		if is(x) != is(values[0]) {
			return false
		}
	}
	return true
}

// each goes through all ways in which the open variables can stand, the values of
// the first changing fastest.
func (s *situation) each(all []open, do func() error) error {
	if len(all) == 0 {
		return do()
	}
	last := all[len(all)-1]
	for _, x := range last.possible {
		s.values[last.at] = x
		if err := s.each(all[:len(all)-1], do); err != nil {
			return err
		}
	}
	return nil
}

// waiting tells what a rule waits for where the ways in which things may stand do
// not come to the same: what is not known in any of them, and the open variables
// that make a difference.
func (s *situation) waiting(all []open) (Result, error) {
	var came []string
	err := s.each(all, func() error {
		res, err := s.result()
		came = append(came, res.Outcome+res.Residual)
		return err
	})
	if err != nil {
		return Result{}, err
	}
	findWhatMatters(all, came)
	for _, o := range all {
		s.values[o.at] = o.possible[0]
		if o.matters {
			s.values[o.at] = nil
		}
	}
	res, err := s.result()
	res.Outcome = graph.Waits
	return res, err
}

// findWhatMatters marks the variables that make a difference: some two ways that
// differ in nothing else do not come to the same.
func findWhatMatters(all []open, came []string) {
	step := 1
	for k := range all {
		n := len(all[k].possible)
		for i := range came {
			if first := i - (i/step%n)*step; came[i] != came[first] {
				all[k].matters = true
				break
			}
		}
		step *= n
	}
}
