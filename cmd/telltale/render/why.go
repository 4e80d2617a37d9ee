package render

import (
	"fmt"
	"slices"

	"telltale/graph"
	"telltale/rules/reason"
)

// What --why can be asked of, besides traits.
const (
	WhyToxicity = "toxicity"
	WhyUses     = "uses"
)

// Why is one thing that somebody asks the sources of: a trait, or with Trait nil
// the toxicity or uses of a plant.
type Why struct {
	Trait *graph.Trait
	About string // WhyToxicity or WhyUses where no trait is asked

	Disputes     []reason.Dispute
	HarmDisputes []reason.HarmDispute
	UseDisputes  []reason.UseDispute
}

// WhyDoc is what `taxon show --why --format json` writes.
type WhyDoc struct {
	Taxon    string       `json:"taxon"`
	Name     string       `json:"name"`
	Why      []WhyPartDoc `json:"why"`
	OwnData  []OwnDataDoc `json:"own_data"`
	Sources  []SourceDoc  `json:"sources"` // those named above, in full
	Cautions []string     `json:"cautions"`
}

// WhyPartDoc is one trait, or toxicity or uses, with what its sources say.
type WhyPartDoc struct {
	About         string          `json:"about"`
	Statements    []StatementDoc  `json:"statements,omitempty"`
	Exhaustive    []ExhaustiveDoc `json:"exhaustive,omitempty"`
	Toxicity      []ToxicityDoc   `json:"toxicity,omitempty"`
	Uses          []UseDoc        `json:"uses,omitempty"`
	Disagreements []DisputeDoc    `json:"disagreements"`
}

// DisputeDoc is two sides that do not say the same.
type DisputeDoc struct {
	Kind     string   `json:"kind"`   // excludes, usual, severity or use_of_poison
	Stages   []string `json:"stages"` // empty: at every stage
	Position string   `json:"position,omitempty"`
	A        SideDoc  `json:"a"`
	B        SideDoc  `json:"b"`
}

// SideDoc is sources and what they say.
type SideDoc struct {
	Sources    []string `json:"sources"`
	Says       string   `json:"says"`
	FromMemory bool     `json:"from_memory"`
}

// WhyJSON puts the sources of what is known of a plant into a document.
func WhyJSON(k *graph.Knowledge, t *graph.Taxon, all []Why) WhyDoc {
	doc := WhyDoc{Taxon: t.ID, Name: t.Name, Why: []WhyPartDoc{}, OwnData: ownDataDocs(changed(k, ofTaxon(t.ID)...)), Sources: []SourceDoc{}, Cautions: taxonCautions(t)}
	cited := map[string]bool{}
	see := func(ids []string) {
		for _, id := range ids {
			if s, ok := k.Source(id); ok && !cited[id] {
				cited[id] = true
				doc.Sources = append(doc.Sources, sourceDoc(s))
			}
		}
	}
	for i := range all {
		part := whyPart(k, t, &all[i])
		for _, s := range part.Statements {
			see(s.Sources)
		}
		for _, x := range part.Exhaustive {
			see(x.Sources)
		}
		for _, x := range part.Toxicity {
			see(x.Sources)
		}
		for _, u := range part.Uses {
			see(u.Sources)
		}
		doc.Why = append(doc.Why, part)
	}
	return doc
}

func whyPart(k *graph.Knowledge, t *graph.Taxon, why *Why) WhyPartDoc {
	part := WhyPartDoc{About: why.About, Disagreements: []DisputeDoc{}}
	switch {
	case why.Trait != nil:
		part.About = why.Trait.ID
		part.Statements = []StatementDoc{}
		for _, s := range statementsOf(k.Vocabulary, t, why.Trait) {
			part.Statements = append(part.Statements, statementDoc(why.Trait, s))
		}
		for _, o := range TaxonJSON(k, t).Exhaustive {
			if o.Trait == why.Trait.ID {
				part.Exhaustive = append(part.Exhaustive, o)
			}
		}
	case why.About == WhyToxicity:
		part.Toxicity = toxicityDocs(t)
	default:
		part.Uses = useDocs(t)
	}
	for _, d := range disputeWords(why) {
		part.Disagreements = append(part.Disagreements, d.doc)
	}
	return part
}

func statementsOf(v *graph.Vocabulary, taxon *graph.Taxon, t *graph.Trait) []*graph.Statement {
	return slices.DeleteFunc(inOrder(v, taxon), func(s *graph.Statement) bool { return s.Trait != t.ID })
}

// WhySheet puts the sources of what is known of a plant into a sheet, each in
// full, and says where they differ.
func WhySheet(k *graph.Knowledge, t *graph.Taxon, all []Why) *Sheet {
	s := &Sheet{Title: W("Why: ").then(named(t)), Lead: changedWords(k, ofTaxon(t.ID)...), Cautions: taxonCautions(t)}
	for i := range all {
		why := &all[i]
		s.add(whyTitle(why), whyBlocks(k, t, why)...)
		s.add(whyTitle(why).and(": where the sources differ"), Block{Items: disputeItems(why)})
	}
	return s
}

