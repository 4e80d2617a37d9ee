package render

import (
	"telltale/graph"
	"telltale/rules/reason"
)

// Cautions are what every answer ends with.
func Cautions(*graph.Knowledge) []string {
	return []string{
		"Have somebody who knows the plant confirm it before anybody eats it. Never taste to find out.",
		"Follow local law on gathering, and leave enough standing.",
		whomToCall,
	}
}

// whomToCall gives numbers that agencies publish: 112 is the European emergency
// number (Directive (EU) 2018/1972, article 109); 1-800-222-1222 is Poison Help in
// the United States (Health Resources and Services Administration).
const whomToCall = "After a mistake do not wait for signs: call your poison centre or emergency number at once (112 in Europe, Poison Help 1-800-222-1222 in the USA), and keep the rest of the plant."

// VerdictCautions are what a verdict ends with: with a gather what the study says
// comes first.
func VerdictCautions(v *reason.Verdict) []string {
	out := []string{}
	if v.Verdict == reason.Gather {
		out = append(out, v.Say...)
	}
	if harm := v.Taxon.ContactHarm(); harm != nil {
		out = append(out, "On the skin: "+harm.Effect)
	}
	return append(out, Cautions(nil)...)
}
