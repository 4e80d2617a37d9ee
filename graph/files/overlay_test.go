package files_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"telltale/graph"
	"telltale/graph/files"
	"telltale/graph/graphtest"
)

// laid lays a folder called mine over the made one.
func laid(t testing.TB, own fstest.MapFS) (*graph.Knowledge, error) {
	t.Helper()
	return laidOn(t, made(t), made(t), own)
}

// laidOn lays a folder called mine over a base, and fails the test if that changed
// the base, which is as kept, or gave something beside an error.
func laidOn(t testing.TB, base, kept *graph.Knowledge, own fstest.MapFS) (*graph.Knowledge, error) {
	t.Helper()
	over, err := files.Over(base, "mine", own)
	if !reflect.DeepEqual(base, kept) {
		t.Fatal("what it was laid over has changed")
	}
	if (over == nil) != (err != nil) {
		t.Fatalf("%v was given with the error %v", over, err)
	}
	return over, err
}

func own(name, text string) fstest.MapFS { return fstest.MapFS{name: {Data: []byte(text)}} }

func laidOver(t *testing.T, name, text string) *graph.Knowledge {
	t.Helper()
	over, err := laid(t, own(name, text))
	if err != nil {
		t.Fatal(err)
	}
	return over
}

func bona(t *testing.T, k *graph.Knowledge) *graph.Taxon {
	t.Helper()
	out, ok := k.Taxon("herba-bona")
	if !ok {
		t.Fatal("the plant is gone")
	}
	return out
}

// stated puts the statements of a trait into short words.
func stated(p *graph.Taxon, trait string) []string {
	var out []string
	for i := range p.Statements {
		if s := &p.Statements[i]; s.Trait == trait {
			out = append(out, strings.TrimSpace(s.Frequency.String()+" "+s.Value()+" "+s.Position))
		}
	}
	return out
}

func corrections(k *graph.Knowledge) []string {
	var out []string
	for i := range k.Corrections {
		c := &k.Corrections[i]
		text := c.String()
		if c.Adds() {
			text = "adds " + text
		}
		out = append(out, text)
	}
	return out
}

func TestOwnDataOnAPlantThatIsKnown(t *testing.T) {
	const file = "taxa/herba-bona.yaml"
	for _, tt := range []struct {
		shows, text string
		get         func(*graph.Taxon) any
		want        any
		corrected   string // what is said to be changed; "" if nothing is
	}{
		{
			"a trait that is scored replaces all that was stated of it, at every stage and place", "traits: {leaf.margin: [{always: dentate, at: rosette, from: [memory]}]}",
			func(p *graph.Taxon) any { return stated(p, "leaf.margin") }, []string{"always dentate"}, "leaf.margin",
		},
		{
			"the other traits stay", "traits: {leaf.margin: [{always: dentate, from: [memory]}]}",
			func(p *graph.Taxon) any { return stated(p, "stem.surface") }, []string{"always bristly"}, "leaf.margin",
		},
		{
			"a trait that nobody had scored is added", "traits: {flower.petals: [{always: 4, from: [memory]}]}",
			func(p *graph.Taxon) any { return stated(p, "flower.petals") }, []string{"always 4"}, "flower.petals",
		},
		{"names replace those known", "common: [my wort]", func(p *graph.Taxon) any { return p.Common }, []string{"my wort"}, "common names"},
		{"what is not named stays", "common: [my wort]", func(p *graph.Taxon) any { return []string{p.Name, p.Author, p.Family} }, []string{"Herba bona", "L.", "Herbaceae"}, "common names"},
		{"the range is replaced", "range: [here]", func(p *graph.Taxon) any { return p.Range }, []string{"here"}, "range"},
		{"what says nothing new changes nothing", "name: Herba bona", func(p *graph.Taxon) any { return p.Name }, "Herba bona", ""},
		{
			"uses are added", "uses: [{parts: [root], category: medicine, use: tea, from: [memory]}]",
			func(p *graph.Taxon) any { return len(p.Uses) }, 2, "uses",
		},
		{
			"lookalikes are added", "lookalikes: [{taxon: herba-mala, at: flowering, evidence: memory, from: [memory]}]",
			func(p *graph.Taxon) any { return len(p.Lookalikes) }, 2, "lookalikes",
		},
		{
			"toxicity is added", "toxicity: [{parts: [leaf], severity: deadly, route: ingestion, from: [memory]}]",
			func(p *graph.Taxon) any { return p.Severity() }, graph.Deadly, "toxicity",
		},
		{
			"what is said of whether a trait is told in full is replaced", "exhaustive: {leaf.margin: {holds: true, because: I looked, from: [memory]}}",
			func(p *graph.Taxon) any { return p.Overrules[0].Exhaustive }, true, "whether leaf.margin is told in full",
		},
		{
			"that a trait is not told in full holds for the statements in their place too", "traits: {leaf.margin: [{always: dentate, from: [memory]}]}",
			func(p *graph.Taxon) any { return len(p.Overrules) }, 1, "leaf.margin",
		},
	} {
		t.Run(tt.shows, func(t *testing.T) {
			over := laidOver(t, file, "id: herba-bona\n"+tt.text+"\n")
			if d := cmp.Diff(tt.want, tt.get(bona(t, over))); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
			var want []string
			if tt.corrected != "" {
				want = []string{"taxon herba-bona: " + tt.corrected + " (mine/" + file + ")"}
			}
			if d := cmp.Diff(want, corrections(over)); d != "" {
				t.Errorf("corrections (-want +got):\n%s", d)
			}
		})
	}
}

