package exchange

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
)

// words that a person could write and a careless writer would spoil.
var awkward = []string{
	"plain", "two words", "", " lead", "trail ", "a: b", "a #b", "#a", "- a", "a, b", "[a]", "{a}", "true", "no", "null", "~", "12", "1.50", "0x1f",
	"1e3", "5-9", "2001-01-01", "12:30", "'a'", `"a"`, `say "a"`, "it's", `both " and '`, "a\\b", "%41", "é", "naïve · …", "😀", "<a>", "a^b", "`a`",
	"@a", "&a", "*a", "!a", "|", ">", "?", "a?", "a=b", "a|b", "a;b", "=1+1", "tab\there", "line\nline", "line\n\nline\n", "  in\n out", "a\r\nb",
	"\u2028", "\u00a0x", "\ufeffx", "<urn:x>", "_:b", "\"^^<x>", "a:", "a -", "---", "...", "% a", "http://a.b/c?d=e#f", "( a", "Ω ohm", "on", "y",
}

func textOf(t *rapid.T, what string) string {
	if rapid.Bool().Draw(t, what+" awkward") {
		return rapid.SampledFrom(awkward).Draw(t, what)
	}
	return rapid.StringMatching(`[A-Za-zäö(][A-Za-z ,.:;#'"()\-\[\]{}=%&|!]{0,24}[a-z]`).Draw(t, what)
}

// filled is a text that is not only blanks.
func filled(t *rapid.T, what string) string {
	return rapid.Custom(func(t *rapid.T) string { return textOf(t, what) }).
		Filter(func(s string) bool { return strings.TrimSpace(s) != "" }).Draw(t, what)
}

func listOf(t *rapid.T, what string, most int) []string {
	return rapid.SliceOfNDistinct(rapid.Custom(func(t *rapid.T) string { return filled(t, what) }), 0, most, rapid.ID[string]).Draw(t, what)
}

// some draws so many of a list, in any order.
func some(t *rapid.T, what string, from []string, least int) []string {
	n := rapid.IntRange(least, len(from)).Draw(t, what+" count")
	return rapid.Permutation(from).Draw(t, what)[:n]
}

func stagesOf(t *rapid.T, least int) graph.StageSet {
	n := rapid.IntRange(least, len(graph.Stages())).Draw(t, "stages")
	return graph.StagesOf(rapid.Permutation(graph.Stages()).Draw(t, "which")[:n]...)
}

// anyKnowledge makes up a knowledge: every kind of trait, and every field now filled
// and now empty, with texts that are awkward to write.
func anyKnowledge(t *rapid.T) *graph.Knowledge {
	k := &graph.Knowledge{Vocabulary: &graph.Vocabulary{}}
	v := k.Vocabulary
	for _, s := range graph.Stages() {
		if rapid.Bool().Draw(t, "defined") {
			v.Stages = append(v.Stages, graph.StageDef{Stage: s, BBCH: []int{rapid.IntRange(0, 9).Draw(t, "bbch")}, Means: textOf(t, "means")})
		}
	}
	for _, p := range []string{"upper", "lower"} {
		v.Positions = append(v.Positions, graph.Term{Name: p, Means: textOf(t, "means")})
	}
	v.Efforts = []graph.Effort{{Name: "eye", Cost: rapid.Float64Range(0, 1000).Draw(t, "cost"), Means: textOf(t, "means"), From: textOf(t, "from")}}
	for i, kind := range []graph.Kind{graph.StateKind, graph.MeasureKind, graph.CountKind, graph.MonthsKind} {
		v.Traits = append(v.Traits, anyTrait(t, fmt.Sprintf("organ.trait%d", i), kind))
	}
	v.Index()
	for i := range rapid.IntRange(0, 2).Draw(t, "sources") {
		k.Sources = append(k.Sources, &graph.Source{
			ID: fmt.Sprintf("source-%d", i), Title: filled(t, "title"), Publisher: textOf(t, "publisher"),
			Year: rapid.SampledFrom([]int{0, 1753, 2026}).Draw(t, "year"),
			URL:  textOf(t, "url"), Kind: textOf(t, "kind"),
		})
	}
	family := filled(t, "family") // plants of one genus are of one family
	for i := range rapid.IntRange(1, 3).Draw(t, "taxa") {
		k.Taxa = append(k.Taxa, anyTaxon(t, k, fmt.Sprintf("genus-species%d", i), family))
	}
	for i := range rapid.IntRange(0, len(k.Taxa)).Draw(t, "studies") {
		k.Studies = append(k.Studies, anyStudy(t, k, k.Taxa[i].ID))
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "rules") {
		k.Rules = append(k.Rules, anyRule(t, k, fmt.Sprintf("rule-%d", i)))
	}
	k.Sort()
	return k
}

