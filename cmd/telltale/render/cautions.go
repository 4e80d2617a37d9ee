package render

import (
	"telltale/graph"
	"telltale/rules/reason"
)

const (
	confirm = "Have somebody who knows the plant confirm it before anybody eats it. Never taste to find out."
	law     = "Gather only where the law allows it, and leave enough standing."

	// whomToCall gives numbers that agencies publish: 112 is the European
	// emergency number (Directive (EU) 2018/1972, article 109); 1-800-222-1222 is
	// Poison Help in the United States (Health Resources and Services
	// Administration).
	whomToCall = "Eaten a wrong plant? Do not wait for signs. Call a poison centre at once, or 112 in Europe, 1-800-222-1222 in the USA. Keep what is left of the plant."
)

// WeighCautions are what an answer ends with.
func WeighCautions(*graph.Knowledge) []string { return []string{confirm, whomToCall} }

// VerdictCautions are what a verdict ends with: with a gather what the study says
// comes first.
func VerdictCautions(v *reason.Verdict) []string {
	out := []string{}
	if v.Verdict == reason.Gather {
		out = append(out, v.Say...)
	}
	return append(out, verdictCautions(v)...)
}

func verdictCautions(v *reason.Verdict) []string {
	var out []string
	if harm := v.Taxon.ContactHarm(); harm != nil {
		out = append(out, sentence("On the skin: "+harm.Effect))
	}
	return append(out, confirm, law, whomToCall)
}

// cautions writes what to mind, last of all.
func (p *Page) cautions(all []string) {
	p.blank()
	for _, c := range all {
		p.item(p.coloured(yellow, "!"), 2, c)
	}
}
