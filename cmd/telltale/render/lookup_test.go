package render_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/muesli/reflow/ansi"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/graph/names"
	"telltale/rules/reason"
)

const lookups = golden + "/lookup"

// lookedUp is the made-up flora with what its files do not have: sources that
// differ, uses and harm that are disputed, a correction, statements on parts of the
// plant.
func lookedUp(t testing.TB) *graph.Knowledge {
	t.Helper()
	k := lanterns(t).Matrix.Knowledge
	herb, _ := k.Taxon("lanterna-pratensis")
	herb.Synonyms = []string{"Lanterna communis"}
	say := func(trait, state string, f graph.Frequency, position, note string, sources ...string) {
		herb.Statements = append(herb.Statements, graph.Statement{Trait: trait, State: state, Frequency: f, Position: position, Note: note, Sources: sources})
	}
	say("leaf.margin", "entire", graph.Rarely, "upper", "old leaves, said | to be *smooth*", graph.Memory)
	say("leaf.margin", "dentate", graph.Sometimes, "", "", "tarn-handbook")
	herb.Overrules = []graph.Overrule{{Trait: "stem.surface", Because: "young shoots are little known", Sources: []string{graph.Memory}}}
	herb.Toxicity = append(herb.Toxicity,
		graph.Toxicity{Parts: []string{"root"}, Told: "old root", Severity: graph.Serious, Route: graph.Ingestion, Agent: "pratine", Effect: "sickness", Sources: []string{"quell-poison"}},
		graph.Toxicity{Parts: []string{"root"}, Severity: graph.Mild, Route: graph.Ingestion, Sources: []string{graph.Memory}},
		graph.Toxicity{Parts: []string{"sap"}, Irritant: true, Route: graph.SkinAndSun, Effect: "blisters <hours> later", Sources: []string{"quell-poison"}})
	herb.Uses = append(herb.Uses, graph.Use{Parts: []string{"root"}, Category: "medicine", Use: "for sleep", Caution: "not for children", Sources: []string{graph.Memory}})
	if study, ok := k.Study(herb.ID); ok {
		study.TooClose = []graph.TooClose{{Taxon: "lanterna-palustris", Stages: graph.StagesOf(graph.Rosette), Because: "the rosettes are alike", Parted: "once a stem has risen", Sources: []string{graph.Memory}}}
	}
	for _, of := range []string{"taxon lanterna-pratensis", "trait leaf.margin", "rule hairs-on-the-shoot", "source corvale-flora"} {
		kind, id, _ := strings.Cut(of, " ")
		k.Corrections = append(k.Corrections, graph.Correction{Kind: kind, Of: id, What: []string{"something"}, File: "mine/" + kind + ".yaml"})
	}
	return k
}

// looked is what a command that looks things up answers: a sheet and a document.
type looked struct {
	sheet *render.Sheet
	doc   any
}

func lookedUpPages(t testing.TB) map[string]looked {
	k := lookedUp(t)
	herb, _ := k.Taxon("lanterna-pratensis")
	widow, _ := k.Taxon("lanterna-vidua")
	edge, _ := k.Vocabulary.Trait("leaf.margin")
	length, _ := k.Vocabulary.Trait("leaf.length")
	months, _ := k.Vocabulary.Trait("season.flowering")
	study, _ := k.Study(herb.ID)
	flora, _ := k.Source("corvale-flora")
	memory := &graph.Source{ID: graph.Memory, Title: "Memory"}
	why := []render.Why{
		{Trait: edge, Disputes: reason.Disputes(herb, edge)}, {Trait: months},
		{About: render.WhyToxicity, HarmDisputes: reason.HarmDisputes(herb), UseDisputes: reason.UseDisputes(herb)}, {About: render.WhyUses, UseDisputes: reason.UseDisputes(herb)},
	}
	var plants []names.Plant
	for _, x := range k.Taxa {
		plants = append(plants, names.Plant{ID: x.ID, Accepted: x.Name + " " + x.Author, Synonyms: x.Synonyms, Common: x.Common})
	}
	found := append(names.NewIndex(plants).Find("Lanterna cf. communis"), names.NewIndex(plants).Find("lantrn")...)
	counts := k.CitationCounts()
	var sources []render.SourceRow
	for _, s := range k.Sources {
		sources = append(sources, render.SourceRow{Source: s, Cited: counts[s.ID]})
	}
	var traits []render.TraitRow
	for i, x := range k.Vocabulary.Traits {
		traits = append(traits, render.TraitRow{Trait: x, Plants: i})
	}
	rules := append(slices.Clone(study.Leave), k.Rules...)
	m := &render.Matrix{Plants: []*graph.Taxon{herb, widow}, Rows: []render.MatrixRow{
		{Trait: edge, Cells: []render.MatrixCell{{Statements: stated(herb, edge)}, {Statements: stated(widow, edge), Parts: graph.StagesOf(graph.LeafyShoot)}}},
		{Trait: length, Cells: []render.MatrixCell{{Statements: stated(herb, length)}, {Statements: stated(widow, length), Usually: graph.StagesOf(graph.LeafyShoot, graph.Flowering)}}},
	}}
	studies := []render.StudyRow{{Taxon: herb, Study: study}}
	return map[string]looked{
		"taxon-show":    {render.TaxonSheet(k, herb), render.TaxonJSON(k, herb)},
		"taxon-why":     {render.WhySheet(k, herb, why), render.WhyJSON(k, herb, why)},
		"taxon-list":    {render.TaxaSheet(k, k.Taxa), render.TaxaJSON(k, k.Taxa)},
		"taxon-find":    {render.MatchesSheet(k, "lantrn", found), render.MatchesJSON(k, found)},
		"trait-states":  {render.TraitSheet(k, edge), render.TraitJSON(k, edge)},
		"trait-measure": {render.TraitSheet(k, length), render.TraitJSON(k, length)},
		"trait-months":  {render.TraitSheet(k, months), render.TraitJSON(k, months)},
		"trait-list":    {render.TraitsSheet(traits), render.TraitsJSON(traits)},
		"study-show":    {render.StudySheet(k, herb, study, rules, m), render.StudyJSON(k, herb, study, rules, m)},
		"study-list":    {render.StudiesSheet(studies), render.StudiesJSON(studies)},
		"source-show":   {render.SourceSheet(k, flora, k.CitationsOf(flora.ID)), render.SourceJSON(k, flora, k.CitationsOf(flora.ID))},
		"source-memory": {render.SourceSheet(k, memory, k.CitationsOf(memory.ID)), render.SourceJSON(k, memory, k.CitationsOf(memory.ID))},
		"source-list":   {render.SourcesSheet(sources), render.SourcesJSON(sources)},
	}
}