// Nobody can lose a harm by leaving it out, or by saying that there is none.
func TestOwnDataNeverTakeAHarmAway(t *testing.T) {
	before, _ := made(t).Taxon("herba-mala")
	for shows, text := range map[string]string{
		"by leaving it out":   "common: [not so bad]",
		"by saying none":      "toxicity: [{parts: [root, leaf], severity: none_known, route: ingestion, from: [memory]}]",
		"by an empty list":    "toxicity: []",
		"by its skin alone":   "toxicity: [{parts: [sap], irritant: true, route: skin, from: [memory]}]",
		"by scoring anything": "traits: {flower.petals: [{always: 4, from: [memory]}]}",
	} {
		t.Run(shows, func(t *testing.T) {
			after, _ := laidOver(t, "taxa/herba-mala.yaml", "id: herba-mala\n"+text+"\n").Taxon("herba-mala")
			if after.Severity() < before.Severity() || after.ContactHarm() == nil {
				t.Errorf("%s became %s", before.Severity(), after.Severity())
			}
		})
	}
}

// "These are all there are" was said of the statements that stood there. What now
// stands in their place may leave something out.
func TestToldInFullDoesNotHoldForWhatIsReplaced(t *testing.T) {
	first := laidOver(t, "taxa/herba-mala.yaml", "id: herba-mala\nexhaustive: {stem.surface: {holds: true, because: x, from: [memory]}}\n")
	over, err := files.Over(first, "more", own("taxa/herba-mala.yaml", "id: herba-mala\ntraits: {stem.surface: [{usually: hairless, from: [memory]}]}\n"))
	if err != nil {
		t.Fatal(err)
	}
	if p, _ := over.Taxon("herba-mala"); len(p.Overrules) != 0 {
		t.Errorf("%+v", p.Overrules)
	}
	if len(over.Corrections) != 2 {
		t.Errorf("the corrections of the first folder are lost: %v", corrections(over))
	}
}

const planta = `id: planta-nova
name: Planta nova
family: Plantaceae
from: [memory]
toxicity: [{parts: [leaf], severity: none_known, route: ingestion, from: [memory]}]
`

