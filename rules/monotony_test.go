package rules

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
)

// allows tells whether a rule that came out so stands in nobody's way: DESIGN
// section 3, Verdict.
func allows(then, outcome string) bool {
	if then == graph.Must {
		return outcome == graph.Fires
	}
	return outcome == graph.Quiet
}

// TestKnowingLessNeverAllowsMore takes a reading away, or makes it unsure, or
// leaves untold what was told: a leave rule that fires or waits never turns quiet
// by it, and a must rule that does not hold never comes to hold. Each trait is
// read at most once, and what rules plants out is read off the plant too.
func TestKnowingLessNeverAllowsMore(t *testing.T) {
	f := newField(t)
	rapid.Check(t, func(t *rapid.T) {
		then := pick(t, graph.Leave, graph.Must)
		x, r := drawRule(t, f.env, then, rapid.IntRange(0, 3).Draw(t, "depth"))
		more := drawSeen(t, f.k, 1)
		excluders := map[string]string{"carrot": pick(t, f.k.Vocabulary.TraitIDs()...), "hemlock": pick(t, f.k.Vocabulary.TraitIDs()...)}
		more.ruleOut(excluders)
		before := comesTo(t, r, more.facts(f.k))
		for what, less := range more.lesses() {
			less.ruleOut(excluders)
			after := comesTo(t, r, less.facts(f.k))
			if allows(then, after) && !allows(then, before) {
				t.Fatalf("the %s rule %s\n%s on %s\nand, %s, %s on %s", then, x.text, before, more.words(f.k), what, after, less.words(f.k))
			}
			if before != graph.Waits && after != graph.Waits && before != after {
				t.Fatalf("%s\n%s on %s\nand, %s, %s on %s", x.text, before, more.words(f.k), what, after, less.words(f.k))
			}
		}
	})
}

func comesTo(t *rapid.T, r *Rule, f *Facts) string {
	res, err := r.Try(f)
	if err != nil {
		t.Fatal(err)
	}
	return res.Outcome
}

// ruleOut rules out the plants that a sure reading of their trait excludes.
func (s *seen) ruleOut(excluders map[string]string) {
	s.ruledOut = map[string]bool{}
	for plant, trait := range excluders {
		if s.obs.Reads(trait) {
			s.ruledOut[plant] = true
		}
	}
}

// lesses gives what is known with one thing less, by what was done.
func (s *seen) lesses() map[string]*seen {
	out := map[string]*seen{}
	with := func(what string, change func(*seen)) {
		less := &seen{obs: s.obs, hoped: s.hoped}
		less.obs.Readings = slices.Clone(s.obs.Readings)
		change(less)
		out[what] = less
	}
	for i, r := range s.obs.Readings {
		with("without "+r.Trait, func(l *seen) { l.obs = l.obs.Without(i) })
		with("unsure of "+r.Trait, func(l *seen) { l.obs.Readings[i].Unsure = true })
		if len(r.States) > 1 || r.Low < r.High {
			continue
		}
		with("with "+r.Trait+" read less closely", func(l *seen) {
			l.obs.Readings[i].High++
			if len(r.States) > 0 {
				l.obs.Readings[i].States = drawnStates[r.Trait]
			}
		})
	}
	with("the stage untold", func(l *seen) { l.obs.Stage = graph.AnyStage })
	with("the month untold", func(l *seen) { l.obs.Month = 0 })
	with("the part untold", func(l *seen) { l.obs.Part = "" })
	with("the hope untold", func(l *seen) { l.hoped = "" })
	return out
}
