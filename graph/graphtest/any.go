package graphtest

import (
	"fmt"
	"slices"

	"pgregory.net/rapid"

	"telltale/graph"
)

// AnyKnowledge draws small graphs that use every field there is: what is true of
// them is not only true of the data that comes with the program.
func AnyKnowledge() *rapid.Generator[*graph.Knowledge] {
	return rapid.Custom(func(t *rapid.T) *graph.Knowledge {
		m := &maker{T: t, k: &graph.Knowledge{Vocabulary: anyVocabulary(t)}}
		for i := range m.upTo(3) {
			m.k.Sources = append(m.k.Sources, m.source(i))
		}
		for i := range m.upTo(3) {
			m.taxa = append(m.taxa, fmt.Sprintf("herba-%c", 'a'+i))
		}
		for _, id := range m.taxa {
			m.k.Taxa = append(m.k.Taxa, m.taxon(id))
			if m.yes() {
				m.k.Studies = append(m.k.Studies, m.study(id))
			}
		}
		m.k.Rules = m.rulesNamed("general")
		for range m.upTo(1) {
			m.k.Corrections = append(m.k.Corrections, graph.Correction{Kind: m.text(), Of: m.text(), What: m.texts(), File: m.text()})
		}
		m.k.Sort()
		return m.k
	})
}

// AnyReading draws readings of the traits of a vocabulary, of every kind.
func AnyReading(v *graph.Vocabulary) *rapid.Generator[graph.Reading] {
	return rapid.Custom(func(t *rapid.T) graph.Reading {
		return (&maker{T: t, k: &graph.Knowledge{Vocabulary: v}}).reading()
	})
}

// maker draws parts of a graph that fit together.
type maker struct {
	*rapid.T
	k    *graph.Knowledge
	taxa []string
}

func (m *maker) yes() bool      { return rapid.Bool().Draw(m.T, "yes") }
func (m *maker) upTo(n int) int { return rapid.IntRange(0, n).Draw(m.T, "how many") }
func (m *maker) text() string   { return rapid.String().Draw(m.T, "text") }

// texts draws a list in which a text may well stand twice, or be empty.
func (m *maker) texts() []string {
	return rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom([]string{"goodwort", "true herb", ""}), rapid.String()), 0, 4).Draw(m.T, "texts")
}

func one[T any](m *maker, list []T) T { return rapid.SampledFrom(list).Draw(m.T, "one of") }

func some(m *maker, list []string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(string) bool { return m.yes() })
}

func oneOrNone(m *maker, list []string) string { return one(m, append([]string{""}, list...)) }

func (m *maker) stages() graph.StageSet {
	return graph.StageSet(rapid.IntRange(0, int(graph.AllStages())).Draw(m.T, "stages"))
}

func (m *maker) sources() []string {
	ids := []string{graph.Memory}
	for _, s := range m.k.Sources {
		ids = append(ids, s.ID)
	}
	return some(m, ids)
}
func (m *maker) parts() []string { return some(m, graph.Parts()[:4]) }

func (m *maker) place() graph.Place {
	return graph.Place{File: one(m, []string{"rules/a.yaml", "a:b.yaml", ""}), Line: m.upTo(90), Column: m.upTo(90)}
}

func (m *maker) source(i int) *graph.Source {
	return &graph.Source{ID: fmt.Sprintf("flora-%d", i), Title: m.text(), Publisher: m.text(), Year: m.upTo(2026), URL: m.text(), Kind: m.text()}
}

