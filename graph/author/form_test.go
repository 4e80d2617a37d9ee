package author_test

import (
	"errors"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/author"
	"telltale/graph/files"
	"telltale/graph/graphtest"
)

var (
	commented = regexp.MustCompile(`(?m)^( *)# (.*)$`)
	traitLine = regexp.MustCompile(`^ {2}([^ #]+):  # `)
)

// uncommented takes "# " off every line, as an editor does, but off the first, which
// is for the editor.
func uncommented(form string) string {
	first, rest, _ := strings.Cut(form, "\n")
	return first + "\n" + commented.ReplaceAllString(rest, "$1$2")
}

// answered puts a value wherever a form asks for one.
func answered(v *graph.Vocabulary, form string) string {
	lines := strings.Split(form, "\n")
	value := ""
	for i, line := range lines {
		if m := traitLine.FindStringSubmatch(line); m != nil {
			if t, ok := v.Trait(m[1]); ok {
				value = valueOf(t)
			}
		}
		for _, blank := range []struct{ asks, answer string }{
			{"family:   ", "family: Herbaceae  "}, {"severity:   ", "severity: serious   "}, {"use: ,", "use: salad,"},
			{"usually: ,", "usually: " + value + ","}, {"always: ,", "always: " + value + ","},
		} {
			lines[i] = strings.Replace(lines[i], blank.asks, blank.answer, 1)
		}
	}
	return strings.Join(lines, "\n")
}

func valueOf(t *graph.Trait) string {
	switch t.Kind {
	case graph.StateKind:
		return t.States[0].ID
	case graph.MeasureKind:
		return "(2-)5-15(-20) " + t.Unit
	case graph.CountKind:
		return "(2-)3-5(-7)"
	default:
		return "11-2"
	}
}

var (
	herb  = &graph.Taxon{ID: "planta-nova", Name: "Planta nova", Author: `"Quoted" & Sons`}
	other = &graph.Taxon{ID: "planta-altera", Name: "Planta altera"}
)

// folder lays a herb out beside a plant that is new and all that are known.
func folder(k *graph.Knowledge, change func(*graph.Vocabulary, string) string) fstest.MapFS {
	links := []author.Link{{Taxon: other.ID}}
	for _, id := range k.TaxonIDs() {
		links = append(links, author.Link{Taxon: id})
	}
	out := fstest.MapFS{}
	put := func(name, form string) { out[name] = &fstest.MapFile{Data: []byte(change(k.Vocabulary, form))} }
	put("sources.yaml", author.SourcesForm())
	put("taxa/planta-nova.yaml", author.TaxonForm(k.Vocabulary, herb, links))
	put("taxa/planta-altera.yaml", author.TaxonForm(k.Vocabulary, other, nil))
	return out
}

func asIs(_ *graph.Vocabulary, form string) string { return form }

// A form whose questions are all answered, each with a value of its kind, is read,
// whatever the vocabulary, and scores the plant on everything.
func TestFormsAreReadOnceFilledIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := graphtest.AnyKnowledge().Draw(t, "known")
		fill := func(v *graph.Vocabulary, form string) string { return answered(v, uncommented(form)) }
		filled := folder(k, fill)
		filled["taxa/planta-altera.yaml"].Data = []byte(answered(k.Vocabulary, author.TaxonForm(k.Vocabulary, other, nil))) // the link that it offers is to no plant
		over, err := files.Over(k, "mine", filled)
		if err != nil {
			t.Fatal(err)
		}
		read, ok := over.Taxon(herb.ID)
		if !ok || !read.Poisonous() || read.Author != herb.Author || len(read.Lookalikes) != len(k.Taxa)+1 {
			t.Fatalf("%+v", read)
		}
		scored := map[string]bool{}
		for _, s := range read.Statements {
			scored[s.Trait] = true
		}
		if len(scored) != len(k.Vocabulary.Traits) {
			t.Fatalf("scored on %v", scored)
		}
	})
}

