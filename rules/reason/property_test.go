package reason

import (
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
)

// heldAgainst tells of each reading whether it speaks against the herb: it
// excludes it, or is likelier on a plant outside this graph (DESIGN section 3,
// Monotony).
func heldAgainst(t *rapid.T, w *world, obs graph.Observation) []bool {
	herb := w.weigh(t, obs).of(t, w.herb.ID)
	out := make([]bool, len(obs.Readings))
	for _, e := range append(herb.Against, herb.Excludes...) {
		for i := range obs.Readings {
			out[i] = out[i] || obs.Readings[i].Notation(w.k.Vocabulary) == e.Reading.Notation(w.k.Vocabulary)
		}
	}
	return out
}

// DESIGN section 3, Monotony: taking a reading away, or making it unsure, never
// turns leave or not-yet into gather, unless that reading spoke against the herb.
func TestKnowingLessNeverAllowsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		before := w.mayGather(t, w.obs)
		if before.Verdict == Gather {
			return
		}
		against := heldAgainst(t, w, w.obs)
		for i := range w.obs.Readings {
			if against[i] {
				continue
			}
			if after := w.mayGather(t, w.obs.Without(i)); after.Verdict == Gather {
				t.Fatalf("%s, and gather without the reading of %s\n%s\n%s", before.Verdict, w.obs.Readings[i].Trait, reasons(before), w)
			}
			if after := w.mayGather(t, unsureOf(w.obs, i)); after.Verdict == Gather {
				t.Fatalf("%s, and gather with an unsure reading of %s\n%s\n%s", before.Verdict, w.obs.Readings[i].Trait, reasons(before), w)
			}
		}
	})
}

// The same from the other side: one reading more, of a trait that was not read,
// takes a gather back only if it speaks against the herb. Every reading of one
// state is tried, sure and unsure.
func TestKnowingMoreForbidsOnlyWhatItSpeaksAgainst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		if w.mayGather(t, w.obs).Verdict != Gather {
			return
		}
		for _, trait := range w.k.Vocabulary.Traits {
			for s := range trait.States {
				for _, unsure := range []bool{false, true} {
					r := graph.Reading{Trait: trait.ID, States: []string{trait.States[s].ID}, Unsure: unsure}
					if w.obs.Reads(trait.ID) {
						continue
					}
					more := w.obs
					more.Readings = append(w.obs.Readings[:len(w.obs.Readings):len(w.obs.Readings)], r)
					v := w.mayGather(t, more)
					if v.Verdict != Gather && !heldAgainst(t, w, more)[len(more.Readings)-1] {
						t.Fatalf("gather, and with %s %s\n%s\n%s", r.Notation(w.k.Vocabulary), v.Verdict, reasons(v), w)
					}
				}
			}
		}
	})
}

// unsureOf gives the observation with one reading made unsure.
func unsureOf(o graph.Observation, i int) graph.Observation {
	out := o
	out.Readings = append([]graph.Reading(nil), o.Readings...)
	out.Readings[i].Unsure = true
	return out
}

// Taking away several readings at once allows no more than taking away one.
func TestKnowingMuchLessNeverAllowsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		if w.mayGather(t, w.obs).Verdict == Gather {
			return
		}
		against := heldAgainst(t, w, w.obs)
		less := w.obs
		less.Readings = nil
		for i, r := range w.obs.Readings {
			if against[i] || often(t, 70, "kept") {
				less.Readings = append(less.Readings, r)
			}
		}
		if w.mayGather(t, less).Verdict == Gather {
			t.Fatalf("gather with %d of %d readings\n%s", len(less.Readings), len(w.obs.Readings), w)
		}
	})
}

// byDesign gives the verdict that DESIGN section 3 words, from what other steps
// are tested to give: standing, lookalikes, rules and weights.
func byDesign(t *rapid.T, w *world, v *Verdict) string {
	answer := w.weigh(t, w.obs)
	herb := answer.of(t, w.herb.ID)
	study, studied := w.k.Study(w.herb.ID)
	leave, notYet := len(herb.Excludes) > 0, !studied || w.obs.Stage == graph.AnyStage || herb.Weight < answer.Outside
	for _, e := range herb.Against {
		notYet = notYet || e.Reading.Unsure
	}
	if studied && w.obs.Stage != graph.AnyStage {
		entries := study.For(w.obs.Part, w.obs.Stage)
		leave = leave || len(entries) == 0
		for _, g := range entries {
			for _, c := range g.Checks {
				notYet = notYet || !passed(w, c)
			}
		}
	}
	if w.obs.Stage != graph.AnyStage {
		lookalike := Lookalikes(w.r.Matrix, w.r.Matrix.TaxonIndex(w.herb.ID), w.obs.Stage)
		for i, other := range w.k.Taxa {
			if other != w.herb {
				notYet = notYet || len(groupsOf(answer.of(t, other.ID).Excludes)) < takes(other.Poisonous(), lookalike[i])
			}
		}
	}
	for _, res := range v.Rules {
		leave = leave || res.Rule.Then == graph.Leave && res.Outcome == graph.Fires
		notYet = notYet || res.Rule.Then == graph.Leave && res.Outcome == graph.Waits || res.Rule.Then == graph.Must && res.Outcome != graph.Fires
	}
	switch {
	case leave:
		return Leave
	case notYet:
		return NotYet
	}
	return Gather
}

// takes is how many evidence groups have to exclude another plant: "every
// poisonous lookalike is excluded by two evidence groups, every other poisonous
// taxon of the graph and every harmless lookalike by one".
func takes(poisonous, lookalike bool) int {
	return map[[2]bool]int{{true, true}: 2, {true, false}: 1, {false, true}: 1, {false, false}: 0}[[2]bool{poisonous, lookalike}]
}

