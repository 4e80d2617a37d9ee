package render

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"telltale/graph"
	"telltale/rules"
	"telltale/rules/reason"
)

// OwnDataDoc is something that own data changed, or added, of what an answer rests
// on.
type OwnDataDoc struct {
	Kind  string   `json:"kind"`  // taxon, study, rule, trait or source
	Of    string   `json:"of"`    // its id
	What  []string `json:"what"`  // the traits or parts that were changed, where that is not all
	Added bool     `json:"added"` // it was not known before
	File  string   `json:"file"`
}

func ownDataDocs(list []*graph.Correction) []OwnDataDoc {
	out := []OwnDataDoc{}
	for _, c := range list {
		d := OwnDataDoc{Kind: c.Kind, Of: c.Of, What: []string{}, Added: c.Adds(), File: c.File}
		if !c.Adds() {
			d.What = never(c.What)
		}
		out = append(out, d)
	}
	return out
}

// ground is what an answer rests on: the facts that it shows, and the plants that
// bear on it shown or not.
type ground struct {
	facts []fact
	bears func(*graph.Taxon) bool
}

func (g *ground) add(kind string, ids ...string) {
	for _, id := range ids {
		g.facts = append(g.facts, fact{kind, id})
	}
}

// own lists what own data changed or added of it. What was added can only be in the
// way; what was changed may be what rules a plant out.
func (g *ground) own(k *graph.Knowledge) []*graph.Correction {
	var out []*graph.Correction
	for i := range k.Corrections {
		c := &k.Corrections[i]
		t, known := k.Taxon(c.Of)
		if slices.Contains(g.facts, fact{c.Kind, c.Of}) || known && c.Kind == "taxon" && !c.Adds() && g.bears(t) {
			out = append(out, c)
		}
	}
	return out
}

func anyPlant(*graph.Taxon) bool { return true }
func noPlant(*graph.Taxon) bool  { return false }

// rules adds the rules that say something, and their sources.
func (g *ground) rules(all []rules.Result, about func(*graph.Rule) bool) {
	for _, r := range all {
		if r.Outcome != graph.Quiet && about(r.Rule) {
			g.add("rule", r.Rule.ID)
			g.add("source", r.Rule.Sources...)
		}
	}
}

func (g *ground) evidence(all []reason.Evidence) {
	for _, e := range all {
		g.add("source", sourcesOf(e.Stated)...)
	}
}

func (g *ground) read(obs *graph.Observation) {
	for i := range obs.Readings {
		g.add("trait", obs.Readings[i].Trait)
	}
}

// ownInWeigh lists what own data changed or added of what the candidates shown
// rest on.
func ownInWeigh(k *graph.Knowledge, obs *graph.Observation, a *reason.Answer, shown []reason.Candidate) []*graph.Correction {
	g := ground{bears: (*graph.Taxon).Poisonous}
	g.read(obs)
	about := map[string]bool{"": true}
	for i := range shown {
		c := &shown[i]
		about[c.Taxon.ID] = true
		g.add("taxon", c.Taxon.ID)
		g.evidence(c.Supports)
		g.evidence(c.Against)
		g.evidence(c.Excludes)
	}
	g.rules(a.Rules, func(r *graph.Rule) bool { return about[r.For] })
	return g.own(k)
}

// ownInVerdict lists what own data changed or added of the herb, its study, and
// the plants in the way. A gather rests on all plants, a leave on none beside the
// herb.
func ownInVerdict(k *graph.Knowledge, obs *graph.Observation, v *reason.Verdict) []*graph.Correction {
	g := ground{bears: (*graph.Taxon).Poisonous}
	inTheWay := v.InTheWay
	switch v.Verdict {
	case reason.Gather:
		g.bears = anyPlant
	case reason.Leave:
		g.bears, inTheWay = noPlant, nil
	}
	g.read(obs)
	g.add("taxon", v.Taxon.ID)
	g.add("study", v.Taxon.ID)
	for i := range inTheWay {
		g.add("taxon", inTheWay[i].Taxon.ID)
	}
	for i := range v.Because {
		g.add("source", v.Because[i].Sources...)
	}
	for _, r := range v.Rules {
		if changedRule(k, r.Rule.ID) {
			g.add("rule", r.Rule.ID) // quiet too: it may have said something before
		}
	}
	g.rules(v.Rules, func(*graph.Rule) bool { return true })
	return g.own(k)
}

func changedRule(k *graph.Knowledge, id string) bool {
	return slices.ContainsFunc(k.Corrections, func(c graph.Correction) bool { return c.Kind == "rule" && c.Of == id && !c.Adds() })
}

// shownOwn is how many changes by own data one line of text names (common
// practice, no source).
const shownOwn = 4

// ownData writes in a line or two what own data changed, and what they added.
func (p *Page) ownData(list []*graph.Correction) {
	var changes, adds, folders []string
	rules := 0
	for _, c := range list {
		switch {
		case !c.Adds():
			changes = append(changes, changeWords(c))
			continue
		case c.Kind == "rule":
			rules++
		case c.Kind == "taxon":
			adds = append(adds, c.Of)
		default:
			adds = append(adds, c.Kind+" "+c.Of)
		}
		if f := folderOf(c.File); !slices.Contains(folders, f) {
			folders = append(folders, f)
		}
	}
	if rules > 0 {
		adds = append(adds, fmt.Sprintf("%d %s", rules, plural(rules, "rule", "rules")))
	}
	if len(list) > 0 {
		p.blank()
	}
	if len(changes) > 0 {
		p.item("", 2, "Your own data changes: "+namedFew(changes)+".")
	}
	if len(adds) > 0 {
		p.item("", 2, fmt.Sprintf("Your own data adds: %s (%s).", namedFew(adds), strings.Join(folders, ", ")))
	}
}

// changeWords tells a change in short: "daucus-carota leaf.gloss (mine/taxa/daucus-carota.yaml)".
func changeWords(c *graph.Correction) string {
	name := c.Of
	if c.Kind != "taxon" {
		name = c.Kind + " " + c.Of
	}
	if len(c.What) > 0 {
		name += " " + strings.Join(c.What, ", ")
	}
	return name + " (" + c.File + ")"
}

func namedFew(items []string) string {
	if rest := len(items) - shownOwn; rest > 1 {
		return strings.Join(items[:shownOwn], "; ") + fmt.Sprintf("; and %d more", rest)
	}
	return strings.Join(items, "; ")
}

// folderOf is the folder of own data that a file belongs to: mine of
// mine/taxa/daucus-carota.yaml, and mine of mine/vocabulary.yaml.
func folderOf(file string) string {
	dir := path.Dir(file)
	switch path.Base(dir) {
	case "taxa", "studies", "rules":
		return path.Dir(dir)
	}
	return dir
}