func TestOwnDataAddAndReplace(t *testing.T) {
	for _, tt := range []struct {
		shows, file, text string
		holds             func(*graph.Knowledge) bool
		want              string
	}{
		{"a new plant", "taxa/planta-nova.yaml", planta, func(k *graph.Knowledge) bool { return len(k.Taxa) == 3 }, "adds taxon planta-nova (mine/taxa/planta-nova.yaml)"},
		{
			"a study, with the leave rules that the old one had and this one has not", "studies/herba-bona.yaml", "taxon: herba-bona\nabout: mine\nfrom: [memory]\n",
			func(k *graph.Knowledge) bool {
				s, _ := k.Study("herba-bona")
				return s.About == "mine" && len(k.Studies) == 1
			},
			"study herba-bona: without the rule bona-by-water (mine/studies/herba-bona.yaml)",
		},
		{
			"a study of a plant that had none", "studies/herba-mala.yaml", "taxon: herba-mala\nfrom: [memory]\n",
			func(k *graph.Knowledge) bool { return len(k.Studies) == 2 }, "adds study herba-mala (mine/studies/herba-mala.yaml)",
		},
		{
			"a rule of the same id", "rules/mine.yaml", "rules: [{id: bristly-is-bona, then: note, when: 'stage == \"rosette\"', from: [memory]}]\n",
			func(k *graph.Knowledge) bool { return len(k.Rules) == 1 && k.Rules[0].Then == "note" }, "rule bristly-is-bona (mine/rules/mine.yaml)",
		},
		{
			"a new rule", "rules/mine.yaml", "rules: [{id: my-rule, then: note, when: 'stage == \"rosette\"', from: [memory]}]\n",
			func(k *graph.Knowledge) bool { return len(k.Rules) == 2 }, "adds rule my-rule (mine/rules/mine.yaml)",
		},
		{
			"a source of the same id", "sources.yaml", "made-flora: {title: Another}\n",
			func(k *graph.Knowledge) bool {
				s, _ := k.Source("made-flora")
				return s.Title == "Another" && len(k.Sources) == 2
			}, "source made-flora (mine/sources.yaml)",
		},
		{"a new source", "sources.yaml", "my-flora: {title: Mine}\n", func(k *graph.Knowledge) bool { return len(k.Sources) == 3 }, ""},
		{"a form of sources that nobody has filled in", "sources.yaml", "## nothing yet\n# my-flora:\n", func(k *graph.Knowledge) bool { return len(k.Sources) == 2 }, ""},
		{
			"a state, which is taken for those that it names and they for it", "vocabulary.yaml", "traits: {leaf.margin: {states: {crenate: {means: round teeth, near: [serrate]}}}}\n",
			func(k *graph.Knowledge) bool {
				m, _ := k.Vocabulary.Trait("leaf.margin")
				serrate := m.States[m.StateIndex("serrate")]
				return len(m.States) == 4 && slices.Contains(serrate.Near, "crenate")
			}, "trait leaf.margin: crenate (mine/vocabulary.yaml)",
		},
		{
			"a trait", "vocabulary.yaml", "traits: {leaf.length: {kind: measure, unit: cm, question: How long?, effort: eye}}\n",
			func(k *graph.Knowledge) bool { _, ok := k.Vocabulary.Trait("leaf.length"); return ok }, "adds trait leaf.length (mine/vocabulary.yaml)",
		},
	} {
		t.Run(tt.shows, func(t *testing.T) {
			over := laidOver(t, tt.file, tt.text)
			if !tt.holds(over) {
				t.Error("it does not hold")
			}
			if got := strings.Join(corrections(over), "\n"); got != tt.want {
				t.Errorf("corrections %q, want %q", got, tt.want)
			}
		})
	}
}

