package rules

import (
	"slices"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"telltale/graph"
)

// Facts is what rules are told: the sure readings, the circumstances, what the
// gatherer hopes for and which plants are ruled out. They may be put to rules by
// several goroutines at once.
type Facts struct {
	known    map[string]ref.Val   // what has one value
	states   map[string][]ref.Val // what has one of several states
	spans    map[string][]span    // what lies in one of several spans
	hoped    string
	ruledOut map[string]bool
}

// NewFacts takes from an observation what is sure. Of a trait read in several
// ways, as one of several states or as a span, every value may be the true one.
// Hoped is the taxon hoped for, "" if that is not told; ruledOut the taxa that
// sure readings rule out.
func NewFacts(v *graph.Vocabulary, o *graph.Observation, hoped string, ruledOut map[string]bool) *Facts {
	f := &Facts{
		known: map[string]ref.Val{}, states: map[string][]ref.Val{}, spans: map[string][]span{},
		hoped: hoped, ruledOut: ruledOut,
	}
	if o.Stage != graph.AnyStage {
		f.known[stageName] = types.String(o.Stage.String())
	}
	if o.Part != "" {
		f.known[partName] = types.String(o.Part)
	}
	if o.Month != 0 {
		f.known[monthName] = types.Int(o.Month)
	}
	for i := range o.Readings {
		if r := &o.Readings[i]; !r.Unsure {
			f.add(v, r)
		}
	}
	f.single(v)
	return f
}

func (f *Facts) add(v *graph.Vocabulary, r *graph.Reading) {
	t, ok := v.Trait(r.Trait)
	if !ok {
		return
	}
	if t.Kind != graph.StateKind {
		f.spans[t.ID] = append(f.spans[t.ID], span{min(r.Low, r.High), max(r.Low, r.High)})
		return
	}
	for _, s := range r.States {
		if x := types.String(s); !slices.Contains(f.states[t.ID], ref.Val(x)) {
			f.states[t.ID] = append(f.states[t.ID], x)
		}
	}
}

// single finds the traits that only one value can be true of.
func (f *Facts) single(v *graph.Vocabulary) {
	for trait, states := range f.states {
		if len(states) == 1 {
			f.known[trait] = states[0]
			delete(f.states, trait)
		}
	}
	for trait, spans := range f.spans {
		first := spans[0]
		if first.low == first.high && !slices.ContainsFunc(spans, func(s span) bool { return s != first }) {
			t, _ := v.Trait(trait)
			f.known[trait] = traitVariable(t).valued(first.low)
			delete(f.spans, trait)
		}
	}
}

// several tells whether more than one value of the variable may be true.
func (f *Facts) several(v *variable) bool {
	return len(f.states[v.name]) > 0 || len(f.spans[v.name]) > 0
}

// value gives the one value of a variable, nil where it is unknown or several may
// be true. To a rule that bears on gathering a plant that is not ruled out yet is
// neither open nor closed; any other rule takes things as they stand.
func (f *Facts) value(v *variable, bearsOnGathering bool) ref.Val {
	switch {
	case v.kind != answer:
		return f.known[v.name]
	case v.asks == hopedFor && f.hoped == "":
		return nil
	case v.asks == hopedFor:
		return types.Bool(f.hoped == v.taxon)
	case f.ruledOut[v.taxon]:
		return types.True
	case bearsOnGathering:
		return nil
	}
	return types.False
}

// ends lists the numbers that what was read of a variable begins and ends with.
func (f *Facts) ends(v *variable) []float64 {
	if x := f.known[v.name]; x != nil {
		return []float64{number(x)}
	}
	var out []float64
	for _, s := range f.spans[v.name] {
		out = append(out, s.low, s.high)
	}
	return out
}