func anyTrait(t *rapid.T, id string, kind graph.Kind) *graph.Trait {
	out := &graph.Trait{
		ID: id, Kind: kind, Organ: textOf(t, "organ"), Label: filled(t, "label") + " " + id, Words: listOf(t, "word", 2), Question: filled(t, "question"),
		Means: textOf(t, "means"), SeeAt: stagesOf(t, 0), Effort: "eye", Caution: textOf(t, "caution"), Group: filled(t, "group"),
		Excludes: rapid.Bool().Draw(t, "excludes"), Because: textOf(t, "because"), Many: rapid.Bool().Draw(t, "many"),
		ErrorRate: rapid.Float64Range(0, 1).Draw(t, "rate"), ErrorFrom: textOf(t, "from"),
	}
	for i := range out.Words { // a name stands for one trait only
		out.Words[i] += " " + id
	}
	switch kind {
	case graph.MeasureKind:
		out.Unit = rapid.SampledFrom([]string{"cm", "mm"}).Draw(t, "unit")
	case graph.StateKind:
		for _, s := range []string{"one", "two_two", "none"} {
			out.States = append(out.States, graph.State{ID: s, Means: textOf(t, "means"), Words: listOf(t, "word", 2)})
			out.States[len(out.States)-1].Words = slices.DeleteFunc(out.States[len(out.States)-1].Words, func(w string) bool { return w == "none" })
		}
		out.States[0].Near = some(t, "near", []string{"two_two", "none"}, 0)
	}
	return out
}

func cited(t *rapid.T, k *graph.Knowledge) []string {
	ids := []string{graph.Memory}
	for _, s := range k.Sources {
		ids = append(ids, s.ID)
	}
	return some(t, "cited", ids, 1)
}

