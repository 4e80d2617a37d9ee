package render

import (
	"fmt"

	"telltale/graph"
	"telltale/graph/names"
)

// TaxonRowDoc is a plant in a list, as JSON has it.
type TaxonRowDoc struct {
	Taxon       string   `json:"taxon"`
	Name        string   `json:"name"`
	Author      string   `json:"author"`
	CommonNames []string `json:"common_names"`
	Family      string   `json:"family"`
	Severity    string   `json:"severity"`
	Poisonous   bool     `json:"poisonous"`
	Studied     bool     `json:"studied"`
	Statements  int      `json:"statements"`
}

func taxonRow(k *graph.Knowledge, t *graph.Taxon) TaxonRowDoc {
	_, studied := k.Study(t.ID)
	return TaxonRowDoc{Taxon: t.ID, Name: t.Name, Author: t.Author, CommonNames: never(t.Common), Family: t.Family, Severity: t.Severity().String(),
		Poisonous: t.Poisonous(), Studied: studied, Statements: len(t.Statements)}
}

// TaxaJSON lists plants.
func TaxaJSON(k *graph.Knowledge, taxa []*graph.Taxon) []TaxonRowDoc {
	out := []TaxonRowDoc{}
	for _, t := range taxa {
		out = append(out, taxonRow(k, t))
	}
	return out
}

// TaxaSheet lists plants.
func TaxaSheet(k *graph.Knowledge, taxa []*graph.Taxon) *Sheet {
	table := &Table{Head: []string{"Id", "Name", "Common name", "Family", "Eaten", "Study"}, Spare: 1}
	for _, t := range taxa {
		study := ""
		if _, ok := k.Study(t.ID); ok {
			study = "yes"
		}
		common := ""
		if len(t.Common) > 0 {
			common = t.Common[0]
		}
		table.Rows = append(table.Rows, []Words{W("").marked(Code, t.ID), W("").marked(Scientific, t.Name), W(common), W(t.Family), eaten(t), W(study)})
	}
	s := &Sheet{Title: W(counted(len(taxa), "plant", "plants")), Hints: []string{"More of one: telltale taxon show PLANT"}}
	s.add(nil, Block{Table: table})
	return s
}

// eaten says in one word what eating a plant does.
func eaten(t *graph.Taxon) Words {
	switch s := t.Severity(); {
	case s.Poisonous():
		return W("").marked(Danger, s.String())
	case s == graph.Mild:
		return W(s.String())
	}
	return nil
}

// MatchDoc is a plant that somebody can mean, as JSON has it.
type MatchDoc struct {
	TaxonRowDoc
	Matched   string `json:"matched"` // the name that fits
	Kind      string `json:"kind"`    // accepted, synonym or common
	How       string `json:"how"`
	Letters   int    `json:"letters,omitempty"`   // how many are wrong
	Qualifier string `json:"qualifier,omitempty"` // cf., aff., sp. or agg., where it was asked so
	Why       string `json:"why"`
}

// MatchesJSON lists plants that somebody can mean, the surest first.
func MatchesJSON(k *graph.Knowledge, found []names.Match) []MatchDoc {
	out := []MatchDoc{}
	for _, m := range found {
		if t, ok := k.Taxon(m.ID); ok {
			out = append(out, MatchDoc{TaxonRowDoc: taxonRow(k, t), Matched: m.Name, Kind: m.Kind.String(), How: m.How.String(), Letters: m.Letters,
				Qualifier: string(m.Qualifier), Why: matchWords(&m).Plain()})
		}
	}
	return out
}

// MatchesSheet lists plants that somebody can mean, the surest first, and why.
func MatchesSheet(k *graph.Knowledge, asked string, found []names.Match) *Sheet {
	s := &Sheet{Title: W(fmt.Sprintf("%s for %q", counted(len(found), "plant", "plants"), asked)), Hints: []string{"More of one: telltale taxon show PLANT"}}
	var items []Item
	for _, m := range found {
		if t, ok := k.Taxon(m.ID); ok {
			items = append(items, Item{Words: named(t).and(" ").marked(Code, t.ID), Under: []Words{matchWords(&m)}})
		}
	}
	s.add(nil, Block{Items: items})
	return s
}

// matchWords says why a plant was found.
func matchWords(m *names.Match) Words {
	w := W(howWords(m.How) + kindWords(m.Kind) + " ")
	if m.Kind == names.CommonName {
		w = w.and(m.Name)
	} else {
		w = w.marked(Scientific, m.Name)
	}
	switch m.How {
	case names.Misspelt:
		w = w.and(fmt.Sprintf(", %s off", counted(m.Letters, "letter", "letters")))
	case names.OtherAuthor:
		w = w.and(", but you name other authors: perhaps another plant of the same name")
	case names.Within:
		w = w.and(", of which you name a lower rank; it is known here only as a whole")
	case names.Above:
		w = w.and(", which is a part of what you name")
	}
	return w.and(qualifierWords(m.Qualifier))
}

func howWords(h names.How) string {
	switch h {
	case names.Same:
		return "This is "
	case names.OtherRank:
		return "At another rank, "
	case names.OtherEnding:
		return "With another ending, "
	case names.OfGenus:
		return "Of this genus: "
	case names.Part:
		return "In "
	case names.Misspelt:
		return "Like "
	}
	return "Of "
}

func kindWords(k names.Kind) string {
	switch k {
	case names.AcceptedName:
		return "its name"
	case names.Synonym:
		return "its synonym"
	}
	return "its common name"
}

func qualifierWords(q names.Qualifier) string {
	switch q {
	case names.Compare:
		return "; cf. says that whoever named it was not sure"
	case names.Akin:
		return "; aff. says that it is not this plant, but one near it"
	case names.Aggregate:
		return "; agg. takes in plants that are hard to part from it"
	}
	return ""
}
