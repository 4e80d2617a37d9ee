package render

import (
	"fmt"
	"slices"
	"strings"

	"telltale/graph"
	"telltale/rules"
	"telltale/rules/reason"
)

// shownCandidates, shownLooks and shownPoisons are how many of each text shows:
// what fits a screen (common practice, no source).
const (
	shownCandidates = 5
	shownLooks      = 4
	shownPoisons    = 8
)

// Weigh writes an answer for people.
func Weigh(p *Page, k *graph.Knowledge, obs *graph.Observation, a *reason.Answer, limit int) error {
	if limit <= 0 {
		limit = shownCandidates
	}
	weighHeading(p, a)
	p.blank()
	outside := false
	shown := a.Candidates[:min(limit, len(a.Candidates))]
	for i := range shown {
		if !outside && shown[i].Weight < a.Outside {
			outside = true
			stranger(p, a.Outside)
		}
		candidate(p, k, &shown[i], i == 0)
	}
	if !outside {
		stranger(p, a.Outside)
	}
	if rest := len(a.Candidates) - len(shown); rest > 0 {
		p.at(2, "%s", fmt.Sprintf("and %d more (--limit %d shows all)", rest, len(a.Candidates)))
	}
	poisons(p, k, a)
	nextLooks(p, k, a.Next, "What to look at next")
	firing(p, k, a.Rules)
	p.blank()
	for _, c := range Cautions(k) {
		p.hanging(0, 2, "! %s", c)
	}
	return p.err
}

func weighHeading(p *Page, a *reason.Answer) {
	switch {
	case len(a.Candidates) == 0:
		p.line("No plant is known here.")
	case !a.Known():
		p.line("%s", p.colored(bold, "No plant I know.")+" What you read fits none of them well: it would be odd for all I know.")
	default:
		best := firstOpen(a)
		p.line("Most likely %s, of the plants I know.", p.colored(bold, name(best.Taxon)))
		if best.Taxon.ID != a.Candidates[0].Taxon.ID {
			p.line("%s weighs more, but what you read speaks against it.", name(a.Candidates[0].Taxon))
		}
	}
	switch {
	case a.Stage == graph.AnyStage:
		p.line("The stage of growth is not told: give --stage, and more can be excluded.")
	case !a.StageTold:
		p.line("Taken to be at the stage %s, the only one that shows all you read.", a.Stage.Words())
	}
}

func firstOpen(a *reason.Answer) *reason.Candidate {
	for i := range a.Candidates {
		if a.Candidates[i].Standing == reason.Open {
			return &a.Candidates[i]
		}
	}
	return &a.Candidates[0]
}

func name(t *graph.Taxon) string {
	if len(t.Common) == 0 {
		return t.Name
	}
	return t.Common[0] + " (" + t.Name + ")"
}

func percent(x float64) string {
	switch {
	case x >= 0.9995:
		return "almost 100 %"
	case x < 0.001:
		return "under 0.1 %"
	case x < 0.1:
		return fmt.Sprintf("%.1f %%", 100*x)
	}
	return fmt.Sprintf("%.0f %%", 100*x)
}

func stranger(p *Page, weight float64) {
	p.hanging(2, 15, "%-12s %s", percent(weight), "a plant I do not know")
}

func danger(p *Page, t *graph.Taxon) string {
	switch s := t.Severity(); s {
	case graph.Deadly, graph.Serious:
		return " " + p.colored(red, "["+strings.ToUpper(s.String())+" to eat]")
	case graph.Mild:
		return " [mildly harmful]"
	}
	return ""
}

func standingWords(p *Page, c *reason.Candidate) string {
	switch c.Standing {
	case reason.RuledOut:
		return "ruled out"
	case reason.Contested:
		return p.colored(yellow, "contested: one kind of evidence speaks against it, a poison takes two")
	}
	return "open"
}

func candidate(p *Page, k *graph.Knowledge, c *reason.Candidate, full bool) {
	p.hanging(2, 15, "%-12s %s%s: %s", percent(c.Weight), name(c.Taxon), danger(p, c.Taxon), standingWords(p, c))
	for i, e := range c.Excludes {
		if i < 2 || full {
			p.hanging(15, 17, "x %s", evidenceWords(k, &e, "cannot be"))
		}
	}
	if !full {
		return
	}
	for _, e := range c.Supports {
		p.hanging(15, 17, "+ %s", evidenceWords(k, &e, strength(e.Ratio)))
	}
	for _, e := range c.Against {
		p.hanging(15, 17, "- %s", evidenceWords(k, &e, strength(1/e.Ratio)+" against"))
	}
}

