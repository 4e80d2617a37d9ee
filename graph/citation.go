package graph

import (
	"cmp"
	"slices"
	"strings"
)

// Citation is one place in the knowledge that rests on a source.
type Citation struct {
	Kind  string // plant, statement, exhaustive, toxicity, use, lookalike, study, gather, check, too close, rule, trait or effort
	Of    string // the id of the plant, rule, trait or effort
	What  string // what is said there, in the words of the files: "leaf.margin serrate"
	Alone bool   // no other source stands behind it
}

// CitationsOf lists what rests on a source, plants first, in the order of the ids.
func (k *Knowledge) CitationsOf(source string) []Citation {
	var out []Citation
	k.cite(func(c Citation, sources []string) {
		if slices.Contains(sources, source) {
			c.Alone = len(sources) == 1
			out = append(out, c)
		}
	})
	return out
}

// CitationCounts tells for each source how often it is cited.
func (k *Knowledge) CitationCounts() map[string]int {
	out := map[string]int{}
	k.cite(func(_ Citation, sources []string) {
		for _, s := range sources {
			out[s]++
		}
	})
	return out
}

// cite goes through every place that names sources.
func (k *Knowledge) cite(at func(c Citation, sources []string)) {
	for _, t := range k.Taxa {
		k.citeTaxon(t, at)
	}
	for _, s := range k.Studies {
		at(Citation{Kind: "study", Of: s.Taxon, What: "the whole study"}, s.Sources)
		for _, c := range s.TooClose {
			at(Citation{Kind: "too close", Of: s.Taxon, What: strings.TrimSpace(c.Taxon + " " + strings.Join(c.Stages.Names(), ", "))}, c.Sources)
		}
		for _, g := range s.Gather {
			at(Citation{Kind: "gather", Of: s.Taxon, What: strings.Join(g.Parts, ", ")}, g.Sources)
			for _, c := range g.Checks {
				at(Citation{Kind: "check", Of: s.Taxon, What: strings.TrimSpace(c.Trait + " " + strings.Join(c.States, "|"))}, c.Sources)
			}
		}
	}
	for _, r := range k.AllRules() {
		at(Citation{Kind: "rule", Of: r.ID, What: r.When}, r.Sources)
	}
	for _, t := range k.Vocabulary.Traits {
		at(Citation{Kind: "trait", Of: t.ID, What: "how often it is misread"}, oneSource(t.ErrorFrom))
	}
	for _, e := range k.Vocabulary.Efforts {
		at(Citation{Kind: "effort", Of: e.Name, What: "what the look costs"}, oneSource(e.From))
	}
}

func (k *Knowledge) citeTaxon(t *Taxon, at func(c Citation, sources []string)) {
	at(Citation{Kind: "plant", Of: t.ID, What: "names, family and range"}, t.Sources)
	order := make([]*Statement, len(t.Statements))
	for i := range t.Statements {
		order[i] = &t.Statements[i]
	}
	slices.SortStableFunc(order, func(a, b *Statement) int {
		return cmp.Compare(k.Vocabulary.TraitIndex(a.Trait), k.Vocabulary.TraitIndex(b.Trait))
	})
	for _, s := range order {
		at(Citation{Kind: "statement", Of: t.ID, What: s.Trait + " " + s.Frequency.String() + " " + s.Value()}, s.Sources)
	}
	for _, o := range t.Overrules {
		at(Citation{Kind: "exhaustive", Of: t.ID, What: o.Trait}, o.Sources)
	}
	for _, x := range t.Toxicity {
		at(Citation{Kind: "toxicity", Of: t.ID, What: strings.Join(x.Parts, ", ")}, x.Sources)
	}
	for _, u := range t.Uses {
		at(Citation{Kind: "use", Of: t.ID, What: u.Category + ": " + u.Use}, u.Sources)
	}
	for _, l := range t.Lookalikes {
		at(Citation{Kind: "lookalike", Of: t.ID, What: strings.TrimSpace(l.Taxon + " " + strings.Join(l.Stages.Names(), ", "))}, l.Sources)
	}
}

func oneSource(source string) []string {
	if source == "" {
		return nil
	}
	return []string{source}
}
