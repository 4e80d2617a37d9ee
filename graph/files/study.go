package files

import (
	"path"
	"strings"

	"telltale/graph"
)

// StudyFile is data/studies/<taxon>.yaml: one herb worked up for gathering.
type StudyFile struct {
	Taxon  Word          `yaml:"taxon"`
	About  Word          `yaml:"about"`
	Gather []GatherEntry `yaml:"gather"`
	Leave  []RuleEntry   `yaml:"leave"`
	// TooClose names plants that cannot be parted from the herb at some stages.
	TooClose []TooCloseEntry `yaml:"too_close"`
	From     Words           `yaml:"from"`
}

// TooCloseEntry says which plant cannot be parted from the herb by two constant
// differences at these stages, why, and how or when the two can be told apart.
type TooCloseEntry struct {
	begun
	Taxon   Word  `yaml:"taxon"`
	Stages  Words `yaml:"stages"`
	Because Word  `yaml:"because"`
	Parted  Word  `yaml:"parted"`
	From    Words `yaml:"from"`
}

// GatherEntry says which parts are gathered at which stages, and what has to be
// checked there.
type GatherEntry struct {
	begun
	Parts  Words        `yaml:"parts"`
	Stages Words        `yaml:"stages"`
	Checks []CheckEntry `yaml:"checks"`
	Say    Words        `yaml:"say"`
	From   Words        `yaml:"from"`
}

// CheckEntry demands a sure reading of a trait that fits.
type CheckEntry struct {
	begun
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
	begun
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
	begun
	Given  Map[Word] `yaml:"given"`
	Expect Word      `yaml:"expect"`
	For    Words     `yaml:"for"`
}

func (p *page) study(f *StudyFile, k *known) *graph.Study {
	s := &graph.Study{Taxon: f.Taxon.Text, About: f.About.Text, Sources: p.cited(f.From, f.Taxon, k), File: p.name}
	switch {
	case s.Taxon == "":
		p.add(f.Taxon, "this study does not say of which plant it is (taxon)")
	case !k.taxa[s.Taxon]:
		p.unknown(f.Taxon, "plant", k.taxonIDs)
	case path.Base(p.name) != s.Taxon+".yaml":
		p.add(f.Taxon, "the study of %q is named %s, expected %s.yaml", s.Taxon, path.Base(p.name), s.Taxon)
	}
	for i := range f.Gather {
		s.Gather = append(s.Gather, p.gather(&f.Gather[i], k))
	}
	for i := range f.Leave {
		s.Leave = append(s.Leave, p.leave(&f.Leave[i], s.Taxon, k))
	}
	for i := range f.TooClose {
		s.TooClose = append(s.TooClose, p.tooClose(&f.TooClose[i], k))
	}
	return s
}

func (p *page) tooClose(e *TooCloseEntry, k *known) graph.TooClose {
	owner := e.called("too_close")
	c := graph.TooClose{Taxon: e.Taxon.Text, Stages: p.stages(e.Stages), Because: e.Because.Text, Parted: e.Parted.Text, Sources: p.cited(e.From, owner, k)}
	if !k.taxa[c.Taxon] {
		p.unknownOr(e.Taxon, owner, "plant", k.taxonIDs)
	}
	if c.Stages == 0 || c.Because == "" || c.Parted == "" {
		p.add(owner, "too_close %s has to say at which stages, why (because), and how or when the two can be told apart (parted)", c.Taxon)
	}
	return c
}

// leave reads a rule of a study, which is about its plant, and to leave it.
func (p *page) leave(e *RuleEntry, taxon string, k *known) *graph.Rule {
	if e.Then.Text == "" {
		e.Then.Text = graph.Leave
	}
	r := p.rule(e, k)
	if r.Then != graph.Leave {
		p.add(e.Then, "a rule under leave: says %q, expected leave", r.Then)
	}
	if r.For == "" {
		r.For = taxon
	}
	return r
}

func (p *page) gather(e *GatherEntry, k *known) graph.Gather {
	owner := e.called("gathering")
	g := graph.Gather{Parts: p.parts(e.Parts, owner), Stages: p.stages(e.Stages), Say: e.Say.texts(), Sources: p.cited(e.From, owner, k)}
	if g.Stages == 0 {
		p.add(owner, "no stage is named at which these parts are gathered")
	}
	if len(e.Checks) == 0 {
		p.add(owner, "no checks are demanded: a herb nobody has to look at cannot be gathered")
	}
	for i := range e.Checks {
		if c, ok := p.check(&e.Checks[i], k); ok {
			g.Checks = append(g.Checks, c)
		}
	}
	return g
}

func (p *page) check(e *CheckEntry, k *known) (graph.Check, bool) {
	t, ok := p.traitNamed(e.Trait, e.called("check"), k)
	if !ok {
		return graph.Check{}, false
	}
	for _, w := range e.Is {
		switch {
		case t.Kind != graph.StateKind:
			p.add(w, "%s is a %s, which a check cannot ask for by name: leave is: out, and any value stated of the plant fits", t.ID, t.Kind)
		case t.StateIndex(w.Text) < 0:
			p.note(graph.UnknownState(t, w.Text, p.place(w.tok)))
		}
	}
	return graph.Check{
		Trait: t.ID, Position: p.position(e.On, k), States: e.Is.texts(), Because: e.Because.Text, Sources: p.cited(e.From, e.Trait, k),
	}, true
}

func (p *page) rule(e *RuleEntry, k *known) *graph.Rule {
	owner := e.called("rule")
	if p.named(e.ID, plainID, "rule", "letters, digits and hyphens") {
		owner = e.ID
	} else {
		p.add(owner, "this rule has no id")
	}
	r := &graph.Rule{
		ID: e.ID.Text, For: e.For.Text, Because: e.Because.Text, Sources: p.cited(e.From, owner, k),
		Then: p.oneOf(e.Then, owner, "consequence (then)", graph.Consequences()), Place: p.place(owner.tok),
	}
	if strings.TrimSpace(e.When.Text) == "" {
		p.add(owner, "%s has no expression (when)", owner.Text)
	}
	if r.For != "" && !k.taxa[r.For] {
		p.unknown(e.For, "plant", k.taxonIDs)
	}
	r.When, r.WhenAt, r.Indent = p.expression(e.When)
	for i := range e.Tests {
		r.Tests = append(r.Tests, p.ruleTest(&e.Tests[i], k))
	}
	return r
}

func (p *page) ruleTest(e *TestEntry, k *known) graph.RuleTest {
	owner := e.called("test")
	t := graph.RuleTest{Expect: p.oneOf(e.Expect, owner, "outcome (expect)", graph.Outcomes()), For: e.For.texts(), Place: p.place(e.Expect.tok)}
	for _, w := range e.For {
		switch w.Text {
		case "stage", "part", "month", "hoped_for", "is_ruled_out":
		default:
			p.traitNamed(w, owner, k)
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