func anyTaxon(t *rapid.T, k *graph.Knowledge, id, family string) *graph.Taxon {
	out := &graph.Taxon{
		ID: id, Name: filled(t, "name") + " " + id, Author: textOf(t, "author"), Family: family, Common: listOf(t, "common", 3),
		Synonyms: listOf(t, "synonym", 2), Range: listOf(t, "range", 2), Sources: cited(t, k), File: "taxa/" + id + ".yaml",
	}
	for _, tr := range k.Vocabulary.Traits {
		for range rapid.IntRange(0, 3).Draw(t, "statements") {
			out.Statements = append(out.Statements, anyStatement(t, k, tr))
		}
	}
	for _, tr := range k.Vocabulary.Traits {
		if rapid.Bool().Draw(t, "overruled") {
			out.Overrules = append(out.Overrules, graph.Overrule{Trait: tr.ID, Exhaustive: rapid.Bool().Draw(t, "holds"), Because: filled(t, "because"), Sources: cited(t, k)})
		}
	}
	for range rapid.IntRange(0, 2).Draw(t, "toxicity") {
		out.Toxicity = append(out.Toxicity, graph.Toxicity{
			Parts: some(t, "part", graph.Parts(), 1), Told: textOf(t, "told"), Severity: graph.Severity(rapid.IntRange(1, 4).Draw(t, "severity")),
			Irritant: rapid.Bool().Draw(t, "irritant"), Route: rapid.SampledFrom(graph.Routes()).Draw(t, "route"), Agent: textOf(t, "agent"),
			Effect: textOf(t, "effect"), Sources: cited(t, k),
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "uses") {
		out.Uses = append(out.Uses, graph.Use{
			Parts: some(t, "part", graph.Parts(), 1), Told: textOf(t, "told"), Category: rapid.SampledFrom(graph.UseCategories()).Draw(t, "category"),
			Use: textOf(t, "use"), Stages: stagesOf(t, 0), Caution: textOf(t, "caution"), Sources: cited(t, k),
		})
	}
	if id != "genus-species0" {
		out.Lookalikes = append(out.Lookalikes, graph.Lookalike{
			Taxon: "genus-species0", Stages: stagesOf(t, 0), Evidence: rapid.SampledFrom(graph.Evidences()).Draw(t, "evidence"),
			Difference: textOf(t, "difference"), Sources: cited(t, k),
		})
	}
	return out
}

func anyStatement(t *rapid.T, k *graph.Knowledge, tr *graph.Trait) graph.Statement {
	s := graph.Statement{
		Trait: tr.ID, Frequency: graph.Frequency(rapid.IntRange(1, 5).Draw(t, "frequency")), Stages: stagesOf(t, 0),
		Position: rapid.SampledFrom([]string{"", "upper", "lower"}).Draw(t, "position"), Sources: cited(t, k), Note: textOf(t, "note"),
	}
	number := func(least, most int) float64 { return float64(rapid.IntRange(least, most).Draw(t, "number")) }
	switch tr.Kind {
	case graph.StateKind:
		s.State = rapid.SampledFrom(tr.StateIDs()).Draw(t, "state")
	case graph.MonthsKind:
		a, b := number(1, 12), number(1, 12)
		s.Range = graph.Range{LowExtreme: a, Low: a, High: b, HighExtreme: b}
	default:
		a := []float64{number(0, 99), number(0, 99), number(0, 99), number(0, 99)}
		slices.Sort(a)
		if tr.Kind == graph.MeasureKind {
			for i := range a {
				a[i] /= 8
			}
		}
		s.Range = graph.Range{LowExtreme: a[0], Low: a[1], High: a[2], HighExtreme: a[3]}
	}
	return s
}

func anyStudy(t *rapid.T, k *graph.Knowledge, taxon string) *graph.Study {
	s := &graph.Study{Taxon: taxon, About: textOf(t, "about"), Sources: cited(t, k), File: "studies/" + taxon + ".yaml"}
	for range rapid.IntRange(0, 2).Draw(t, "gather") {
		g := graph.Gather{Parts: some(t, "part", graph.Parts(), 1), Stages: stagesOf(t, 1), Say: listOf(t, "say", 2), Sources: cited(t, k)}
		for range rapid.IntRange(1, 2).Draw(t, "checks") {
			tr := rapid.SampledFrom(k.Vocabulary.Traits).Draw(t, "trait")
			c := graph.Check{Trait: tr.ID, Position: rapid.SampledFrom([]string{"", "upper"}).Draw(t, "on"), Because: textOf(t, "because"), Sources: cited(t, k)}
			if tr.Kind == graph.StateKind {
				c.States = some(t, "is", tr.StateIDs(), 0)
			}
			g.Checks = append(g.Checks, c)
		}
		s.Gather = append(s.Gather, g)
	}
	for range rapid.IntRange(0, 1).Draw(t, "too close") {
		s.TooClose = append(s.TooClose, graph.TooClose{
			Taxon: rapid.SampledFrom(k.TaxonIDs()).Draw(t, "with"), Stages: stagesOf(t, 1), Because: filled(t, "because"), Parted: filled(t, "parted"), Sources: cited(t, k),
		})
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "leave") {
		r := anyRule(t, k, fmt.Sprintf("%s-leave-%d", taxon, i))
		r.For, r.Then = taxon, graph.Leave
		s.Leave = append(s.Leave, r)
	}
	return s
}

func anyRule(t *rapid.T, k *graph.Knowledge, id string) *graph.Rule {
	r := &graph.Rule{
		ID: id, For: rapid.SampledFrom(append(k.TaxonIDs(), "")).Draw(t, "for"), Then: rapid.SampledFrom(graph.Consequences()).Draw(t, "then"),
		When: strings.TrimSpace(filled(t, "when")), Because: textOf(t, "because"), Sources: cited(t, k), Place: graph.Place{File: "rules/made.yaml", Line: 3, Column: 7},
	}
	for range rapid.IntRange(0, 2).Draw(t, "tests") {
		test := graph.RuleTest{Expect: rapid.SampledFrom(graph.Outcomes()).Draw(t, "expect"), Given: graph.Observation{
			Stage: rapid.SampledFrom(append(graph.Stages(), graph.AnyStage)).Draw(t, "stage"), Month: rapid.IntRange(0, 12).Draw(t, "month"),
			Part: rapid.SampledFrom(append(graph.Parts(), "")).Draw(t, "part"),
		}}
		for _, text := range some(t, "given", []string{"organ.trait0=one|none?", "organ.trait0@upper!=one", "organ.trait1=2.5", "organ.trait2@lower=3", "organ.trait3=11"}, 0) {
			reading, err := graph.ParseReading(k.Vocabulary, text)
			if err != nil {
				t.Fatal(err)
			}
			test.Given.Readings = append(test.Given.Readings, reading)
		}
		if test.Expect == graph.Waits {
			test.For = some(t, "waits for", []string{"organ.trait0", "organ.trait1", "stage"}, 0)
		}
		r.Tests = append(r.Tests, test)
	}
	return r
}

// out and back again, by the format's name.
var ways = map[string]func(context.Context, *graph.Knowledge) (*graph.Knowledge, error){
	"N-Quads": func(ctx context.Context, k *graph.Knowledge) (*graph.Knowledge, error) {
		var b bytes.Buffer
		if err := WriteNQuads(&b, k); err != nil {
			return nil, err
		}
		return knowledgeIn(ReadNQuads(ctx, "graph.nq", &b))
	},
	"JSON-LD": func(ctx context.Context, k *graph.Knowledge) (*graph.Knowledge, error) {
		var b bytes.Buffer
		if err := WriteJSONLD(&b, k); err != nil {
			return nil, err
		}
		return knowledgeIn(ReadJSONLD(ctx, "graph.jsonld", &b))
	},
}

func knowledgeIn(in *Received, err error) (*graph.Knowledge, error) {
	if err != nil {
		return nil, err
	}
	return in.Knowledge, nil
}

// TestExportFollowedByImportGivesAnEqualGraph: no format may lose, add or change
// anything. An import writes the data folder and reads it back before it gives the
// knowledge, so the files are part of the way.
func TestExportFollowedByImportGivesAnEqualGraph(t *testing.T) {
	for name, way := range ways {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			k := anyKnowledge(t)
			back, err := way(context.Background(), k)
			if err != nil {
				t.Fatalf("it does not come back: %s", err)
			}
			if d := Difference(k, back); d != "" {
				t.Fatal(d)
			}
		}))
	}
}