// A folder's files may name each other, whatever the order in which they are read.
func TestOwnFilesKnowEachOther(t *testing.T) {
	folder := own("taxa/planta-nova.yaml", strings.Replace(planta, "from: [memory]\ntox", "from: [my-flora]\nlookalikes: [{taxon: zea-nova, evidence: memory, from: [my-flora]}]\ntox", 1))
	folder["taxa/zea-nova.yaml"] = &fstest.MapFile{Data: []byte(strings.NewReplacer("planta", "zea", "Planta", "Zea").Replace(planta) + "traits: {leaf.curl: [{always: tight, from: [my-flora]}]}\n")}
	folder["sources.yaml"] = &fstest.MapFile{Data: []byte("my-flora: {title: Mine}\n")}
	folder["vocabulary.yaml"] = &fstest.MapFile{Data: []byte("traits: {leaf.curl: {kind: state, question: Does it curl?, effort: eye, states: {tight: {means: much}, loose: {means: little}}}}\n")}
	folder["studies/zea-nova.yaml"] = &fstest.MapFile{Data: []byte("taxon: zea-nova\nfrom: [my-flora]\ngather: [{parts: [leaf], stages: [rosette], checks: [{trait: leaf.curl, is: [tight], from: [my-flora]}], from: [my-flora]}]\n")}
	folder["rules/mine.yaml"] = &fstest.MapFile{Data: []byte("rules: [{id: curl, for: planta-nova, then: note, when: 'leaf.curl == \"tight\"', from: [my-flora], tests: [{given: {leaf.curl: loose}, expect: quiet}]}]\n")}
	over, err := laid(t, folder)
	if err != nil {
		t.Fatal(err)
	}
	if links := over.LinksOf("zea-nova"); len(links) != 1 || links[0].Other != "planta-nova" {
		t.Errorf("%+v", links)
	}
}

