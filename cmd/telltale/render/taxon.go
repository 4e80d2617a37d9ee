package render

import (
	"cmp"
	"fmt"
	"slices"

	"telltale/graph"
)

// TaxonDoc is what `taxon show --format json` writes.
type TaxonDoc struct {
	Taxon       string          `json:"taxon"`
	Name        string          `json:"name"`
	Author      string          `json:"author"`
	Family      string          `json:"family"`
	Genus       string          `json:"genus"`
	CommonNames []string        `json:"common_names"`
	Synonyms    []string        `json:"synonyms"`
	Range       []string        `json:"range"`
	Severity    string          `json:"severity"` // of the worst part that is eaten
	Poisonous   bool            `json:"poisonous"`
	Studied     bool            `json:"studied"`
	Sources     []string        `json:"sources"`
	FromMemory  bool            `json:"from_memory"`
	Statements  []StatementDoc  `json:"statements"`
	Exhaustive  []ExhaustiveDoc `json:"exhaustive"`
	Toxicity    []ToxicityDoc   `json:"toxicity"`
	Uses        []UseDoc        `json:"uses"`
	Lookalikes  []LookalikeDoc  `json:"lookalikes"`
	OwnData     []OwnDataDoc    `json:"own_data"`
	Cautions    []string        `json:"cautions"`
}

