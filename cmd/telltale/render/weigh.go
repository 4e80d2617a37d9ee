package render

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"telltale/graph"
	"telltale/rules"
	"telltale/rules/reason"
)

// How much of each text shows: what fits a screen (common practice, no source).
const (
	shownCandidates = 5
	leastCandidates = 2
	shownPoisons    = 8
	shownEvidence   = 5
	shownRules      = 6
	shownAgainst    = 4

	worthALine = 0.005 // what percent writes as 1 %
)

// likely is the weight from which a plant is called the most likely one: it is
// likelier than all others together. Below telling none is named as more than
// the best so far (common practice, no source).
const (
	likely  = 0.5
	telling = 0.2
)

// Weigh writes what a plant could be. Limit is how many candidates to show, 0 for
// as many as fit a screen.
func Weigh(p *Page, k *graph.Knowledge, obs *graph.Observation, a *reason.Answer, limit int) error {
	shown := shownOf(a, limit)
	p.weighHeading(a)
	p.shares(a, shown)
	p.poisons(a)
	p.looks(k, byWeight(a), "Look next", "An answer can exclude")
	p.why(k, a, shown)
	p.fired(k, a.Rules, shown)
	p.taken(k, obs)
	p.ownData(ownInWeigh(k, obs, a, shown))
	p.cautions(WeighCautions(k))
	return p.err
}

// shownOf gives the candidates to show: so many as told, or else the first few
// with a share worth the line.
func shownOf(a *reason.Answer, limit int) []reason.Candidate {
	if limit > 0 {
		return a.Candidates[:min(limit, len(a.Candidates))]
	}
	n := 0
	for n < min(shownCandidates, len(a.Candidates)) && (n < leastCandidates || a.Candidates[n].Weight >= worthALine) {
		n++
	}
	return a.Candidates[:n]
}

func (p *Page) weighHeading(a *reason.Answer) {
	best := firstOpen(a)
	switch {
	case best == nil:
		p.say(p.coloured(bold, "No plant I know.") + " What you read speaks against every one of them.")
	case !a.Known() && a.Outside >= likely:
		p.say(p.coloured(bold, "No plant I know.") + " What you read would be odd on each of them; " + fullName(best.Taxon) + " comes nearest.")
	case best.Weight < telling:
		p.say(p.coloured(bold, "Too little to tell.") + " It could be many plants; " + fullName(best.Taxon) + " fits best so far.")
	default:
		lead := "Perhaps "
		if best.Weight >= likely {
			lead = "Most likely "
		}
		p.say(p.coloured(bold, lead+fullName(best.Taxon)) + ", of the plants I know.")
		if h := p.harms(best.Taxon); h != "" {
			p.say(h)
		}
		if first := &a.Candidates[0]; first != best {
			p.say(capital(fullName(first.Taxon)) + " fits better on the whole, but something you read speaks against it.")
		}
	}
	switch {
	case a.Stage == graph.AnyStage:
		p.say("You told no stage of growth. With --stage more can be excluded.")
	case !a.StageTold:
		p.say("Taken to be at the stage " + a.Stage.Words() + ", the only one that shows all you read.")
	}
}

// byWeight gives the looks with the plants they can exclude in falling weight.
func byWeight(a *reason.Answer) []reason.Look {
	place := make(map[string]int, len(a.Candidates))
	for i := range a.Candidates {
		place[a.Candidates[i].Taxon.ID] = i
	}
	out := slices.Clone(a.Next)
	for i := range out {
		out[i].RulesOut = slices.Clone(out[i].RulesOut)
		slices.SortStableFunc(out[i].RulesOut, func(x, y string) int { return cmp.Compare(place[x], place[y]) })
	}
	return out
}

func firstOpen(a *reason.Answer) *reason.Candidate {
	for i := range a.Candidates {
		if a.Candidates[i].Standing == reason.Open {
			return &a.Candidates[i]
		}
	}
	return nil
}

// shares writes how the candidates share the belief, with the plant outside in
// its place.
func (p *Page) shares(a *reason.Answer, shown []reason.Candidate) {
	p.blank()
	stranger := false
	for i := range shown {
		c := &shown[i]
		if !stranger && c.Weight < a.Outside {
			stranger = true
			p.share(a.Outside, "a plant I do not know")
		}
		text := fullName(c.Taxon)
		if d := danger(c.Taxon); d != "" {
			text += ": " + p.coloured(dangerMark(c.Taxon), d)
		}
		if s := standingWords(c); s != "" {
			text += "; " + s
		}
		p.share(c.Weight, text)
	}
	if !stranger {
		p.share(a.Outside, "a plant I do not know")
	}
	if rest := len(a.Candidates) - len(shown); rest > 0 {
		p.item("", 8, fmt.Sprintf("and %d more, which --limit %d shows", rest, len(a.Candidates)))
	}
	p.say("A small share rules nothing out; only what you saw does.")
}

func (p *Page) share(weight float64, text string) {
	p.item(fmt.Sprintf("%6s", percent(weight)), 8, text)
}

func standingWords(c *reason.Candidate) string {
	switch c.Standing {
	case reason.RuledOut:
		return "ruled out"
	case reason.Contested:
		return "contested, one kind of evidence speaks against it"
	}
	return ""
}