func TestSlipsInOwnData(t *testing.T) {
	for _, tt := range []struct{ shows, file, text, want string }{
		{"an unknown trait", "taxa/herba-bona.yaml", "id: herba-bona\ntraits:\n  leaf.margins: [{always: entire, from: [memory]}]\n", `mine/taxa/herba-bona.yaml:3:3: there is no trait "leaf.margins" (known: leaf.margin, stem.surface, plant.height, flower.petals, season.flowering, plant.habitat); the nearest is "leaf.margin"`},
		{"an unknown state", "taxa/herba-bona.yaml", "id: herba-bona\ntraits:\n  leaf.margin: [{always: serated, from: [memory]}]\n", `mine/taxa/herba-bona.yaml:3:26: there is no state of leaf.margin "serated" (known: entire, smooth, serrate, toothed, dentate); the nearest is "serrate"`},
		{"an unknown source", "taxa/herba-bona.yaml", "id: herba-bona\nfrom: [made-floar]\n", `mine/taxa/herba-bona.yaml:2:8: there is no source "made-floar" (known: made-flora, made-journal); the nearest is "made-flora"`},
		{"an unknown lookalike", "taxa/herba-bona.yaml", "id: herba-bona\nlookalikes: [{taxon: herba-malla, evidence: memory, from: [memory]}]\n", `mine/taxa/herba-bona.yaml:2:22: there is no plant "herba-malla" (known: herba-bona, herba-mala); the nearest is "herba-mala"`},
		{"a study of an unknown plant", "studies/herba-nulla.yaml", "taxon: herba-nulla\nfrom: [memory]\n", `mine/studies/herba-nulla.yaml:1:8: there is no plant "herba-nulla" (known: herba-bona, herba-mala); the nearest is "herba-mala"`},
		{"a rule about an unknown plant", "rules/mine.yaml", "rules: [{id: a, for: bona, then: note, when: 'stage == \"rosette\"', from: [memory]}]\n", `mine/rules/mine.yaml:1:22: there is no plant "bona" (known: herba-bona, herba-mala)`},
		{"a rule of the id of a study's", "rules/mine.yaml", "rules: [{id: bona-by-water, then: note, when: 'stage == \"rosette\"', from: [memory]}]\n", `mine/rules/mine.yaml:1:14: the rule at studies/herba-bona.yaml:12:9 has the id "bona-by-water" too`},
		{"a new plant of which no harm is told", "taxa/planta-nova.yaml", strings.Split(planta, "toxicity")[0], `mine/taxa/planta-nova.yaml:1:5: it is not said what eating planta-nova does: give toxicity by ingestion a severity, none_known if nobody knows of harm`},
		{"a new plant of which only the skin is told", "taxa/planta-nova.yaml", strings.Replace(planta, "severity: none_known, route: ingestion", "irritant: true, route: skin", 1), `mine/taxa/planta-nova.yaml:1:5: it is not said what eating planta-nova does: give toxicity by ingestion a severity, none_known if nobody knows of harm`},
		{"a severity that is none, said once", "taxa/planta-nova.yaml", strings.Replace(planta, "none_known", "lethal", 1), `mine/taxa/planta-nova.yaml:5:38: there is no severity "lethal" (known: none_known, mild, serious, deadly)`},
		{"a new plant without a family", "taxa/planta-nova.yaml", strings.Replace(planta, "family: Plantaceae", "family:", 1), `mine/taxa/planta-nova.yaml:3:1: planta-nova has no family`},
		{"a known plant by another id", "taxa/planta-nova.yaml", strings.Replace(planta, "Planta nova", "Herba bona", 1), `mine/taxa/planta-nova.yaml:2:7: "Herba bona" is a name of herba-bona, which is known: what you have to add or correct goes into taxa/herba-bona.yaml`},
		{"a known plant by its synonym", "taxa/planta-nova.yaml", strings.Replace(planta, "Planta nova", "Herba optima", 1), `mine/taxa/planta-nova.yaml:2:7: "Herba optima" is a name of herba-bona, which is known: what you have to add or correct goes into taxa/herba-bona.yaml`},
		{"a known genus in another family", "taxa/planta-nova.yaml", strings.Replace(planta, "Planta nova", "Herba nova", 1), `mine/taxa/planta-nova.yaml:3:9: planta-nova is of the Plantaceae, and herba-bona of the same genus of the Herbaceae`},
		{"a known trait anew", "vocabulary.yaml", "traits:\n  leaf.margin: {kind: state, states: {crenate: {near: [serrate]}}}\n", `mine/vocabulary.yaml:2:3: leaf.margin is a trait that is known: here only states can be added to it`},
		{"a known state anew", "vocabulary.yaml", "traits:\n  leaf.margin: {states: {entire: {means: x}}}\n", `mine/vocabulary.yaml:2:26: entire is a state of leaf.margin already`},
		{"a new state that is near none that is known", "vocabulary.yaml", "traits:\n  leaf.margin: {states: {crenate: {means: x}}}\n", `mine/vocabulary.yaml:2:26: the plants that are known were scored without crenate: near has to name the states of leaf.margin that they would have been given for it`},
		{"a new state near an unknown one", "vocabulary.yaml", "traits:\n  leaf.margin: {states: {crenate: {means: x, near: [serrate, dentated]}}}\n", `mine/vocabulary.yaml:2:62: there is no state of leaf.margin "dentated" (known: entire, serrate, dentate, crenate); the nearest is "dentate"`},
		{"states for a measure", "vocabulary.yaml", "traits:\n  plant.height: {states: {tall: {near: [low]}}}\n", ""},
		{"a new trait by the name of a known one", "vocabulary.yaml", "traits:\n  leaf.rim: {kind: count, question: How many?, effort: eye, words: [edge of the leaf]}\n", `mine/vocabulary.yaml:2:69: "edge of the leaf" is a name of leaf.margin too: a reading under it could be of either`},
	} {
		t.Run(tt.shows, func(t *testing.T) {
			_, err := laid(t, own(tt.file, tt.text))
			switch {
			case err == nil:
				t.Fatal("no error")
			case tt.want != "" && err.Error() != tt.want:
				t.Errorf("said\n%s\nwant\n%s", err, tt.want)
			}
		})
	}
}

