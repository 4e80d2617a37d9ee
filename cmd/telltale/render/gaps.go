package render

import (
	"fmt"
	"strings"

	"telltale/graph"
	"telltale/rules/reason"
)

// GapsDoc is what `study check --format json` writes.
type GapsDoc struct {
	Taxon string   `json:"taxon"`
	Gaps  []GapDoc `json:"gaps"` // the worst first
}

// GapDoc is something that is missing for a herb.
type GapDoc struct {
	Kind   string   `json:"kind"`
	Stage  string   `json:"stage"`
	Plant  string   `json:"plant"` // the plant in the way, or whose file the gap is in
	Poison bool     `json:"poison"`
	Have   []string `json:"excluded_by"` // evidence groups
	Need   int      `json:"needed"`
	Traits []string `json:"traits"` // that would fill it
	Buys   bool     `json:"buys"`   // scoring them could be enough
	Text   string   `json:"text,omitempty"`
}

// GapsJSON puts gaps into their document.
func GapsJSON(herb *graph.Taxon, gaps []reason.Gap) GapsDoc {
	doc := GapsDoc{Taxon: herb.ID, Gaps: []GapDoc{}}
	for _, g := range gaps {
		doc.Gaps = append(doc.Gaps, GapDoc{Kind: g.Kind, Stage: stageName(g.Stage), Plant: g.Taxon, Poison: g.Poison, Have: never(g.Have),
			Need: g.Need, Traits: never(g.Traits), Buys: g.Buys, Text: g.Text})
	}
	return doc
}

// shownGaps is how many gaps text shows unless all are asked for (common
// practice, no source).
const shownGaps = 12

// Gaps writes for people what is missing for a herb.
func Gaps(p *Page, k *graph.Knowledge, herb *graph.Taxon, gaps []reason.Gap, all bool) error {
	if len(gaps) == 0 {
		p.say(fmt.Sprintf("Nothing is missing for %s.", fullName(herb)))
		return p.err
	}
	p.say(fmt.Sprintf("What is missing for %s, the worst first:", fullName(herb)))
	p.blank()
	for i := range gaps {
		if i == shownGaps && !all {
			p.item("", 2, fmt.Sprintf("and %d more (--all shows them)", len(gaps)-i))
			break
		}
		p.item("- ", 2, gapWords(k, herb, &gaps[i]))
	}
	return p.err
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
		out := fmt.Sprintf("%s%s is not ruled out by a typical plant: excluded by %s, needed %d.", at, plant, groupsWords(g.Have), g.Need)
		switch {
		case len(g.Traits) == 0:
			return out + " Everything the herb shows is scored: they cannot be parted at this stage by what is known."
		case g.Buys:
			return out + " Scoring it firmly on these could be enough: " + traits + "."
		}
		return out + " Scoring it on these would help: " + traits + "."
	case reason.GapPair:
		return fmt.Sprintf("%sfewer than two constant differences from %s (%s). Traits it is not scored firmly on: %s.", at, plant, groupsWords(g.Have), traits)
	case reason.GapOneSided:
		return fmt.Sprintf("%s is not scored on what its pair is scored on: %s.", plant, traits)
	case reason.GapMemory:
		return fmt.Sprintf("From memory only, of %s: %s.", herb.CommonName(), traits)
	case reason.GapUnused:
		return "States that no plant is stated to show: " + traits + "."
	}
	return at + strings.TrimSuffix(g.Text, ".") + "."
}

func groupsWords(groups []string) string {
	if len(groups) == 0 {
		return "nothing"
	}
	return strings.Join(groups, ", ")
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

// LaidOut writes what was laid out for a herb, and what to do next.
func LaidOut(p *Page, dir string, herb *graph.Taxon, written, left []string) error {
	p.say(fmt.Sprintf("Laid out in %s for %s:", dir, herb.Name))
	for _, f := range written {
		p.item("+ ", 2, f)
	}
	for _, f := range left {
		p.item("= ", 2, f+" (was there, left as it is)")
	}
	p.blank()
	p.say("Fill in what your floras say, then:")
	p.item("", 2, fmt.Sprintf("telltale study check %s --data %s", herb.ID, dir))
	return p.err
}