func whyTitle(why *Why) Words {
	switch {
	case why.Trait != nil:
		return W(capital(why.Trait.Label)+" (").marked(Code, why.Trait.ID).and(")")
	case why.About == WhyToxicity:
		return W("What it does to people")
	}
	return W("What people do with it")
}

func whyBlocks(k *graph.Knowledge, t *graph.Taxon, why *Why) []Block {
	var items []Item
	nothing := ""
	switch {
	case why.Trait != nil:
		for _, s := range statementsOf(k.Vocabulary, t, why.Trait) {
			items = append(items, Item{Words: capitalWords(saidWords(why.Trait, s)), Under: inFull(k, s.Sources)})
		}
		for _, o := range t.Overrules {
			if o.Trait == why.Trait.ID {
				items = append(items, Item{Words: overruleSaid(&o), Under: inFull(k, o.Sources)})
			}
		}
		nothing = "Nothing is stated of it: every value is possible, and it rules nothing out."
	case why.About == WhyToxicity:
		for i := range t.Toxicity {
			items = append(items, Item{Words: capitalWords(harmWords(&t.Toxicity[i])), Under: inFull(k, t.Toxicity[i].Sources)})
		}
		nothing = "No harm is stated. That is not to say that it does none."
	default:
		for i := range t.Uses {
			items = append(items, Item{Words: capitalWords(useWords(&t.Uses[i])), Under: inFull(k, t.Uses[i].Sources)})
		}
		nothing = "No use is stated."
	}
	if len(items) == 0 {
		return []Block{{Paragraph: W(nothing)}}
	}
	return []Block{{Items: items}}
}

// capitalWords makes words begin like a sentence.
func capitalWords(w Words) Words {
	if len(w) == 0 || w[0].Text == "" {
		return w
	}
	out := slices.Clone(w)
	out[0].Text = capital(out[0].Text)
	return out
}

// dispute is a difference between sources, as a document and in words.
type dispute struct {
	doc   DisputeDoc
	words Words
}

func disputeItems(why *Why) []Item {
	var out []Item
	for _, d := range disputeWords(why) {
		out = append(out, Item{Words: d.words})
	}
	return out
}

func disputeWords(why *Why) []dispute {
	var out []dispute
	for i := range why.Disputes {
		out = append(out, traitDispute(why.Trait, &why.Disputes[i]))
	}
	for _, d := range why.HarmDisputes {
		a, b := harmWords(d.A), harmWords(d.B)
		out = append(out, dispute{
			DisputeDoc{Kind: "severity", Stages: []string{}, A: side(d.A.Sources, a), B: side(d.B.Sources, b)},
			W("The harm is graded differently. ").then(capitalWords(a)).from(d.A.Sources).and(". Against that: ").then(b).from(d.B.Sources),
		})
	}
	for _, d := range why.UseDisputes {
		a, b := useWords(d.Use), harmWords(d.Harm)
		out = append(out, dispute{
			DisputeDoc{Kind: "use_of_poison", Stages: []string{}, A: side(d.Use.Sources, a), B: side(d.Harm.Sources, b)},
			W("It is used and called poisonous. ").then(capitalWords(a)).from(d.Use.Sources).and(". Against that: ").then(b).from(d.Harm.Sources),
		})
	}
	return out
}

func traitDispute(t *graph.Trait, d *reason.Dispute) dispute {
	a, b := sideWords(t, &d.A), sideWords(t, &d.B)
	doc := DisputeDoc{Kind: "usual", Stages: []string{}, Position: d.Position, A: side(d.A.Sources, a), B: side(d.B.Sources, b)}
	lead := "They differ on what is usual"
	if d.Excludes {
		doc.Kind = "excludes"
		lead = "One leaves no room for what the other says"
	}
	where := positionWords(d.Position)
	if !everyStage(t, d.Stages) {
		where += atStages(d.Stages)
		doc.Stages = d.Stages.Names()
	}
	return dispute{doc, W(fmt.Sprintf("%s%s. ", lead, where)).then(capitalWords(a)).from(d.A.Sources).and(". Against that: ").then(b).from(d.B.Sources)}
}

// everyStage tells whether the stages are all at which the trait can be seen.
func everyStage(t *graph.Trait, stages graph.StageSet) bool {
	for _, s := range graph.Stages() {
		if t.Visible(s) && !stages.Has(s) {
			return false
		}
	}
	return true
}

// sideWords is all that a side says, each value once.
func sideWords(t *graph.Trait, s *reason.Side) Words {
	var all []Words
	seen := map[string]bool{}
	for _, x := range s.Statements {
		w := W(x.Frequency.String()+" ").marked(Strong, valueWords(t, x))
		if !seen[w.Plain()] {
			seen[w.Plain()] = true
			all = append(all, w)
		}
	}
	return join(all, ", ")
}

func side(sources []string, said Words) SideDoc {
	return SideDoc{Sources: never(sources), Says: said.Plain(), FromMemory: fromMemory(sources)}
}
