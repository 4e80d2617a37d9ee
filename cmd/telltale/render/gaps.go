package render

import (
	"fmt"
	"strings"

	"telltale/graph"
	"telltale/graph/author"
	"telltale/rules/reason"
)

// GapsDoc is what `study check --format json` writes.
type GapsDoc struct {
	Taxon  string     `json:"taxon"`
	Failed []string   `json:"failed_rule_tests"` // of the rules about the herb
	Gaps   []GapDoc   `json:"gaps"`              // the worst first
	Offers []OfferDoc `json:"checks_offered"`    // where the study gathers nothing yet
}

// OfferDoc is a trait that a study could check for.
type OfferDoc struct {
	Trait  string   `json:"trait"`
	States []string `json:"is"`
	Parts  []string `json:"parts"` // the lookalikes that it parts the herb from
}

// Checked is what a look at a herb's study found.
type Checked struct {
	Herb   *graph.Taxon
	Gaps   []reason.Gap
	Failed []string      // tests of the rules about it that fail
	Begun  bool          // its study does not say yet what is gathered when,
	Offers []author.Mark // and these are checks for it
}

// GapDoc is something that is missing for a herb.
type GapDoc struct {
	Kind   string   `json:"kind"`
	Stage  string   `json:"stage"`
	Plant  string   `json:"plant"` // the plant in the way, or whose file the gap is in
	Poison bool     `json:"poison"`
	Have   []string `json:"excluded_by"` // evidence groups
	Need   int      `json:"needed"`
	Traits []string `json:"traits"` // that would fill it, scored on plant
	Herb   []string `json:"herb"`   // that would help, scored on the herb
	Beside string   `json:"beside"` // of a pair, the plant that is scored on the traits
	Buys   bool     `json:"buys"`   // scoring the traits could be enough
	Text   string   `json:"text,omitempty"`
}

// GapsJSON puts gaps into their document.
func GapsJSON(c *Checked) GapsDoc {
	doc := GapsDoc{Taxon: c.Herb.ID, Failed: never(c.Failed), Gaps: []GapDoc{}, Offers: []OfferDoc{}}
	for _, o := range c.Offers {
		doc.Offers = append(doc.Offers, OfferDoc{Trait: o.Trait, States: never(o.States), Parts: never(o.Parts)})
	}
	for _, g := range c.Gaps {
		doc.Gaps = append(doc.Gaps, GapDoc{Kind: g.Kind, Stage: stageName(g.Stage), Plant: g.Taxon, Poison: g.Poison, Have: never(g.Have),
			Need: g.Need, Traits: never(g.Traits), Herb: never(g.Herb), Beside: g.Beside, Buys: g.Buys, Text: g.Text})
	}
	return doc
}

// shownGaps is how many gaps text shows unless all are asked for (common
// practice, no source).
const shownGaps = 12

// Gaps writes for people what is missing for a herb.
func Gaps(p *Page, k *graph.Knowledge, c *Checked, all bool) error {
	p.failures(c)
	p.offers(k, c)
	if len(c.Gaps) == 0 && c.Begun {
		return p.err
	}
	if len(c.Gaps) == 0 {
		p.say(fmt.Sprintf("Nothing is missing for %s.", fullName(c.Herb)))
		return p.err
	}
	p.say(fmt.Sprintf("What is missing for %s, the worst first:", fullName(c.Herb)))
	p.blank()
	for i := range c.Gaps {
		if rest := len(c.Gaps) - i; i >= shownGaps && rest > 1 && !all {
			p.item("", 2, fmt.Sprintf("and %d more, which --all shows", rest))
			break
		}
		p.item("- ", 2, gapWords(k, c.Herb, &c.Gaps[i]))
	}
	return p.err
}

// failures writes the tests of the herb's rules that fail.
func (p *Page) failures(c *Checked) {
	if len(c.Failed) == 0 {
		return
	}
	p.say(fmt.Sprintf("%d %s of rules about %s %s:", len(c.Failed), plural(len(c.Failed), "test", "tests"), c.Herb.CommonName(), plural(len(c.Failed), "fails", "fail")))
	for _, f := range c.Failed {
		p.item("x ", 2, f)
	}
	p.blank()
}

