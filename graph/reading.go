package graph

import "strings"

// Reading is one trait as somebody saw it on a plant: one of some states, or a
// number. That a thing was looked for and not there is a reading too: Not holds
// the states that it was not, and States all others.
type Reading struct {
	Trait    string
	Position string   // where on the plant it was read, "" for anywhere
	States   []string // one of these, in the order of the vocabulary
	Not      []string // what was looked for and not there
	Low      float64  // of a measure in the trait's unit, a count, or a month
	High     float64  // the same as Low unless a span was seen
	Unsure   bool
}

// Observation is what was read on one plant. AnyStage, month 0 and an empty part
// mean not told.
type Observation struct {
	Stage    Stage
	Month    int
	Part     string
	Readings []Reading
}

// Without gives the observation less the reading at i.
func (o Observation) Without(i int) Observation {
	out := o
	out.Readings = append(append([]Reading(nil), o.Readings[:i]...), o.Readings[i+1:]...)
	return out
}

// Reads tells whether the trait has a sure reading.
func (o *Observation) Reads(trait string) bool {
	for i := range o.Readings {
		if o.Readings[i].Trait == trait && !o.Readings[i].Unsure {
			return true
		}
	}
	return false
}

// Value writes what was read for people, without the trait: "serrate|dentate",
// "not stinging", "8.1 cm (on the upper part)?".
func (r *Reading) Value(v *Vocabulary) string {
	out := ""
	switch t, ok := v.Trait(r.Trait); {
	case len(r.Not) > 0:
		out = "not " + strings.Join(r.Not, "|")
	case len(r.States) > 0:
		out = strings.Join(r.States, "|")
	default:
		out = number(r.Low)
		if r.High != r.Low {
			out += "-" + number(r.High)
		}
		if ok && t.Unit != "" {
			out += " " + t.Unit
		}
	}
	if r.Position != "" {
		out += " (on the " + r.Position + " part)"
	}
	if r.Unsure {
		out += "?"
	}
	return out
}

// Notation writes the reading as the command line takes it.
func (r *Reading) Notation(v *Vocabulary) string {
	out := r.Trait
	if r.Position != "" {
		out += "@" + r.Position
	}
	plain := Reading{Trait: r.Trait, States: r.States, Low: r.Low, High: r.High}
	if len(r.Not) > 0 {
		out += "!=" + strings.Join(r.Not, "|")
	} else {
		out += "=" + plain.Value(v)
	}
	if r.Unsure {
		out += "?"
	}
	return out
}
