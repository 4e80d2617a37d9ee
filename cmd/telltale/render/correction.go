package render

import (
	"slices"

	"telltale/graph"
)

// fact names something that own data can have changed.
type fact struct{ kind, id string }

// changed lists what own data changed or added of the things named.
func changed(k *graph.Knowledge, of ...fact) []*graph.Correction {
	var out []*graph.Correction
	for i := range k.Corrections {
		if c := &k.Corrections[i]; slices.Contains(of, fact{c.Kind, c.Of}) {
			out = append(out, c)
		}
	}
	return out
}

// changedWords says what own data changed or added, each in a paragraph.
func changedWords(k *graph.Knowledge, of ...fact) []Words {
	var out []Words
	for _, c := range changed(k, of...) {
		lead := "Changed by your own data"
		if c.Adds() {
			lead = "From your own data"
		}
		out = append(out, W("").marked(Strong, lead).and(": "+c.String()))
	}
	return out
}

// ofTaxon are a plant and its study.
func ofTaxon(id string) []fact { return []fact{{"taxon", id}, {"study", id}} }

// ofStudy are a herb, its study, and the rules about it.
func ofStudy(id string, rules []*graph.Rule) []fact {
	out := ofTaxon(id)
	for _, r := range rules {
		out = append(out, fact{"rule", r.ID})
	}
	return out
}