// poisons writes which poisonous plants are not ruled out, and how far they are.
func (p *Page) poisons(a *reason.Answer) {
	if len(a.PoisonsOpen) == 0 {
		p.heading("Every poisonous plant I know is ruled out")
		p.item("", 2, "There are others that I do not know.")
		return
	}
	var open, contested []string
	for i := range a.Candidates {
		c := &a.Candidates[i]
		switch {
		case !c.Taxon.Poisonous():
		case c.Standing == reason.Open:
			open = append(open, c.Taxon.CommonName())
		case c.Standing == reason.Contested:
			contested = append(contested, c.Taxon.CommonName())
		}
	}
	n := len(a.PoisonsOpen)
	p.blank()
	p.say(p.coloured(red, fmt.Sprintf("%d poisonous %s not ruled out", n, plural(n, "plant is", "plants are"))))
	if len(open) > 0 {
		p.item("", 2, "Nothing you read excludes "+some(open, shownPoisons)+".")
	}
	if len(contested) > 0 {
		p.item("", 2, "One kind of evidence excludes "+some(contested, shownPoisons)+"; a poison takes two.")
	}
}

// why writes what speaks for the best candidate and against it, and what speaks
// against the others shown.
func (p *Page) why(k *graph.Knowledge, a *reason.Answer, shown []reason.Candidate) {
	best := firstOpen(a)
	if best == nil {
		p.against(k, "What speaks against the nearest ones", shown, nil)
		return
	}
	if len(best.Supports) > 0 {
		p.heading("What speaks for " + best.Taxon.CommonName())
		p.evidence(k, best.Taxon, best.Supports, shownEvidence)
	}
	if len(best.Against) > 0 {
		p.heading("What speaks against it, without excluding it")
		p.evidence(k, best.Taxon, best.Against, shownEvidence)
	}
	p.against(k, "What speaks against the others", shown, best)
}

func (p *Page) evidence(k *graph.Knowledge, t *graph.Taxon, all []reason.Evidence, most int) {
	for i := range all[:min(len(all), most)] {
		p.item("  -", 4, supportWords(k, t, &all[i]))
	}
	if rest := len(all) - most; rest > 0 {
		p.item("", 4, fmt.Sprintf("and %d more of the kind", rest))
	}
}

// against writes for the first candidates but the best what excludes them, or
// else speaks most against them.
func (p *Page) against(k *graph.Knowledge, heading string, shown []reason.Candidate, best *reason.Candidate) {
	told := 0
	for i := range shown {
		c := &shown[i]
		e := mostAgainst(c)
		if best != nil && c.Taxon == best.Taxon || e == nil {
			continue
		}
		if told == shownAgainst {
			return
		}
		if told == 0 {
			p.heading(heading)
		}
		told++
		p.item("  -", 4, capital(c.Taxon.CommonName())+". "+besideWords(k, e))
	}
}

// mostAgainst is the reading that excludes a candidate, or else the one that
// speaks most against it; nil if none does.
func mostAgainst(c *reason.Candidate) *reason.Evidence {
	switch {
	case len(c.Excludes) > 0:
		return &c.Excludes[0]
	case len(c.Against) > 0:
		return &c.Against[0]
	}
	return nil
}

// fired writes the rules that fire: those for any plant, then those about the
// candidates shown.
func (p *Page) fired(k *graph.Knowledge, all []rules.Result, shown []reason.Candidate) {
	var general, special []*graph.Rule
	others := 0
	for _, r := range all {
		switch {
		case r.Outcome != graph.Fires || r.Rule.Then == graph.Must: // a must asks, and says nothing of what this is
		case r.Rule.For == "":
			general = append(general, r.Rule)
		case slices.ContainsFunc(shown, func(c reason.Candidate) bool { return c.Taxon.ID == r.Rule.For }):
			special = append(special, r.Rule)
		default:
			others++
		}
	}
	list := append(general, special...)
	if len(list) == 0 {
		return
	}
	p.heading("Rules that fire")
	for _, r := range list[:min(len(list), shownRules)] {
		p.item("  -", 4, ruleWords(k, r))
	}
	if others += max(len(list)-shownRules, 0); others > 0 {
		p.item("", 4, fmt.Sprintf("and %d about other plants; --format json has them all", others))
	}
}

// taken writes the readings as they were understood, which everyday words leave
// open.
func (p *Page) taken(k *graph.Knowledge, obs *graph.Observation) {
	p.heading("You read")
	var out []string
	for i := range obs.Readings {
		r := &obs.Readings[i]
		label := r.Trait
		if t, ok := k.Vocabulary.Trait(r.Trait); ok {
			label = t.Label
		}
		out = append(out, label+": "+readingWords(k.Vocabulary, r))
	}
	p.item("", 2, sentence(strings.Join(out, "; ")))
}

func ruleWords(k *graph.Knowledge, r *graph.Rule) string {
	about := ""
	if t, ok := k.Taxon(r.For); ok {
		about = t.CommonName()
	}
	lead := ""
	switch {
	case r.Then == graph.Leave && about == "":
		lead = "Leave it, whatever you hope for. "
	case r.Then == graph.Leave:
		lead = "Do not take it for " + about + ". "
	case r.Then == graph.ItIs:
		lead = "Rule of thumb for " + about + ". "
	case r.Then == graph.Note && about != "":
		lead = "About " + about + ". "
	}
	return lead + ruleBecause(k, r)
}

// ruleBecause is a rule's reason with who gives it.
func ruleBecause(k *graph.Knowledge, r *graph.Rule) string {
	return sentence(trimStop(r.Because) + says(k, r.Sources))
}
