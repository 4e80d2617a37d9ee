package render

import (
	"strings"

	"telltale/graph"
	"telltale/rules/reason"
)

// Verdict writes a verdict for people.
func Verdict(p *Page, k *graph.Knowledge, v *reason.Verdict) error {
	verdictHeading(p, v)
	p.blank()
	because(p, k, v)
	if v.Verdict != reason.Gather {
		nextLooks(p, k, v.Look, "What to look at next, if it is "+v.Taxon.CommonName())
		later(p, k, v)
	}
	p.blank()
	for _, c := range VerdictCautions(v) {
		p.hanging(0, 2, "! %s", c)
	}
	return p.err
}

func verdictHeading(p *Page, v *reason.Verdict) {
	what := name(v.Taxon)
	if v.Part != "" {
		what += ", " + words(v.Part)
	}
	if v.Stage != graph.AnyStage {
		what += ", " + v.Stage.Words()
	}
	switch v.Verdict {
	case reason.Leave:
		p.line("%s  %s", p.colored(red, "LEAVE IT"), what)
	case reason.NotYet:
		p.line("%s  %s", p.colored(yellow, "NOT YET"), what)
	default:
		p.line("%s  %s", p.colored(green, "GATHER"), what)
		p.line("All that has to be ruled out is ruled out by what you saw. No poison known here could pass with fewer than %d of your readings wrong.", v.Slack)
	}
}

// because writes the reasons that carry the verdict; what speaks for gathering is
// shown where nothing speaks against.
func because(p *Page, k *graph.Knowledge, v *reason.Verdict) {
	shown := 0
	for _, b := range v.Because {
		if b.Verdict != v.Verdict {
			continue
		}
		if shown == shownReasons {
			p.at(2, "and more of the kind: --format json lists all")
			break
		}
		shown++
		text := strings.TrimSuffix(b.Text, ".")
		if len(b.Sources) > 0 {
			text += " [" + sourceIDs(b.Sources) + "]"
		}
		p.hanging(2, 4, "- %s", text)
	}
}

// shownReasons is how many reasons text shows (common practice, no source).
const shownReasons = 12

func later(p *Page, k *graph.Knowledge, v *reason.Verdict) {
	if len(v.Later) == 0 {
		return
	}
	p.blank()
	p.line("What nothing at this stage parts from it, other stages do:")
	for i, l := range v.Later {
		if i == shownLooks {
			break
		}
		var stages []string
		for _, s := range l.Stages.List() {
			stages = append(stages, s.Words())
		}
		p.hanging(2, 4, "- %s (%s): %s", l.Trait.Label, strings.Join(stages, ", "), names(k, l.Parts, 5))
	}
}
