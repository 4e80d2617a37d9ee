package graph

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Knowledge is everything known: what the files under data say, and what the
// graph holds.
type Knowledge struct {
	Vocabulary *Vocabulary `graph:"vocabulary"`
	Sources    []*Source   `graph:"knows_source,at=source"`
	Taxa       []*Taxon    `graph:"knows_taxon,at=taxon"`
	Studies    []*Study    `graph:"knows_study,at=study"`
	Rules      []*Rule     `graph:"knows_rule,at=rule"`
	// Corrections lists what somebody's own data changed, in the order of the files.
	Corrections []Correction `graph:"correction"`

	taxa    map[string]*Taxon
	sources map[string]*Source
	studies map[string]*Study
	checked bool
}

// MarkRulesChecked notes that every rule has been read and found good, so that it
// need not be done again.
func (k *Knowledge) MarkRulesChecked() { k.checked = true }

// RulesChecked tells whether every rule is known to be good.
func (k *Knowledge) RulesChecked() bool { return k.checked }

// Index sorts everything by id and makes it ready to be asked. It has to be
// called once after the fields are filled.
func (k *Knowledge) Index() {
	k.Vocabulary.Index()
	slices.SortFunc(k.Sources, func(a, b *Source) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(k.Taxa, func(a, b *Taxon) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortFunc(k.Studies, func(a, b *Study) int { return cmp.Compare(a.Taxon, b.Taxon) })
	slices.SortFunc(k.Rules, func(a, b *Rule) int { return cmp.Compare(a.ID, b.ID) })
	k.taxa = make(map[string]*Taxon, len(k.Taxa))
	for _, t := range k.Taxa {
		k.taxa[t.ID] = t
	}
	k.sources = make(map[string]*Source, len(k.Sources))
	for _, s := range k.Sources {
		k.sources[s.ID] = s
	}
	k.studies = make(map[string]*Study, len(k.Studies))
	for _, s := range k.Studies {
		k.studies[s.Taxon] = s
	}
}

// Taxon finds a taxon by its id.
func (k *Knowledge) Taxon(id string) (*Taxon, bool) {
	t, ok := k.taxa[id]
	return t, ok
}

// Source finds a source by its id.
func (k *Knowledge) Source(id string) (*Source, bool) {
	s, ok := k.sources[id]
	return s, ok
}

// Study finds the study of a taxon.
func (k *Knowledge) Study(taxon string) (*Study, bool) {
	s, ok := k.studies[taxon]
	return s, ok
}

// TaxonIDs lists the taxa.
func (k *Knowledge) TaxonIDs() []string {
	out := make([]string, len(k.Taxa))
	for i, t := range k.Taxa {
		out[i] = t.ID
	}
	return out
}

// FindTaxon finds the one taxon of that id, scientific name, synonym or common
// name. The problem returned lists the taxa it can be, or the nearest name.
func (k *Knowledge) FindTaxon(name string) (*Taxon, error) {
	at := Place{File: fmt.Sprintf("taxon %q", short(name))}
	key := nameKey(name)
	for _, id := range []string{name, strings.ReplaceAll(key, " ", "-")} {
		if t, ok := k.taxa[id]; ok {
			return t, nil
		}
	}
	var found []*Taxon
	var names []string
	for _, t := range k.Taxa {
		own := append(append([]string{t.Name}, t.Synonyms...), t.Common...)
		if key != "" && slices.ContainsFunc(own, func(n string) bool { return nameKey(n) == key }) {
			found = append(found, t)
		}
		names = append(append(names, own...), t.ID)
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return nil, Unknown(at, "plant", name, names)
	}
	var ids []string
	for _, t := range found {
		ids = append(ids, t.ID)
	}
	return nil, &Problem{Place: at, Message: fmt.Sprintf("%q is a name of %s: write which", name, strings.Join(ids, " and "))}
}

// nameKey folds what does not tell two names apart. People leave the sign of a
// hybrid out, or write an x for it.
func nameKey(name string) string {
	words := strings.Fields(wordKey(strings.ReplaceAll(name, "×", " ")))
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "x" }), " ")
}

// Link is a lookalike link seen from one of its two plants.
type Link struct {
	Other     string
	StatedBy  string // the taxon whose file holds the link
	Lookalike *Lookalike
}

// LinksOf lists the lookalike links of a taxon, in either direction.
func (k *Knowledge) LinksOf(id string) []Link {
	var out []Link
	for _, t := range k.Taxa {
		for i := range t.Lookalikes {
			l := &t.Lookalikes[i]
			switch id {
			case t.ID:
				out = append(out, Link{Other: l.Taxon, StatedBy: t.ID, Lookalike: l})
			case l.Taxon:
				out = append(out, Link{Other: t.ID, StatedBy: t.ID, Lookalike: l})
			}
		}
	}
	return out
}

// AllRules lists the rules of the rule files and of the studies, by id.
func (k *Knowledge) AllRules() []*Rule {
	out := append([]*Rule(nil), k.Rules...)
	for _, s := range k.Studies {
		out = append(out, s.Leave...)
	}
	slices.SortStableFunc(out, func(a, b *Rule) int { return cmp.Compare(a.ID, b.ID) })
	return out
}
