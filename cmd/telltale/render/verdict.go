package render

import (
	"fmt"
	"strings"

	"telltale/graph"
	"telltale/rules/reason"
)

// shownReasons and shownLater are how many of each text shows (common practice,
// no source).
const (
	shownReasons = 12
	shownLater   = 4
)

// Verdict writes whether a herb may be gathered, and why.
func Verdict(p *Page, k *graph.Knowledge, obs *graph.Observation, v *reason.Verdict) error {
	p.verdictHeading(v)
	switch v.Verdict {
	case reason.Leave:
		p.heading("Why")
		p.reasons(k, v, reason.Leave)
	case reason.NotYet:
		p.notYet(k, v)
	default:
		p.cleared(k, v)
	}
	p.taken(k, obs)
	p.ownData(ownInVerdict(k, obs, v))
	p.cautions(verdictCautions(v))
	return p.err
}

func (p *Page) verdictHeading(v *reason.Verdict) {
	herb := fullName(v.Taxon)
	switch v.Verdict {
	case reason.Leave:
		p.say(p.coloured(red, "LEAVE IT.") + " Do not gather this as " + herb + ".")
	case reason.NotYet:
		p.say(p.coloured(yellow, "NOT YET.") + " Do not gather this as " + herb + " before more is seen.")
	default:
		p.say(p.coloured(green, "GATHER.") + " What you read clears this as " + herb + ".")
	}
	part, stage := "not told", "not told"
	if v.Part != "" {
		part = plain(v.Part)
	}
	if v.Stage != graph.AnyStage {
		stage = v.Stage.Words()
	}
	p.say("Part: " + part + ". Stage: " + stage + ".")
}

// cleared writes what a gather rests on, and what to do as one gathers.
func (p *Page) cleared(k *graph.Knowledge, v *reason.Verdict) {
	p.blank()
	switch {
	case v.Slack == 1:
		p.say("Every poisonous plant known here is excluded, its lookalikes twice over. One wrong reading could let a poison pass that is no lookalike.")
	case v.Slack > 1:
		p.say(fmt.Sprintf("Every poisonous plant known here is excluded. Before one could pass, at least %d of your readings would have to be wrong.", v.Slack))
	}
	p.heading("Why")
	p.reasons(k, v, reason.Gather)
	if len(v.Say) > 0 {
		p.heading("As you gather")
		for _, s := range v.Say {
			p.item("  -", 4, sentence(s))
		}
	}
}

// notYet writes what is missing: first what has to be looked at, then the plants
// in the way, then the looks.
func (p *Page) notYet(k *graph.Knowledge, v *reason.Verdict) {
	p.obstacles(v)
	p.heading("Why not yet")
	p.reasons(k, v, reason.NotYet)
	p.looks(k, v.Look, "Look next", "On "+v.Taxon.CommonName()+" it should exclude")
	p.later(k, v)
}

// reasons writes the reasons that carry one verdict, but for the plants in the
// way, which are told together.
func (p *Page) reasons(k *graph.Knowledge, v *reason.Verdict, verdict string) {
	shown := 0
	for i := range v.Because {
		b := &v.Because[i]
		if b.Verdict != verdict || b.Obstacle != nil {
			continue
		}
		if shown++; shown > shownReasons {
			p.item("", 4, "and more of the kind; --format json has them all")
			return
		}
		p.item("  -", 4, reasonWords(k, v, b))
	}
	if shown == 0 {
		p.item("  -", 4, "The plants named above have to be ruled out first.")
	}
}

func reasonWords(k *graph.Knowledge, v *reason.Verdict, b *reason.Reason) string {
	switch {
	case b.Evidence != nil && b.Verdict == reason.Leave:
		return besideWords(k, b.Evidence)
	case b.Evidence != nil:
		return unsureWords(k, v.Taxon, b.Evidence)
	case b.Check != nil:
		return sentence(trimStop(readable.Replace(b.Text)) + says(k, b.Sources))
	case b.Rule != nil:
		because := ruleBecause(k, b.Rule.Rule)
		switch {
		case b.Rule.Outcome == graph.Waits:
			return "Not known yet: " + traitLabels(k.Vocabulary, b.Rule.WaitsFor) + ". " + because
		case b.Rule.Rule.Then == graph.Must:
			return "A rule that must hold does not. " + because
		}
		return because
	}
	return sentence(trimStop(b.Text) + says(k, b.Sources))
}

// readable turns the signs of readings within a text into words.
var readable = strings.NewReplacer("_", " ", "|", " or ")

func trimStop(text string) string { return strings.TrimSuffix(strings.TrimSpace(text), ".") }

// obstacles writes the plants that are not ruled out as far as it takes.
func (p *Page) obstacles(v *reason.Verdict) {
	var open, once, harmless []string
	for i := range v.InTheWay {
		o := &v.InTheWay[i]
		name := o.Taxon.CommonName()
		switch {
		case !o.Taxon.Poisonous():
			harmless = append(harmless, name)
		case len(o.Groups) == 0:
			open = append(open, name)
		default:
			once = append(once, name)
		}
	}
	if n := len(open) + len(once); n > 0 {
		p.blank()
		p.say(p.coloured(red, fmt.Sprintf("%d poisonous %s not ruled out", n, plural(n, "plant is", "plants are"))))
	}
	if len(open) > 0 {
		p.item("", 2, "Nothing you read excludes "+some(open, shownPoisons)+".")
	}
	if len(once) > 0 {
		p.item("", 2, "One kind of evidence excludes "+some(once, shownPoisons)+"; a poisonous lookalike takes two.")
	}
	if n := len(harmless); n > 0 {
		p.heading(fmt.Sprintf("%d other %s not ruled out", n, plural(n, "lookalike is", "lookalikes are")))
		p.item("", 2, capital(some(harmless, shownPoisons))+".")
	}
}

// later writes what parts the herb from plants in the way at other stages, where
// nothing at this stage does.
func (p *Page) later(k *graph.Knowledge, v *reason.Verdict) {
	if len(v.Later) == 0 {
		return
	}
	p.heading("What this stage does not show, others do")
	for _, l := range v.Later[:min(len(v.Later), shownLater)] {
		var stages []string
		for _, s := range l.Stages.List() {
			stages = append(stages, s.Words())
		}
		p.item("  -", 4, fmt.Sprintf("%s (%s) parts it from %s.", capital(l.Trait.Label), list(stages, "or"), some(commonNames(k, l.Parts), shownRuledOut)))
	}
}