func anyVocabulary(t *rapid.T) *graph.Vocabulary {
	m := &maker{T: t}
	v := &graph.Vocabulary{}
	for i, s := range graph.Stages()[:m.upTo(6)] {
		v.Stages = append(v.Stages, graph.StageDef{Stage: s, BBCH: []int{i + 1, i}, Means: m.text()})
	}
	for _, p := range some(m, []string{"upper", "lower", "basal", "young"}) {
		v.Positions = append(v.Positions, graph.Term{Name: p, Means: m.text()})
	}
	v.Efforts = []graph.Effort{{Name: "eye", Cost: 1, Means: m.text(), From: graph.Memory}, {Name: "lens", Cost: rapid.Float64Range(0, 1000).Draw(t, "cost")}}
	for i, kind := range []graph.Kind{graph.StateKind, graph.MeasureKind, graph.MeasureKind, graph.CountKind, graph.MonthsKind, graph.StateKind} {
		v.Traits = append(v.Traits, m.trait(i, kind))
	}
	v.Index()
	return v
}

func (m *maker) trait(i int, kind graph.Kind) *graph.Trait {
	t := &graph.Trait{
		ID: fmt.Sprintf("organ.trait_%d", i), Kind: kind, Organ: m.text(), Label: m.text(), Words: m.texts(), Question: m.text(), Means: m.text(),
		SeeAt: m.stages(), Effort: one(m, []string{"eye", "lens"}), Caution: m.text(), Group: m.text(), Excludes: m.yes(), Because: m.text(),
		Many: m.yes(), ErrorRate: rapid.Float64Range(0, 1).Draw(m.T, "error rate"), ErrorFrom: m.text(),
	}
	switch kind {
	case graph.MeasureKind:
		t.Unit = []string{"cm", "mm"}[i%2]
	case graph.StateKind:
		for j := range 2 + m.upTo(3) {
			t.States = append(t.States, graph.State{ID: fmt.Sprintf("state_%c", 'a'+j), Means: m.text(), Words: m.texts()})
		}
		for j := range t.States {
			near := some(m, t.StateIDs())
			t.States[j].Near = slices.DeleteFunc(near, func(s string) bool { return s == t.States[j].ID })
		}
	}
	return t
}

func (m *maker) taxon(id string) *graph.Taxon {
	t := &graph.Taxon{
		ID: id, Name: "Herba " + id[len("herba-"):], Author: m.text(), Family: "Herbaceae", Common: m.texts(), Synonyms: m.texts(),
		Range: m.texts(), Sources: m.sources(), File: "taxa/" + id + ".yaml",
	}
	for range m.upTo(4) {
		t.Statements = append(t.Statements, m.statement())
	}
	for range m.upTo(2) {
		t.Overrules = append(t.Overrules, graph.Overrule{Trait: one(m, m.k.Vocabulary.TraitIDs()), Exhaustive: m.yes(), Because: m.text(), Sources: m.sources()})
		t.Toxicity = append(t.Toxicity, graph.Toxicity{
			Parts: m.parts(), Told: m.text(), Severity: graph.Severity(m.upTo(int(graph.Deadly))), Irritant: m.yes(),
			Route: one(m, graph.Routes()), Agent: m.text(), Effect: m.text(), Sources: m.sources(),
		})
		t.Uses = append(t.Uses, graph.Use{
			Parts: m.parts(), Told: m.text(), Category: one(m, graph.UseCategories()), Use: m.text(), Stages: m.stages(), Caution: m.text(), Sources: m.sources(),
		})
		t.Lookalikes = append(t.Lookalikes, graph.Lookalike{
			Taxon: one(m, m.taxa), Stages: m.stages(), Evidence: one(m, graph.Evidences()), Difference: m.text(), Sources: m.sources(),
		})
	}
	return t
}

func (m *maker) statement() graph.Statement {
	t := one(m, m.k.Vocabulary.Traits)
	s := graph.Statement{
		Trait: t.ID, Frequency: graph.Frequency(1 + m.upTo(int(graph.Never)-1)), Stages: m.stages(),
		Position: oneOrNone(m, m.k.Vocabulary.PositionNames()), Sources: m.sources(), Note: m.text(),
	}
	switch t.Kind {
	case graph.StateKind:
		s.State = one(m, t.StateIDs())
	case graph.MonthsKind:
		s.Range = graph.Range{Low: float64(1 + m.upTo(11)), High: float64(1 + m.upTo(11))}
		s.Range.LowExtreme, s.Range.HighExtreme = s.Range.Low, s.Range.High
	default:
		n := m.lengths(t, 4)
		s.Range = graph.Range{LowExtreme: n[0], Low: n[1], High: n[2], HighExtreme: n[3]}
	}
	return s
}

