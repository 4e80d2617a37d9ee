package render

import (
	"slices"

	"telltale/graph"
)

// fact names something that own data can have changed.
type fact struct{ kind, id string }

// changed lists what own data changed of the things named.
func changed(k *graph.Knowledge, of ...fact) []string {
	var out []string
	for _, c := range k.Corrections {
		if slices.Contains(of, fact{c.Kind, c.Of}) {
			out = append(out, c.String())
		}
	}
	return out
}

// changedWords says what own data changed, each in a paragraph.
func changedWords(k *graph.Knowledge, of ...fact) []Words {
	var out []Words
	for _, c := range changed(k, of...) {
		out = append(out, W("").marked(Strong, "Changed by your own data").and(": "+c))
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
