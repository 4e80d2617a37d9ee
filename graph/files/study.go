package files

import (
	"strings"

	"github.com/goccy/go-yaml/token"

	"telltale/graph"
)

// StudyFile is data/studies/<taxon>.yaml: one herb worked up for gathering.
type StudyFile struct {
	Taxon  Word          `yaml:"taxon"`
	About  Word          `yaml:"about"`
	Gather []GatherEntry `yaml:"gather"`
	Leave  []RuleEntry   `yaml:"leave"`
	From   Words         `yaml:"from"`
}

// GatherEntry says which parts are gathered at which stages, and what has to be
// checked there.
type GatherEntry struct {
	Parts  Words        `yaml:"parts"`
	Stages Words        `yaml:"stages"`
	Checks []CheckEntry `yaml:"checks"`
	Say    Words        `yaml:"say"`
	From   Words        `yaml:"from"`
}

// CheckEntry demands a sure reading of a trait that fits.
type CheckEntry struct {
	Trait   Word  `yaml:"trait"`
	On      Word  `yaml:"on"`
	Is      Words `yaml:"is"`
	Because Word  `yaml:"because"`
	From    Words `yaml:"from"`
}

// RulesFile is a file of data/rules.
type RulesFile struct {
	Rules []RuleEntry `yaml:"rules"`
}

// RuleEntry is one rule: a CEL expression with what follows from it.
type RuleEntry struct {
	ID      Word        `yaml:"id"`
	For     Word        `yaml:"for"`
	Then    Word        `yaml:"then"`
	When    Word        `yaml:"when"`
	Because Word        `yaml:"because"`
	From    Words       `yaml:"from"`
	Tests   []TestEntry `yaml:"tests"`
}

// TestEntry is what an author expects of a rule on some readings.
type TestEntry struct {
	Given  Map[Word] `yaml:"given"`
	Expect Word      `yaml:"expect"`
	For    Words     `yaml:"for"`
}

func (p *page) study(f *StudyFile, k *known) *graph.Study {
	s := &graph.Study{Taxon: f.Taxon.Text, About: f.About.Text, Sources: p.cited(f.From, f.Taxon, k), File: p.name}
	if !k.taxa[s.Taxon] {
		p.unknownOr(f.Taxon, f.Taxon, "plant", k.taxonIDs)
	}
	for i := range f.Gather {
		s.Gather = append(s.Gather, p.gather(&f.Gather[i], f.Taxon, k))
	}
	for i := range f.Leave {
		e := &f.Leave[i]
		if e.Then.Text == "" {
			e.Then.Text = graph.Leave
		}
		if e.Then.Text != graph.Leave {
			p.add(e.Then, "a rule under leave: says %q, expected leave", e.Then.Text)
		}
		if e.For.Text == "" {
			e.For = Word{Text: s.Taxon, tok: f.Taxon.tok}
		}
		s.Leave = append(s.Leave, p.rule(e, k))
	}
	return s
}

func (p *page) gather(e *GatherEntry, owner Word, k *known) graph.Gather {
	g := graph.Gather{Parts: p.parts(e.Parts, owner), Stages: p.stages(e.Stages), Say: e.Say.texts(), Sources: p.cited(e.From, firstOf(e.Parts, owner), k)}
	if g.Stages == 0 {
		p.add(firstOf(e.Parts, owner), "no stage is named at which these parts are gathered")
	}
	if len(e.Checks) == 0 {
		p.add(firstOf(e.Parts, owner), "no checks are demanded: a herb nobody has to look at cannot be gathered")
	}
	for _, c := range e.Checks {
		t, ok := p.traitNamed(c.Trait, k)
		if !ok {
			continue
		}
		for _, w := range c.Is {
			if t.StateIndex(w.Text) < 0 {
				*p.problems = append(*p.problems, graph.UnknownState(t, w.Text, p.place(w.tok)))
			}
		}
		if c.On.Text != "" && !k.vocabulary.HasPosition(c.On.Text) {
			p.unknown(c.On, "position", k.vocabulary.PositionNames())
		}
		g.Checks = append(g.Checks, graph.Check{Trait: t.ID, Position: c.On.Text, States: c.Is.texts(), Because: c.Because.Text, Sources: p.cited(c.From, c.Trait, k)})
	}
	return g
}

func (p *page) rule(e *RuleEntry, k *known) *graph.Rule {
	r := &graph.Rule{
		ID: e.ID.Text, For: e.For.Text, When: e.When.Text, Because: e.Because.Text, Sources: p.cited(e.From, e.ID, k),
		Then: p.oneOf(e.Then, e.ID, "consequence (then)", graph.Consequences()), Place: p.place(e.ID.tok),
	}
	if r.ID == "" {
		p.add(e.When, "a rule has no id")
	}
	if strings.TrimSpace(r.When) == "" {
		p.add(e.ID, "rule %s has no expression (when)", r.ID)
	}
	if r.For != "" && !k.taxa[r.For] {
		p.unknown(e.For, "plant", k.taxonIDs)
	}
	r.WhenAt, r.Indent = p.expressionAt(e.When)
	for i := range e.Tests {
		r.Tests = append(r.Tests, p.ruleTest(&e.Tests[i], e.ID, k))
	}
	return r
}

// expressionAt finds where the first character of an expression stands, and how
// far its further lines are indented, so that its errors can be placed.
func (p *page) expressionAt(w Word) (graph.Place, int) {
	at := p.place(w.tok)
	if w.tok == nil {
		return at, 0
	}
	first, _, _ := strings.Cut(w.Text, "\n")
	block := w.tok.Type == token.LiteralType || w.tok.Type == token.FoldedType || strings.HasPrefix(strings.TrimSpace(w.tok.Origin), "|")
	for i := at.Line - 1; first != "" && i >= 0 && i < len(p.lines) && i < at.Line+2; i++ {
		if j := strings.Index(p.lines[i], first); j >= 0 {
			at.Line, at.Column = i+1, len([]rune(p.lines[i][:j]))+1
			break
		}
	}
	if block || strings.Contains(w.Text, "\n") {
		return at, at.Column - 1
	}
	return at, 0
}

func (p *page) ruleTest(e *TestEntry, owner Word, k *known) graph.RuleTest {
	t := graph.RuleTest{Expect: p.oneOf(e.Expect, owner, "outcome", graph.Outcomes()), For: e.For.texts(), Place: p.place(e.Expect.tok)}
	for _, w := range e.For {
		switch w.Text {
		case "stage", "part", "month", "hoped_for":
		default:
			p.traitNamed(w, k)
		}
	}
	for _, g := range e.Given {
		if g.Key.Text == "hoped_for" {
			t.Hoped = g.Value.Text
			if !k.taxa[t.Hoped] {
				p.unknown(g.Value, "plant", k.taxonIDs)
			}
			continue
		}
		p.observed(&t.Given, g.Key, g.Value, k.vocabulary)
	}
	return t
}