// lengths draws rising numbers as a trait can have them, measures down to a
// tenth.
func (m *maker) lengths(t *graph.Trait, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = float64(m.upTo(20000))
		if t.Kind == graph.MeasureKind {
			out[i] /= 10
		}
	}
	slices.Sort(out)
	return out
}

func (m *maker) study(taxon string) *graph.Study {
	s := &graph.Study{Taxon: taxon, About: m.text(), Sources: m.sources(), File: "studies/" + taxon + ".yaml", Leave: m.rulesNamed(taxon)}
	for range m.upTo(1) {
		s.TooClose = append(s.TooClose, graph.TooClose{Taxon: one(m, m.taxa), Stages: m.stages(), Because: m.text(), Parted: m.text(), Sources: m.sources()})
	}
	for range m.upTo(2) {
		g := graph.Gather{Parts: m.parts(), Stages: m.stages(), Say: m.texts(), Sources: m.sources()}
		for range m.upTo(2) {
			t := one(m, m.k.Vocabulary.Traits)
			g.Checks = append(g.Checks, graph.Check{
				Trait: t.ID, Position: oneOrNone(m, m.k.Vocabulary.PositionNames()), States: some(m, t.StateIDs()), Because: m.text(), Sources: m.sources(),
			})
		}
		s.Gather = append(s.Gather, g)
	}
	return s
}

func (m *maker) rulesNamed(name string) []*graph.Rule {
	var out []*graph.Rule
	for i := range m.upTo(2) {
		r := &graph.Rule{
			ID: fmt.Sprintf("%s-%d", name, i), For: oneOrNone(m, m.taxa), Then: one(m, graph.Consequences()), When: m.text(), Because: m.text(),
			Sources: m.sources(), Place: m.place(), WhenAt: m.place(), Indent: m.upTo(9),
		}
		for range m.upTo(2) {
			r.Tests = append(r.Tests, m.ruleTest())
		}
		out = append(out, r)
	}
	return out
}

func (m *maker) ruleTest() graph.RuleTest {
	t := graph.RuleTest{
		Given: graph.Observation{Stage: graph.Stage(m.upTo(int(graph.Dormant))), Month: m.upTo(12), Part: oneOrNone(m, graph.Parts())},
		Hoped: oneOrNone(m, m.taxa), Expect: one(m, graph.Outcomes()), For: some(m, m.k.Vocabulary.TraitIDs()), Place: m.place(),
	}
	for range m.upTo(2) {
		t.Given.Readings = append(t.Given.Readings, m.reading())
	}
	return t
}

func (m *maker) reading() graph.Reading {
	t := one(m, m.k.Vocabulary.Traits)
	r := graph.Reading{Trait: t.ID, Position: oneOrNone(m, m.k.Vocabulary.PositionNames()), Unsure: m.yes()}
	switch t.Kind {
	case graph.StateKind:
		m.readStates(t, &r)
	case graph.MonthsKind:
		r.Low = float64(1 + m.upTo(11))
		r.High = r.Low
	default:
		n := m.lengths(t, 2)
		r.Low, r.High = n[0], n[1]
	}
	return r
}

// readStates draws one of some states, or the states that it was not. It was one
// at least, and not all.
func (m *maker) readStates(t *graph.Trait, r *graph.Reading) {
	negated := m.yes()
	in := map[string]bool{one(m, t.StateIDs()): true}
	for _, s := range some(m, t.StateIDs()) {
		in[s] = true
	}
	if negated && len(in) == len(t.States) {
		delete(in, t.States[0].ID)
	}
	for _, s := range t.StateIDs() {
		if in[s] != negated {
			r.States = append(r.States, s)
		}
		if in[s] && negated {
			r.Not = append(r.Not, s)
		}
	}
}