// offers writes checks for a study that gathers nothing yet.
func (p *Page) offers(k *graph.Knowledge, c *Checked) {
	if !c.Begun {
		return
	}
	text := fmt.Sprintf("No study says yet what is gathered of %s when, so it is never cleared. ", c.Herb.CommonName())
	if len(c.Offers) == 0 {
		text += "No trait parts it from a lookalike for certain yet: score both on the same ones."
	} else {
		text += "These traits part it from most of its lookalikes; the surest of them can stand under checks:"
	}
	p.say(text)
	for i := range c.Offers {
		o := &c.Offers[i]
		p.item("  ", 4, fmt.Sprintf("%s is %s: parts it from %s", o.Trait, strings.Join(o.States, " or "), some(commonNames(k, o.Parts), shownRuledOut)))
	}
	p.blank()
}

func gapWords(k *graph.Knowledge, herb *graph.Taxon, g *reason.Gap) string {
	at := ""
	if g.Stage != graph.AnyStage {
		at = "At the stage " + g.Stage.Words() + ": "
	}
	plant := g.Taxon
	if t, ok := k.Taxon(g.Taxon); ok {
		plant = fullName(t)
	}
	traits := someOf(g.Traits)
	switch g.Kind {
	case reason.GapUnsafe:
		what := "the lookalike "
		if g.Poison {
			what = "the poisonous "
		}
		return capital(fmt.Sprintf("%s%s%s is not ruled out by a typical plant: %s, and it takes %d.", at, what, plant, groupsWords(g.Have), g.Need)) + " " + remedy(k, herb, g)
	case reason.GapPair:
		return capital(fmt.Sprintf("%sonly %d constant %s from %s (%s), and a poisonous lookalike takes two.", at, len(g.Have), plural(len(g.Have), "difference", "differences"), plant, someOf(g.Have))) + " " + remedy(k, herb, g)
	case reason.GapOneSided:
		return fmt.Sprintf("%s is not scored on what %s is scored on: %s.", capital(plant), nameOf(k, g.Beside), traits)
	case reason.GapMemory:
		return fmt.Sprintf("From memory only, of %s: %s.", herb.CommonName(), traits)
	case reason.GapUnused:
		return "States that no plant is stated to show: " + traits + "."
	}
	return capital(at + strings.TrimSuffix(g.Text, ".") + ".")
}

// remedy says what to score on which of two plants to have them parted.
func remedy(k *graph.Knowledge, herb *graph.Taxon, g *reason.Gap) string {
	var out []string
	if len(g.Traits) > 0 {
		lead := "would help"
		if g.Buys {
			lead = "could be enough"
		}
		out = append(out, fmt.Sprintf("Scoring %s firmly on these %s: %s.", nameOf(k, g.Taxon), lead, someOf(g.Traits)))
	}
	if len(g.Herb) > 0 {
		out = append(out, fmt.Sprintf("Scoring %s on these could too: %s.", herb.CommonName(), someOf(g.Herb)))
	}
	if len(out) == 0 {
		return "Both are scored on all there is to see: they cannot be parted at this stage by what is known."
	}
	return strings.Join(out, " ")
}

func groupsWords(groups []string) string {
	if len(groups) == 0 {
		return "no kind of evidence excludes it"
	}
	return fmt.Sprintf("%d %s it (%s)", len(groups), plural(len(groups), "kind of evidence excludes", "kinds of evidence exclude"), strings.Join(groups, ", "))
}

// mostNamed is how many names one sentence lists (common practice, no source).
const mostNamed = 8

func someOf(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	if len(names) > mostNamed {
		return strings.Join(names[:mostNamed], ", ") + fmt.Sprintf(" and %d more", len(names)-mostNamed)
	}
	return strings.Join(names, ", ")
}