// strength puts a ratio into words. The bounds are from memory.
func strength(ratio float64) string {
	switch {
	case ratio >= 8:
		return "speaks strongly"
	case ratio >= 2:
		return "speaks"
	}
	return "speaks a little"
}

func evidenceWords(k *graph.Knowledge, e *reason.Evidence, what string) string {
	stated := reason.StatedWords(e.Stated)
	if len(e.Stated) > 0 {
		stated += sourceMark(k, e.Stated)
	}
	return fmt.Sprintf("%s: %s (%s); stated: %s", e.Trait.Label, words(e.Reading.Value(k.Vocabulary)), what, stated)
}

func words(s string) string { return strings.ReplaceAll(s, "_", " ") }

// sourceMark names the first sources of statements, and says where all is from
// memory.
func sourceMark(k *graph.Knowledge, list []*graph.Statement) string {
	var ids []string
	for _, s := range list {
		for _, id := range s.Sources {
			if !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	return " [" + sourceIDs(ids) + "]"
}

func sourceIDs(ids []string) string {
	if graph.FromMemoryOnly(ids) {
		return "from memory"
	}
	var out []string
	for _, id := range ids {
		if id != graph.Memory && len(out) < 2 {
			out = append(out, id)
		}
	}
	if rest := len(ids) - len(out); rest > 0 {
		return strings.Join(out, ", ") + fmt.Sprintf(" and %d more", rest)
	}
	return strings.Join(out, ", ")
}

func withMemory(text string, sources []string) string {
	if fromMemory(sources) {
		return text + " (from memory)"
	}
	return text
}

func poisons(p *Page, k *graph.Knowledge, a *reason.Answer) {
	p.blank()
	if len(a.PoisonsOpen) == 0 {
		p.line("Every poison I know is ruled out. There are others.")
		return
	}
	p.line("%s", p.colored(red, fmt.Sprintf("Poisonous plants not ruled out yet: %d", len(a.PoisonsOpen))))
	p.hanging(2, 2, "%s", names(k, a.PoisonsOpen, shownPoisons))
}

// names lists plants by their names, the first few of them.
func names(k *graph.Knowledge, ids []string, most int) string {
	var out []string
	for i, id := range ids {
		if i == most {
			return strings.Join(out, ", ") + fmt.Sprintf(" and %d more", len(ids)-most)
		}
		if t, ok := k.Taxon(id); ok {
			out = append(out, t.CommonName())
		}
	}
	return strings.Join(out, ", ")
}

func nextLooks(p *Page, k *graph.Knowledge, all []reason.Look, heading string) {
	if len(all) == 0 {
		return
	}
	p.blank()
	p.line("%s:", heading)
	for i, l := range all[:min(len(all), shownLooks)] {
		p.hanging(2, 5, "%d. %s [%s: %s]", i+1, l.Trait.Question, l.Trait.Effort, l.Trait.ID)
		if len(l.RulesOut) > 0 {
			p.at(5, "Can speak against: %s.", names(k, l.RulesOut, 5))
		}
		if l.Trait.Caution != "" {
			p.at(5, "Mind: %s", l.Trait.Caution)
		}
	}
}

// firing writes the rules that fire: of those about one plant, only notes and
// rules of thumb say something before it is hoped for.
func firing(p *Page, k *graph.Knowledge, all []rules.Result) {
	heading := false
	for _, r := range all {
		if r.Outcome != graph.Fires {
			continue
		}
		if !heading {
			heading = true
			p.blank()
			p.line("Rules that fire:")
		}
		p.hanging(2, 4, "* %s", ruleWords(k, r.Rule))
	}
}

func ruleWords(k *graph.Knowledge, r *graph.Rule) string {
	about := "any plant"
	if t, ok := k.Taxon(r.For); ok {
		about = t.CommonName()
	}
	lead := map[string]string{
		graph.Leave: "Hoping for " + about + "? Leave it", graph.Must: "Needed for " + about,
		graph.ItIs: "Rule of thumb for " + about, graph.Note: "Note",
	}[r.Then]
	if r.Then == graph.Leave && r.For == "" {
		lead = "Leave it"
	}
	return fmt.Sprintf("%s: %s [%s, %s]", lead, strings.TrimSpace(r.Because), r.ID, sourceIDs(r.Sources))
}