func stated(taxon *graph.Taxon, trait *graph.Trait) []*graph.Statement {
	var out []*graph.Statement
	for i := range taxon.Statements {
		if s := &taxon.Statements[i]; s.Trait == trait.ID {
			out = append(out, s)
		}
	}
	return out
}

// at sets a sheet at a width.
func at(t testing.TB, s *render.Sheet, columns int) string {
	t.Helper()
	t.Setenv("COLUMNS", fmt.Sprint(columns))
	return written(t, s.Text)
}

func written(t testing.TB, write func(io.Writer) error) string {
	t.Helper()
	var out bytes.Buffer
	if err := write(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestLookupsAreAsKeptInEachFormat(t *testing.T) {
	known := map[string]bool{}
	for name, page := range lookedUpPages(t) {
		for ending, text := range map[string]string{
			"80.txt": at(t, page.sheet, 80), "40.txt": at(t, page.sheet, 40), "md": written(t, page.sheet.Markdown), "html": written(t, page.sheet.HTML),
			"json": written(t, func(w io.Writer) error { return render.JSON(w, page.doc) }),
		} {
			file := name + "." + ending
			known[file] = true
			t.Run(file, func(t *testing.T) { compare(t, filepath.Join(lookups, file), []byte(text)) })
		}
	}
	entries, err := os.ReadDir(lookups)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !known[e.Name()] {
			t.Errorf("%s shows nothing that is tested", e.Name())
		}
	}
}

func TestNoLineOfALookupIsWiderThanThePage(t *testing.T) {
	for name, page := range lookedUpPages(t) {
		for columns := 40; columns <= 80; columns++ {
			for _, line := range strings.Split(at(t, page.sheet, columns), "\n") {
				if w := ansi.PrintableRuneWidth(line); w > columns {
					t.Errorf("%s at %d columns: %d wide: %s", name, columns, w, line)
				}
			}
		}
	}
}

// Setting text to a width moves words to other lines and does nothing else. Tables
// repeat their headings where they are stacked, but for that of the rows, "Id".
func TestNoWordOfALookupIsCutOrLost(t *testing.T) {
	for name, page := range lookedUpPages(t) {
		narrow := map[string]bool{}
		for _, w := range strings.Fields(at(t, page.sheet, 40)) {
			narrow[strings.TrimSuffix(w, ":")] = true
		}
		for _, w := range strings.Fields(at(t, page.sheet, 80)) {
			if w != "Id" && !narrow[strings.TrimSuffix(w, ":")] {
				t.Errorf("%s: %q is lost at 40 columns", name, w)
			}
		}
	}
}

// What no publication stands behind says so, in every format, and nothing else
// does.
func TestWhatIsFromMemorySaysSoInEveryFormat(t *testing.T) {
	k := lookedUp(t)
	herb, _ := k.Taxon("lanterna-pratensis")
	study, _ := k.Study(herb.ID)
	everything := allFrom(herb, study)
	edge, _ := k.Vocabulary.Trait("leaf.margin")
	m := func() *render.Matrix {
		return &render.Matrix{Plants: []*graph.Taxon{herb}, Rows: []render.MatrixRow{{Trait: edge, Cells: []render.MatrixCell{{Statements: stated(herb, edge)}}}}}
	}
	makes := map[string]func() looked{
		"taxon": func() looked { return looked{render.TaxonSheet(k, herb), render.TaxonJSON(k, herb)} },
		"why": func() looked {
			all := []render.Why{{Trait: edge}, {About: render.WhyToxicity}, {About: render.WhyUses}}
			return looked{render.WhySheet(k, herb, all), render.WhyJSON(k, herb, all)}
		},
		"study": func() looked {
			return looked{render.StudySheet(k, herb, study, study.Leave, m()), render.StudyJSON(k, herb, study, study.Leave, m())}
		},
	}
	for name, page := range makes {
		everything("corvale-flora")
		published := said(t, page())
		everything(graph.Memory)
		remembered := said(t, page())
		for format := range published {
			facts := strings.Count(published["text"], "corvale-flora")
			mark := "from memory"
			if format == "json" {
				facts, mark = strings.Count(published[format], `"from_memory": false`), `"from_memory": true`
			}
			marks := strings.Count(remembered[format], mark) - strings.Count(published[format], mark)
			if marks < facts || facts == 0 {
				t.Errorf("%s as %s: of %d facts %d are marked once all are from memory:\n%s", name, format, facts, marks, remembered[format])
			}
		}
	}
}

func said(t *testing.T, page looked) map[string]string {
	t.Helper()
	return map[string]string{"text": strings.Join(strings.Fields(at(t, page.sheet, 80)), " "), "markdown": written(t, page.sheet.Markdown), "html": written(t, page.sheet.HTML),
		"json": written(t, func(w io.Writer) error { return render.JSON(w, page.doc) })}
}

// allFrom gives everything that is said of a herb one source.
func allFrom(herb *graph.Taxon, study *graph.Study) func(source string) {
	herb.Lookalikes = nil // of which the other plant tells some
	return func(source string) {
		one := []string{source}
		herb.Sources, study.Sources = one, one
		for i := range herb.Statements {
			herb.Statements[i].Sources = one
		}
		for i := range herb.Overrules {
			herb.Overrules[i].Sources = one
		}
		for i := range herb.Toxicity {
			herb.Toxicity[i].Sources = one
		}
		for i := range herb.Uses {
			herb.Uses[i].Sources = one
		}
		for i := range study.Gather {
			study.Gather[i].Sources = one
			for j := range study.Gather[i].Checks {
				study.Gather[i].Checks[j].Sources = one
			}
		}
		for _, r := range study.Leave {
			r.Sources = one
		}
		for i := range study.TooClose {
			study.TooClose[i].Sources = one
		}
	}
}

// Every answer says what own data changed of what it rests on, in every format.
func TestWhatOwnDataChangedIsSaid(t *testing.T) {
	pages := lookedUpPages(t)
	for name, changes := range map[string][]string{
		"taxon-show": {"mine/taxon.yaml"}, "taxon-why": {"mine/taxon.yaml"}, "trait-states": {"mine/trait.yaml"},
		"study-show": {"mine/taxon.yaml", "mine/rule.yaml"}, "source-show": {"mine/source.yaml"},
	} {
		for format, text := range said(t, pages[name]) {
			for _, c := range changes {
				if !strings.Contains(text, c) {
					t.Errorf("%s as %s does not say what %s changed", name, format, c)
				}
			}
		}
	}
}

func TestDocumentsHaveNoNulls(t *testing.T) {
	k := lookedUp(t)
	bare := &graph.Taxon{ID: "a-b", Name: "A b"}
	k.Taxa = append(k.Taxa, bare)
	k.Index()
	docs := map[string]any{"a bare plant": render.TaxonJSON(k, bare), "its sources": render.WhyJSON(k, bare, []render.Why{{About: render.WhyUses}}), "no plants": render.TaxaJSON(k, nil)}
	for name, page := range lookedUpPages(t) {
		docs[name] = page.doc
	}
	for _, name := range slices.Sorted(maps.Keys(docs)) {
		raw, err := json.Marshal(docs[name])
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(raw, []byte("null")) {
			t.Errorf("%s: a list is null: %s", name, raw)
		}
	}
}

// The document of a plant tells all that is stated of it.
func TestDocumentOfAPlantLosesNothing(t *testing.T) {
	k := lookedUp(t)
	herb, _ := k.Taxon("lanterna-pratensis")
	doc := render.TaxonJSON(k, herb)
	told := func(trait, value, frequency, position, note string, stages, sources []string) string {
		return fmt.Sprint(trait, value, frequency, position, note, stages, sources)
	}
	var want, got []string
	for i := range herb.Statements {
		s := &herb.Statements[i]
		want = append(want, told(s.Trait, s.Value(), s.Frequency.String(), s.Position, s.Note, s.Stages.Names(), s.Sources))
	}
	for _, s := range doc.Statements {
		got = append(got, told(s.Trait, s.Value, s.Frequency, s.Position, s.Note, s.Stages, s.Sources))
	}
	slices.Sort(want)
	slices.Sort(got)
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("(-stated +told):\n%s", d)
	}
	if len(doc.Toxicity) != len(herb.Toxicity) || len(doc.Uses) != len(herb.Uses) || len(doc.Lookalikes) != len(k.LinksOf(herb.ID)) || len(doc.Exhaustive) != len(herb.Overrules) {
		t.Errorf("toxicity, uses, lookalikes or what is exhaustive got lost: %+v", doc)
	}
}
