package render

import (
	"fmt"

	"telltale/graph"
	"telltale/rules/reason"
)

// shownLooks is how many looks text shows, and shownRuledOut how many plants for
// each: what fits a screen (common practice, no source).
const (
	shownLooks    = 4
	shownRuledOut = 4
	shownStates   = 6
)

// looks writes what to look at next, as questions.
func (p *Page) looks(k *graph.Knowledge, all []reason.Look, heading, effect string) {
	if len(all) == 0 {
		return
	}
	p.heading(heading)
	for i, l := range all[:min(len(all), shownLooks)] {
		p.item(fmt.Sprintf(" %d", i+1), 4, l.Trait.Question)
		if len(l.RulesOut) > 0 {
			p.item("", 4, effect+" "+some(commonNames(k, l.RulesOut), shownRuledOut)+".")
		}
		if needs := effortWords(k.Vocabulary, l.Trait.Effort); needs != "" {
			p.item("", 4, needs)
		}
		if l.Trait.Caution != "" {
			p.item("", 4, p.coloured(yellow, "Mind:")+" "+l.Trait.Caution)
		}
		p.item("", 4, p.coloured(faint, l.Trait.ID+" = "+statesOf(l.Trait, shownStates)))
	}
}

// effortWords says what a look takes, if more than the bare eye.
func effortWords(v *graph.Vocabulary, effort string) string {
	for _, e := range v.Efforts {
		if e.Name == effort && e.Cost > 1 {
			return "How: " + e.Means + "."
		}
	}
	return ""
}