// As it is laid out, a form asks for what cannot be left out, and for nothing else.
func TestFormsAskForWhatCannotBeLeftOut(t *testing.T) {
	k := graphtest.AnyKnowledge().Example(1)
	_, err := files.Over(k, "mine", folder(k, asIs))
	var problems graph.Problems
	if !errors.As(err, &problems) || len(problems) != 4 {
		t.Fatal(err)
	}
	for _, p := range problems {
		if !strings.Contains(p.Message, "has no family") && !strings.Contains(p.Message, "has no severity") || p.Place.Line == 0 {
			t.Error(p)
		}
	}
}

// Whatever is uncommented and not answered is said to be blank, at its place; no
// line is no YAML.
func TestBlanksOfFormsAreSaidToBeBlank(t *testing.T) {
	k := graphtest.AnyKnowledge().Example(2)
	blank := folder(k, func(_ *graph.Vocabulary, form string) string { return uncommented(form) })
	_, err := files.Over(k, "mine", blank)
	var problems graph.Problems
	if !errors.As(err, &problems) {
		t.Fatal(err)
	}
	seen := 0
	for _, p := range problems {
		line := strings.Split(string(blank[strings.TrimPrefix(p.Place.File, "mine/")].Data), "\n")[p.Place.Line-1]
		switch {
		case strings.Contains(line, ": ,") && strings.Contains(p.Message, "nothing stands behind"):
			seen++
		case strings.Contains(p.Message, "has no family"), strings.Contains(p.Message, "has no severity"):
		case strings.Contains(line, "- taxon:") && strings.Contains(p.Message, "has no plant"):
		default:
			t.Errorf("%s: %s", line, p)
		}
	}
	if seen == 0 {
		t.Error("no blank was found")
	}
}

func TestCorrectionFormsAreReadAsTheyAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := graphtest.AnyKnowledge().Draw(t, "known")
		if len(k.Taxa) < 2 {
			t.Skip("one plant alone has no lookalike")
		}
		form := author.CorrectionForm(k.Taxa[0], []author.Link{{Taxon: k.Taxa[1].ID}})
		over, err := files.Over(k, "mine", fstest.MapFS{"taxa/" + k.Taxa[0].ID + ".yaml": {Data: []byte(form)}})
		if err != nil {
			t.Fatal(err)
		}
		if before, after := len(k.Taxa[0].Lookalikes), len(over.Taxa[0].Lookalikes); after != before+1 {
			t.Fatalf("%d links, then %d", before, after)
		}
	})
}

func TestNewPlants(t *testing.T) {
	for name, want := range map[string]graph.Taxon{
		"Alliaria petiolata":                           {ID: "alliaria-petiolata", Name: "Alliaria petiolata"},
		"Alliaria petiolata (M.Bieb.) Cavara & Grande": {ID: "alliaria-petiolata", Name: "Alliaria petiolata", Author: "(M.Bieb.) Cavara & Grande"},
		"Mentha × piperita":                            {ID: "mentha-piperita", Name: "Mentha ×piperita"},
		"Capsella bursa-pastoris":                      {ID: "capsella-bursa-pastoris", Name: "Capsella bursa-pastoris"},
		"Rumex acetosa subsp. ambiguus":                {ID: "rumex-acetosa-ambiguus", Name: "Rumex acetosa subsp. ambiguus"},
	} {
		got, err := author.NewTaxon(name)
		if err != nil || got.ID != want.ID || got.Name != want.Name || got.Author != want.Author {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	for _, name := range []string{"", "garlic mustard", "alliaria petiolata", "Rumex", "Rumex sp.", "Rumex cf. crispus", "birthwort", "Salix aurita × Salix caprea", "Épilobium hirsutum", "Rumex crispus auct. non L."} {
		if got, err := author.NewTaxon(name); err == nil {
			t.Errorf("%q made %+v", name, got)
		}
	}
}