// Who meant a folder to count must not be answered without it.
func TestFoldersThatHoldNoOwnData(t *testing.T) {
	leaf := "id: herba-bona\n"
	for _, tt := range []struct {
		shows string
		names map[string]string
		want  string
	}{
		{"nothing", nil, "mine: no own data is in this folder: expected one of taxa/, studies/, rules/, sources.yaml and vocabulary.yaml"},
		{"other things", map[string]string{"README.md": "x", "walk.yaml": "readings: {}"}, "mine: no own data is in this folder: expected one of taxa/, studies/, rules/, sources.yaml and vocabulary.yaml"},
		{"a misspelt folder", map[string]string{"taxon/herba-bona.yaml": leaf}, "mine/taxon: this folder is not read for its name: expected taxa"},
		{"a folder in the singular", map[string]string{"study/a.yaml": "taxon: a"}, "mine/study: this folder is not read for its name: expected studies"},
		{"a folder in capitals", map[string]string{"Rules/a.yaml": "rules:"}, "mine/Rules: this folder is not read for its name: expected rules"},
		{"a misspelt file", map[string]string{"source.yaml": "a: {title: b}"}, "mine/source.yaml: this file is not read for its name: expected sources.yaml"},
		{"a file by another ending", map[string]string{"sources.yml": "a: {title: b}"}, "mine/sources.yml: this file is not read for its ending: name it sources.yaml"},
		{"a plant beside the folders", map[string]string{"herba-bona.yaml": "# mine\n" + leaf}, "mine/herba-bona.yaml: this file is not read where it stands: expected it in the folder taxa"},
		{"a study beside the folders", map[string]string{"herba-bona.yaml": "taxon: herba-bona\n"}, "mine/herba-bona.yaml: this file is not read where it stands: expected it in the folder studies"},
		{"rules beside the folders", map[string]string{"mine.yaml": "rules:\n"}, "mine/mine.yaml: this file is not read where it stands: expected it in the folder rules"},
		{"a plant by another ending", map[string]string{"taxa/herba-bona.yml": leaf, "rules/a.yaml": "rules:\n"}, "mine/taxa/herba-bona.yml: this file is not read for its ending: name it herba-bona.yaml"},
	} {
		t.Run(tt.shows, func(t *testing.T) {
			folder := fstest.MapFS{}
			for name, text := range tt.names {
				folder[name] = &fstest.MapFile{Data: []byte(text)}
			}
			if _, err := laid(t, folder); err == nil || err.Error() != tt.want {
				t.Errorf("said %v\nwant %s", err, tt.want)
			}
		})
	}
}

func TestOtherThingsMayStandBesideOwnData(t *testing.T) {
	folder := own("taxa/planta-nova.yaml", planta)
	for _, name := range []string{"README.md", "walk.yaml", "photos/a.jpg", "walks/ostrey.yaml", "schema/taxon.schema.json", ".git/config", "notes.yml"} {
		folder[name] = &fstest.MapFile{Data: []byte("readings: {}\n")}
	}
	if _, err := laid(t, folder); err != nil {
		t.Error(err)
	}
}

func FuzzOver(f *testing.F) {
	names := []string{"vocabulary.yaml", "sources.yaml", "taxa/herba-mala.yaml", "taxa/planta-nova.yaml", "studies/herba-bona.yaml", "rules/mine.yaml"}
	f.Add(uint8(0), []byte("traits: {leaf.margin: {states: {crenate: {means: round teeth, near: [serrate]}}}, leaf.x: {kind: count, question: q, effort: eye}}\n"))
	f.Add(uint8(1), []byte("made-flora: {title: Another, year: 1999}\n# x\n"))
	f.Add(uint8(2), []byte("id: herba-mala\ntoxicity: [{parts: [leaf], severity: none_known, route: ingestion, from: [memory]}]\nexhaustive: {stem.surface: {holds: true, because: x, from: memory}}\n"))
	f.Add(uint8(3), []byte(planta))
	f.Add(uint8(4), graphtest.Folder()["studies/herba-bona.yaml"].Data)
	f.Add(uint8(5), []byte("rules: [{id: bristly-is-bona, then: leave, when: 'stage == \"rosette\"', from: [memory]}]\n"))
	f.Add(uint8(5), []byte("## nothing\n"))
	base, kept, harm := made(f), made(f), map[string]graph.Severity{}
	for _, t := range base.Taxa {
		harm[t.ID] = t.Severity()
	}
	f.Fuzz(func(t *testing.T, which uint8, text []byte) {
		over, err := laidOn(t, base, kept, own(names[int(which)%len(names)], string(text)))
		slipsOnly(t, over != nil, err, text)
		if err != nil {
			return
		}
		for id, before := range harm {
			if p, ok := over.Taxon(id); !ok || p.Severity() < before {
				t.Errorf("%q made %s less harmful", text, id)
			}
		}
	})
}