func groupsOf(list []Evidence) map[string]bool {
	out := map[string]bool{}
	for _, e := range list {
		out[e.Trait.EvidenceGroup()] = true
	}
	return out
}

// passed tells whether some sure reading fits a check: every state it leaves is
// named, or where none are given is stated of the herb there and then.
func passed(w *world, c graph.Check) bool {
	for _, r := range w.obs.Readings {
		if r.Trait != c.Trait || r.Unsure || c.Position != "" && c.Position != r.Position {
			continue
		}
		fits := len(r.States) > 0
		for _, s := range r.States {
			ok := false
			for _, n := range c.States {
				ok = ok || n == s
			}
			for _, st := range w.herb.Statements {
				ok = ok || len(c.States) == 0 && st.Trait == c.Trait && st.State == s && st.Frequency != graph.Never && st.At(w.obs.Stage) && (r.Position == "" || st.Position == "" || st.Position == r.Position)
			}
			fits = fits && ok
		}
		if fits {
			return true
		}
	}
	return false
}

// The verdict is the one that the design words, clause for clause.
func TestTheVerdictIsTheOneDesigned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		v := w.mayGather(t, w.obs)
		if want := byDesign(t, w, v); v.Verdict != want {
			t.Fatalf("%s, and by the design %s\n%s\n%s", v.Verdict, want, reasons(v), w)
		}
	})
}

// A poison that is still open, or a poisonous lookalike that one kind of evidence
// alone excludes, is never gathered past.
func TestAnOpenPoisonIsNeverGatheredPast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		if w.obs.Stage == graph.AnyStage || w.mayGather(t, w.obs).Verdict != Gather {
			return
		}
		answer := w.weigh(t, w.obs)
		lookalike := Lookalikes(w.r.Matrix, w.r.Matrix.TaxonIndex(w.herb.ID), w.obs.Stage)
		for i, other := range w.k.Taxa {
			c := answer.of(t, other.ID)
			if other == w.herb || !other.Poisonous() {
				continue
			}
			if c.Standing == Open || lookalike[i] && c.Standing != RuledOut {
				t.Fatalf("gather, and %s is %s\n%s", other.ID, c.Standing, w)
			}
		}
	})
}

// However little a poison weighs, it is out only by exclusion: turning every
// reading that excludes it into an unsure one puts it back in the way.
func TestAPoisonOutOfMindIsNotOutOfTheWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		if w.mayGather(t, w.obs).Verdict != Gather {
			return
		}
		for _, other := range w.k.Taxa {
			if other == w.herb || !other.Poisonous() {
				continue
			}
			less := w.obs
			for _, e := range w.weigh(t, w.obs).of(t, other.ID).Excludes {
				for i := range less.Readings {
					if less.Readings[i].Trait == e.Trait.ID {
						less = unsureOf(less, i)
					}
				}
			}
			if v := w.mayGather(t, less); v.Verdict == Gather {
				t.Fatalf("gather, though nothing sure excludes %s\n%s", other.ID, w)
			}
		}
	})
}

// Nobody gathers a herb that nobody has worked up.
func TestWithoutAStudyNothingIsGathered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		k := *w.k
		k.Studies = nil
		k.Index()
		r, err := New(&k)
		if err != nil {
			t.Fatal(err)
		}
		for _, taxon := range k.Taxa {
			v, err := r.MayGather(taxon, w.obs)
			if err != nil {
				t.Fatal(err)
			}
			if v.Verdict == Gather {
				t.Fatalf("%s\n%s", taxon.ID, w)
			}
		}
	})
}

// Nobody gathers at a stage that was not told, whatever it can be guessed from.
func TestWithoutAStageNothingIsGathered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		w.obs.Stage = graph.AnyStage
		if v := w.mayGather(t, w.obs); v.Verdict == Gather {
			t.Fatalf("%s", w)
		}
	})
}

// The properties above say something only if their worlds come to every verdict,
// with poisonous lookalikes among what was ruled out, and if readings that speak
// against the herb do stand in its way. Seeds are fixed, so shares are too.
func TestWorldsComeToEveryVerdict(t *testing.T) {
	const worldsAsked = 400
	count := map[string]int{}
	for seed := range worldsAsked {
		w := worlds.Example(seed)
		v, err := w.r.MayGather(w.herb, w.obs)
		if err != nil {
			t.Fatal(err)
		}
		count[v.Verdict]++
		if w.obs.Stage == graph.AnyStage {
			continue
		}
		if v.Verdict == Gather && poisonousLookalike(w) {
			count["gather past a poisonous lookalike"]++
		}
		for i := range w.obs.Readings {
			less, err := w.r.MayGather(w.herb, w.obs.Without(i))
			if err != nil {
				t.Fatal(err)
			}
			if v.Verdict == Gather && less.Verdict != Gather {
				count["a reading that was needed"]++
			}
			if v.Verdict != Gather && less.Verdict == Gather {
				count["a reading that stood in the way"]++
			}
		}
	}
	for what, least := range map[string]int{
		Gather: 60, NotYet: 80, Leave: 80, "gather past a poisonous lookalike": 30, "a reading that was needed": 80, "a reading that stood in the way": 8,
	} {
		if count[what] < least {
			t.Errorf("%s: %d in %d worlds, want %d at the least", what, count[what], worldsAsked, least)
		}
	}
	t.Log(count)
}

func poisonousLookalike(w *world) bool {
	for i, is := range Lookalikes(w.r.Matrix, w.r.Matrix.TaxonIndex(w.herb.ID), w.obs.Stage) {
		if is && w.k.Taxa[i].Poisonous() {
			return true
		}
	}
	return false
}