// ExhaustiveDoc says of one trait whether the stated values are all there are,
// where the frequencies would say otherwise.
type ExhaustiveDoc struct {
	Trait      string   `json:"trait"`
	Holds      bool     `json:"holds"`
	Because    string   `json:"because"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

// LookalikeDoc is a link to a lookalike. It holds both ways, whoever states it.
type LookalikeDoc struct {
	Taxon      string   `json:"taxon"`
	Name       string   `json:"name"`
	Severity   string   `json:"severity"`
	StatedBy   string   `json:"stated_by"`
	Stages     []string `json:"stages"`
	Evidence   string   `json:"evidence"`
	Difference string   `json:"difference"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

// TaxonJSON puts all that is known of a plant into its document.
func TaxonJSON(k *graph.Knowledge, t *graph.Taxon) TaxonDoc {
	_, studied := k.Study(t.ID)
	doc := TaxonDoc{
		Taxon: t.ID, Name: t.Name, Author: t.Author, Family: t.Family, Genus: t.Genus(), CommonNames: never(t.Common), Synonyms: never(t.Synonyms), Range: never(t.Range),
		Severity: t.Severity().String(), Poisonous: t.Poisonous(), Studied: studied, Sources: never(t.Sources), FromMemory: fromMemory(t.Sources),
		Statements: []StatementDoc{}, Exhaustive: []ExhaustiveDoc{}, Toxicity: toxicityDocs(t), Uses: useDocs(t), Lookalikes: []LookalikeDoc{},
		OwnData: ownDataDocs(changed(k, ofTaxon(t.ID)...)), Cautions: taxonCautions(t),
	}
	for _, s := range inOrder(k.Vocabulary, t) {
		trait, _ := k.Vocabulary.Trait(s.Trait)
		doc.Statements = append(doc.Statements, statementDoc(trait, s))
	}
	for _, o := range t.Overrules {
		doc.Exhaustive = append(doc.Exhaustive, ExhaustiveDoc{Trait: o.Trait, Holds: o.Exhaustive, Because: o.Because, Sources: never(o.Sources), FromMemory: fromMemory(o.Sources)})
	}
	for _, l := range linksByStage(k, t.ID) {
		other, ok := k.Taxon(l.Other)
		if !ok {
			continue
		}
		doc.Lookalikes = append(doc.Lookalikes, LookalikeDoc{Taxon: l.Other, Name: other.Name, Severity: other.Severity().String(), StatedBy: l.StatedBy,
			Stages: never(l.Lookalike.Stages.Names()), Evidence: l.Lookalike.Evidence, Difference: l.Lookalike.Difference,
			Sources: never(l.Lookalike.Sources), FromMemory: fromMemory(l.Lookalike.Sources)})
	}
	return doc
}

// TaxonSheet puts all that is known of a plant into a sheet.
func TaxonSheet(k *graph.Knowledge, t *graph.Taxon) *Sheet {
	s := &Sheet{Title: taxonTitle(t), Lead: changedWords(k, ofTaxon(t.ID)...), Cautions: taxonCautions(t), Hints: []string{
		"Sources in full: telltale taxon show " + t.ID + " --why TRAIT, or telltale source show SOURCE",
	}}
	s.add(W("In short"), Block{Facts: inShort(k, t), Aligned: true})
	s.add(W("What it does to people"), Block{Items: harmItems(t)})
	s.add(W("What people do with it"), Block{Items: useItems(t)})
	s.add(W("What it is confused with"), Block{Facts: lookalikeFacts(k, t)})
	for _, organ := range organs(k.Vocabulary) {
		s.add(W(capital(plain(organ))), Block{Facts: traitFacts(k, t, organ)})
	}
	s.cite(k)
	return s
}

func taxonTitle(t *graph.Taxon) Words {
	if len(t.Common) == 0 {
		return W("").marked(Scientific, t.Name)
	}
	return W(t.Common[0]+" (").marked(Scientific, t.Name).and(")")
}

// named is a plant with its danger.
func named(t *graph.Taxon) Words {
	w := taxonTitle(t)
	if d := danger(t); d != "" {
		w = w.and(" ").marked(dangerOf(t), "["+d+"]")
	}
	return w
}

func dangerOf(t *graph.Taxon) Mark {
	if t.Poisonous() {
		return Danger
	}
	return NoMark
}

func inShort(k *graph.Knowledge, t *graph.Taxon) []Fact {
	facts := []Fact{{W("Name"), []Words{W("").marked(Scientific, t.Name).and(" " + t.Author).from(t.Sources)}}, {W("Id"), []Words{W("").marked(Code, t.ID)}}}
	add := func(term string, w Words) {
		if len(w) > 0 {
			facts = append(facts, Fact{W(term), []Words{w}})
		}
	}
	add("Common names", joinedBy(t.Common, ", "))
	add("Synonyms", italics(t.Synonyms))
	add("Family", W(t.Family))
	add("Grows", joinedBy(t.Range, "; "))
	add("Harm", harmInShort(t))
	if study, ok := k.Study(t.ID); ok {
		add("Gathered", gatheredWords(study))
	}
	add("Stated", W(fmt.Sprintf("%s, %d of them ", counted(len(t.Statements), "statement", "statements"), inMemory(t))).marked(Memory, fromMemoryWords))
	return facts
}

func italics(names []string) Words {
	var all []Words
	for _, n := range names {
		all = append(all, W("").marked(Scientific, n))
	}
	return join(all, ", ")
}

func joinedBy(texts []string, between string) Words {
	var all []Words
	for _, t := range texts {
		all = append(all, W(t))
	}
	return join(all, between)
}

func harmInShort(t *graph.Taxon) Words {
	w := W("no harm known to those who eat it")
	if d := danger(t); d != "" {
		w = W("").marked(dangerOf(t), d)
	}
	if t.ContactHarm() != nil {
		w = w.and("; can harm the skin")
	}
	return w
}

func gatheredWords(study *graph.Study) Words {
	var all []string
	for _, g := range study.Gather {
		all = append(all, list(plainAll(g.Parts), "and")+" at "+list(stageWords(g.Stages), "and"))
	}
	return joinedBy(all, "; ").and(" (").marked(Code, "telltale study show "+study.Taxon).and(")")
}

func harmItems(t *graph.Taxon) []Item {
	var out []Item
	for i := range t.Toxicity {
		out = append(out, Item{Words: harmWords(&t.Toxicity[i]).from(t.Toxicity[i].Sources)})
	}
	return out
}

func useItems(t *graph.Taxon) []Item {
	var out []Item
	for i := range t.Uses {
		out = append(out, Item{Words: useWords(&t.Uses[i]).from(t.Uses[i].Sources)})
	}
	return out
}

// lookalikeFacts lists the lookalikes, each once, with all that is told of the
// pair by either, by stage. What both tell in the same words is told once.
func lookalikeFacts(k *graph.Knowledge, t *graph.Taxon) []Fact {
	var out []Fact
	at := map[string]int{}
	for _, l := range linksByStage(k, t.ID) {
		other, ok := k.Taxon(l.Other)
		if !ok {
			continue
		}
		if _, seen := at[l.Other]; !seen {
			at[l.Other] = len(out)
			out = append(out, Fact{Term: named(other).and(" ").marked(Code, other.ID)})
		}
		f := &out[at[l.Other]]
		words := linkWords(l.Lookalike)
		if !slices.ContainsFunc(f.Values, func(w Words) bool { return w.Plain() == words.Plain() }) {
			f.Values = append(f.Values, words)
		}
	}
	return out
}

func linksByStage(k *graph.Knowledge, taxon string) []graph.Link {
	links := k.LinksOf(taxon)
	slices.SortStableFunc(links, func(a, b graph.Link) int {
		return cmp.Or(cmp.Compare(a.Other, b.Other), cmp.Compare(a.Lookalike.Stages, b.Lookalike.Stages))
	})
	return links
}

func linkWords(l *graph.Lookalike) Words {
	w := W("At every stage")
	if l.Stages != 0 {
		w = W(capital(list(stageWords(l.Stages), "and")))
	}
	w = w.and(", ")
	if l.Evidence == graph.Memory {
		w = w.marked(Memory, fromMemoryWords)
	} else {
		w = w.and("told by " + tellerWords(l.Evidence))
	}
	return w.and(": " + l.Difference).from(l.Sources)
}

// tellerWords says who tells of a confusion.
func tellerWords(evidence string) string {
	switch evidence {
	case "case_report":
		return "a case report"
	case "poison_centre":
		return "a poison centre"
	case "extension":
		return "an extension service"
	}
	return "a " + plain(evidence)
}

// traitFacts lists what is stated of the traits of an organ.
func traitFacts(k *graph.Knowledge, t *graph.Taxon, organ string) []Fact {
	var out []Fact
	last := ""
	for _, s := range inOrder(k.Vocabulary, t) {
		trait, _ := k.Vocabulary.Trait(s.Trait)
		if trait.Organ != organ {
			continue
		}
		if s.Trait != last {
			out = append(out, Fact{Term: traitTerm(trait), Values: overruleWords(t, s.Trait)})
			last = s.Trait
		}
		f := &out[len(out)-1]
		at := len(f.Values) - len(overruleWords(t, s.Trait)) // what overrules them comes last
		f.Values = slices.Insert(f.Values, at, statementWords(trait, s))
	}
	return out
}

func overruleWords(t *graph.Taxon, trait string) []Words {
	var out []Words
	for _, o := range t.Overrules {
		if o.Trait != trait {
			continue
		}
		out = append(out, overruleSaid(&o).from(o.Sources))
	}
	return out
}

func overruleSaid(o *graph.Overrule) Words {
	if o.Exhaustive {
		return W("These are all there are: " + o.Because)
	}
	return W("These may not be all there are: " + o.Because)
}

func taxonCautions(t *graph.Taxon) []string {
	var out []string
	if harm := t.ContactHarm(); harm != nil && harm.Effect != "" {
		out = append(out, sentence("On the skin: "+harm.Effect))
	}
	return append(out, confirm, whomToCall)
}
