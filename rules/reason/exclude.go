package reason

import (
	"telltale/graph"
)

// beyond is by how much a measure has to pass the stated extremes before it
// excludes: half as much again, above one and a half times the highest or below
// two thirds of the lowest (DESIGN section 3: people measure runts and giants).
const beyond = 1.5

// stateSet puts the names of states into bits.
func stateSet(t *graph.Trait, states []string) uint64 {
	var set uint64
	for _, s := range states {
		if i := t.StateIndex(s); i >= 0 {
			set |= 1 << i
		}
	}
	return set
}

// withNear adds to a set the states that its states are taken for.
func withNear(t *graph.Trait, set uint64) uint64 {
	out := set
	for i := range t.States {
		if set&(1<<i) != 0 {
			out |= stateSet(t, t.States[i].Near)
		}
	}
	return out
}

// excludes tells whether a reading makes a taxon impossible that can show p: it
// can show none of the states read, nor any that is taken for one of them.
func excludes(t *graph.Trait, r *graph.Reading, p Possible) bool { return excluder(t, r)(p) }

// excluder makes a reading ready to be put to many taxa: what it can have been
// taken for is found once.
func excluder(t *graph.Trait, r *graph.Reading) func(Possible) bool {
	if r.Unsure || !t.Excludes || t.Kind == graph.MonthsKind {
		return func(Possible) bool { return false }
	}
	if t.Kind == graph.StateKind {
		read := withNear(t, stateSet(t, r.States))
		return func(p Possible) bool { return !p.Anything && read&p.States == 0 }
	}
	return func(p Possible) bool {
		return !p.Anything && (r.High < p.Low/beyond-rounding || r.Low > p.High*beyond+rounding)
	}
}

// rounding is less than anybody can measure and more than arithmetic loses.
const rounding = 1e-9

// apart tells whether what one plant can show and what another can show have
// nothing in common, whatever is taken for what: no value is possible, or near to
// a possible one, for both.
func apart(t *graph.Trait, p, q Possible) bool {
	if p.Anything || q.Anything || !t.Excludes || t.Kind == graph.MonthsKind {
		return false
	}
	if t.Kind == graph.StateKind {
		return withNear(t, p.States)&withNear(t, q.States) == 0
	}
	return p.Low/beyond > q.High*beyond+rounding || q.Low/beyond > p.High*beyond+rounding
}
