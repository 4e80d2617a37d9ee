package files_test

import (
	"errors"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"telltale/graph"
	"telltale/graph/files"
	"telltale/graph/graphtest"
)

// slip is one thing gone wrong in a file of a folder that is right otherwise, and
// all that is said about it.
type slip struct{ shows, old, new, want string }

// spoilt puts new in place of old, which stands there, in a file of a made folder;
// without an old the whole file is new.
func spoilt(t *testing.T, file string, s slip) fstest.MapFS {
	t.Helper()
	folder := graphtest.Folder()
	if s.old == "" {
		folder[file] = &fstest.MapFile{Data: []byte(s.new)}
		return folder
	}
	text := string(folder[file].Data)
	if !strings.Contains(text, s.old) {
		t.Fatalf("%s has no %q to be spoilt", file, s.old)
	}
	folder[file] = &fstest.MapFile{Data: []byte(strings.Replace(text, s.old, s.new, 1))}
	return folder
}

func checkSlips(t *testing.T, file string, slips []slip) {
	for _, s := range slips {
		t.Run(s.shows, func(t *testing.T) {
			k, err := files.Load(spoilt(t, file, s))
			if k != nil {
				t.Error("something was loaded")
			}
			if err == nil {
				t.Fatal("no error")
			}
			if want := strings.TrimSpace(s.want); err.Error() != want {
				t.Errorf("said\n%s\nwant\n%s", err, want)
			}
		})
	}
}

func TestSlipsInTaxonFiles(t *testing.T) {
	checkSlips(t, "taxa/herba-bona.yaml", []slip{
		{"a misspelt field", "family:", "famly:", `taxa/herba-bona.yaml:4:1: there is no field "famly"; the nearest is "family"`},
		{"a field that belongs elsewhere", "author: L.", "stages: [rosette]", `taxa/herba-bona.yaml:3:1: there is no field "stages"`},
		{"a misspelt field of a statement", "note: \"fine", "noet: \"fine", `taxa/herba-bona.yaml:11:74: there is no field "noet" (known: always, usually, sometimes, rarely, never, at, on, from, note); the nearest is "note"`},
		{"a field twice", "family: Herbaceae", "family: Herbaceae\nfamily: Herbaceae", `taxa/herba-bona.yaml:5:1: "family" stands here twice`},
		{"a trait twice", "  plant.height:\n", "  leaf.margin:\n", `taxa/herba-bona.yaml:15:3: "leaf.margin" stands here twice`},
		{"no id", "id: herba-bona\n", "", `taxa/herba-bona.yaml: this plant has no id`},
		{"an id that is none", "id: herba-bona", "id: Herba bona", `
taxa/herba-bona.yaml:1:5: the file of "Herba bona" is named herba-bona.yaml, expected Herba bona.yaml
taxa/herba-bona.yaml:1:5: "Herba bona" cannot be the id of a plant: expected genus-species in small letters`},
		{"an id other than the file's name", "id: herba-bona", "id: herba-nova", `taxa/herba-bona.yaml:1:5: the file of "herba-nova" is named herba-bona.yaml, expected herba-nova.yaml`},
		{"the id of another plant", "id: herba-bona", "id: herba-mala", `
taxa/herba-bona.yaml:1:5: the file of "herba-mala" is named herba-bona.yaml, expected herba-mala.yaml
taxa/herba-bona.yaml:24:13: herba-mala is named as a lookalike of itself
taxa/herba-mala.yaml:1:5: taxa/herba-bona.yaml has the id "herba-mala" too: two plants cannot share one`},
		{"the name of another plant", "name: Herba bona", "name: Herba mala", `taxa/herba-mala.yaml:2:7: taxa/herba-bona.yaml has the name "Herba mala" too: two plants cannot share one`},
		{"a genus in two families", "family: Herbaceae", "family: Apiaceae", `taxa/herba-mala.yaml:3:9: herba-mala is of the Herbaceae, and herba-bona of the same genus of the Apiaceae`},
		{"no name", "name: Herba bona\n", "", `taxa/herba-bona.yaml:1:5: herba-bona has no name`},
		{"no source for the plant", "range: [grows nowhere]\nfrom: [made-flora]", "range: [grows nowhere]", `taxa/herba-bona.yaml:1:5: a fact has no source: give from: with the ids of its sources, or memory`},
		{"no source for a statement", "{always: bristly, from: [memory]}", "{always: bristly}", `taxa/herba-bona.yaml:14:16: a fact has no source: give from: with the ids of its sources, or memory`},
		{"an empty list of sources", "{always: bristly, from: [memory]}", "{always: bristly, from: []}", `taxa/herba-bona.yaml:14:16: a fact has no source: give from: with the ids of its sources, or memory`},
		{"an unknown source", "[made-journal, made-flora]", "[made-journal, made-floar]", `taxa/herba-bona.yaml:12:56: there is no source "made-floar" (known: made-flora, made-journal); the nearest is "made-flora"`},
		{"an unknown trait", "  stem.surface:", "  stem.surfase:", `taxa/herba-bona.yaml:13:3: there is no trait "stem.surfase" (known: leaf.margin, stem.surface, plant.height, flower.petals, season.flowering, plant.habitat); the nearest is "stem.surface"`},
		{"an unknown state", "usually: serrate", "usually: serated", `taxa/herba-bona.yaml:11:17: there is no state of leaf.margin "serated" (known: entire, smooth, serrate, toothed, dentate); the nearest is "serrate"`},
		{"an everyday word for a state", "usually: serrate", "usually: toothed", `taxa/herba-bona.yaml:11:17: "toothed" is an everyday word for the state of leaf.margin: write serrate or dentate`},
		{"a measure for a state", "usually: serrate", "usually: 5-10 cm", `taxa/herba-bona.yaml:11:17: leaf.margin takes a state, not the measure "5-10 cm": expected one of entire, serrate, dentate`},
		{"a state for a measure", "(15-)30-100(-210) cm", "tall", `taxa/herba-bona.yaml:16:16: plant.height: "tall" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"an unknown unit", "(15-)30-100(-210) cm", "30-100 cmm", `taxa/herba-bona.yaml:16:16: plant.height: there is no unit "cmm" (known: mm, cm, m, in, ft); the nearest is "cm"`},
		{"a range that falls", "(15-)30-100(-210) cm", "100-30 cm", `taxa/herba-bona.yaml:16:16: plant.height: 100-30 does not rise from low to high`},
		{"months that are none", "usually: 11-2", "usually: 11-14", `taxa/herba-bona.yaml:18:17: season.flowering: 11-14 are no months: they run from 1 to 12`},
		{"no frequency", "{always: bristly, from", "{from", `taxa/herba-bona.yaml:14:7: a statement of stem.surface names 0 frequencies, expected one of always, usually, sometimes, rarely, never`},
		{"two frequencies", "{always: bristly,", "{always: bristly, never: hairless,", `taxa/herba-bona.yaml:14:7: a statement of stem.surface names 2 frequencies, expected one of always, usually, sometimes, rarely, never`},
		{"an unknown frequency", "{always: bristly", "{mostly: bristly", `taxa/herba-bona.yaml:14:8: there is no field "mostly" (known: always, usually, sometimes, rarely, never, at, on, from, note)`},
		{"a frequency of nothing", "{always: bristly, from", "{always: null, from", `taxa/herba-bona.yaml:14:16: nothing stands behind always`},
		{"a frequency of nothing, in a block", "    - {always: bristly, from: [memory]}", "    - always:\n      from: [memory]", `taxa/herba-bona.yaml:14:7: nothing stands behind always`},
		{"an unknown stage", "at: [rosette, leafy_shoot]", "at: [rosette, leafy]", `taxa/herba-bona.yaml:11:40: there is no stage "leafy" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant)`},
		{"any stage among others", "at: [rosette, leafy_shoot]", "at: [rosette, any]", `taxa/herba-bona.yaml:11:40: there is no stage "any" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant)`},
		{"an unknown position", "on: upper", "on: uper", `taxa/herba-bona.yaml:12:28: there is no position "uper" (known: upper, lower); the nearest is "upper"`},
		{"a list for a value", "always: bristly", "always: [bristly]", `taxa/herba-bona.yaml:14:16: a list stands here, expected a single value`},
		{"a mapping for a value", "author: L.", "author: {name: L.}", `taxa/herba-bona.yaml:3:9: a mapping of names stands here, expected a single value`},
		{"a mapping for a list of statements", "    - {always: bristly, from: [memory]}", "    {always: bristly, from: [memory]}", `taxa/herba-bona.yaml:14:5: a mapping of names stands here, expected a list, each entry begun with -`},
		{"a value for a list of statements", "  stem.surface:\n    - {always: bristly, from: [memory]}", "  stem.surface: bristly", `taxa/herba-bona.yaml:13:17: a single value stands here, expected a list, each entry begun with -`},
		{"a list for the traits", "exhaustive:\n  leaf.margin: {", "exhaustive:\n  - {", `taxa/herba-bona.yaml:20:3: a list stands here, expected names with what stands behind each, parted by a colon and a blank`},
		{"a list within a list", "common: [goodwort, true herb]", "common: [goodwort, [true herb]]", `taxa/herba-bona.yaml:5:20: a list stands here, expected a single value`},
		{"a comma without quotes", "use: salad, at", "use: salad, raw, at", `taxa/herba-bona.yaml:22:49: nothing stands behind "raw": a text with a comma in it has to stand in quotes, use: "salad, raw"`},
		{"a comma without quotes before a known field", "difference: its stem is hairless, from", "difference: hairless, on, off, from", `
taxa/herba-bona.yaml:24:85: nothing stands behind "on": a text with a comma in it has to stand in quotes, difference: "hairless, on"
taxa/herba-bona.yaml:24:89: nothing stands behind "off": a text with a comma in it has to stand in quotes, difference: "hairless, on, off"`},
		{"a colon without quotes", "range: [grows nowhere]", "range: nowhere: it is made up", `taxa/herba-bona.yaml:7:8: a colon and a blank stand inside a text here: put the whole text in quotes`},
		{"exhaustive or not", "{holds: false, because", "{because", `taxa/herba-bona.yaml:20:3: it is not said whether the values stated of leaf.margin are all there are (holds: true or false)`},
		{"exhaustive perhaps", "holds: false", "holds: perhaps", `taxa/herba-bona.yaml:20:24: expected true or false, not "perhaps"`},
		{"exhaustive without a reason", "because: shade leaves differ, ", "", `taxa/herba-bona.yaml:20:3: the exhaustiveness of leaf.margin is overruled without a reason (because)`},
		{"a use of no part", "{parts: [leaf], category", "{category", `taxa/herba-bona.yaml:22:5: no parts are named`},
		{"a use of an unknown part", "parts: [leaf]", "parts: [leafs]", `taxa/herba-bona.yaml:22:14: there is no part of a plant "leafs"; the nearest is "leaf"`},
		{"an unknown category", "category: food", "category: foods", `taxa/herba-bona.yaml:22:31: there is no category "foods"; the nearest is "food"`},
		{"no category", "category: food, ", "", `taxa/herba-bona.yaml:22:5: this use has no category`},
		{"a lookalike that is unknown", "taxon: herba-mala", "taxon: herba-malla", `taxa/herba-bona.yaml:24:13: there is no plant "herba-malla" (known: herba-bona, herba-mala); the nearest is "herba-mala"`},
		{"a lookalike of itself", "taxon: herba-mala", "taxon: herba-bona", `taxa/herba-bona.yaml:24:13: herba-bona is named as a lookalike of itself`},
		{"a lookalike without evidence", "evidence: case_report, ", "", `taxa/herba-bona.yaml:24:5: this lookalike has no evidence`},
		{"unknown evidence", "evidence: case_report", "evidence: rumour", `taxa/herba-bona.yaml:24:50: there is no evidence "rumour" (known: case_report, poison_centre, extension, flora, memory)`},
	})
	checkSlips(t, "taxa/herba-mala.yaml", []slip{
		{"an unknown severity", "severity: deadly", "severity: fatal", `taxa/herba-mala.yaml:13:55: there is no severity "fatal" (known: none_known, mild, serious, deadly)`},
		{"no severity, and no irritant", "severity: deadly, ", "", `taxa/herba-mala.yaml:13:5: this toxicity has no severity: expected one of none_known, mild, serious, deadly, or irritant: true`},
		{"an unknown route", "route: ingestion", "route: eating", `taxa/herba-mala.yaml:13:70: there is no route "eating" (known: ingestion, skin, skin_and_sun)`},
		{"no route", "route: ingestion, ", "", `taxa/herba-mala.yaml:13:5: this toxicity has no route`},
		{"half a petal", "usually: 5", "usually: 4.5-6.5", `taxa/herba-mala.yaml:10:17: flower.petals: 4.5-6.5 is no count`},
		{"a petal with a unit", "usually: 5", "usually: 5 cm", `taxa/herba-mala.yaml:10:17: flower.petals: a unit (cm) is out of place: this is a plain number`},
	})
}

func TestSlipsInSourcesFiles(t *testing.T) {
	checkSlips(t, "sources.yaml", []slip{
		{"a source twice", "made-journal:", "made-flora:", `
sources.yaml:2:1: "made-flora" stands here twice
taxa/herba-bona.yaml:12:42: there is no source "made-journal" (known: made-flora); the nearest is "made-flora"
taxa/herba-bona.yaml:24:104: there is no source "made-journal" (known: made-flora); the nearest is "made-flora"
taxa/herba-mala.yaml:13:127: there is no source "made-journal" (known: made-flora); the nearest is "made-flora"`},
		{"no title", "title: \"Badbane, eaten for goodwort\", ", "", `sources.yaml:2:1: source made-journal has no title`},
		{"no year", "year: 1999", "year: MCMXCIX", `sources.yaml:1:82: "MCMXCIX" is no year`},
		{"a year to come", "year: 1999", "year: 19999", `sources.yaml:1:82: "19999" is no year`},
		{"a source called memory", "made-journal: {", "memory: {title: Mine}\nmade-journal: {", `sources.yaml:2:1: "memory" is what facts without a source say: no publication can have that id`},
		{"an id that cannot stand in a list", "made-journal: {", "\"made journal, 2\": {title: Mine}\nmade-journal: {", `sources.yaml:2:1: "made journal, 2" cannot be the id of a source: expected letters, digits and hyphens`},
		{"a misspelt field", "publisher:", "publishr:", `sources.yaml:1:57: there is no field "publishr" (known: title, publisher, year, url, kind); the nearest is "publisher"`},
		{"a file that cannot be read says so once", "made-flora: {", "made-flora: {{", `sources.yaml:1:14: a name stands here without a colon and a value`},
		{"a list of sources", "", "- {id: made-flora}\n", `sources.yaml:1:1: a list stands here, expected names with what stands behind each, parted by a colon and a blank`},
	})
}

func TestSlipsInStudies(t *testing.T) {
	checkSlips(t, "studies/herba-bona.yaml", []slip{
		{"no plant", "taxon: herba-bona\n", "", `studies/herba-bona.yaml: this study does not say of which plant it is (taxon)`},
		{"an unknown plant", "taxon: herba-bona", "taxon: herba-bonna", `studies/herba-bona.yaml:1:8: there is no plant "herba-bonna" (known: herba-bona, herba-mala); the nearest is "herba-bona"`},
		{"a plant other than the file's name", "taxon: herba-bona", "taxon: herba-mala", `studies/herba-bona.yaml:1:8: the study of "herba-mala" is named herba-bona.yaml, expected herba-mala.yaml`},
		{"no stage", "    stages: [rosette]\n", "", `studies/herba-bona.yaml:4:5: no stage is named at which these parts are gathered`},
		{"no part", "  - parts: [leaf]\n    stages", "  - stages", `studies/herba-bona.yaml:4:5: no parts are named`},
		{"no checks", `      - {trait: stem.surface, is: [bristly], because: badbane is hairless, from: [made-flora]}
      - {trait: leaf.margin, on: upper, because: it has to fit, from: [memory]}
`, "", `studies/herba-bona.yaml:4:5: no checks are demanded: a herb nobody has to look at cannot be gathered`},
		{"a check of no trait", "{trait: stem.surface, is: [bristly], because", "{because", `studies/herba-bona.yaml:7:9: this check has no trait`},
		{"a check of an unknown trait", "trait: stem.surface", "trait: stem.surfac", `studies/herba-bona.yaml:7:17: there is no trait "stem.surfac" (known: leaf.margin, stem.surface, plant.height, flower.petals, season.flowering, plant.habitat); the nearest is "stem.surface"`},
		{"a check of an unknown state", "is: [bristly]", "is: [bristley]", `studies/herba-bona.yaml:7:36: there is no state of stem.surface "bristley" (known: hairless, bristly); the nearest is "bristly"`},
		{"a check of a measure", "trait: stem.surface, is: [bristly]", "trait: plant.height, is: [30 cm]", `studies/herba-bona.yaml:7:36: plant.height is a measure, which a check cannot ask for by name: leave is: out, and any value stated of the plant fits`},
		{"a check at an unknown position", "on: upper", "on: top", `studies/herba-bona.yaml:8:34: there is no position "top" (known: upper, lower)`},
		{"a check without a source", "because: it has to fit, from: [memory]", "because: it has to fit", `studies/herba-bona.yaml:8:17: a fact has no source: give from: with the ids of its sources, or memory`},
		{"a leave-rule that is another", "  - id: bona-by-water\n", "  - id: bona-by-water\n    then: must\n", `studies/herba-bona.yaml:13:11: a rule under leave: says "must", expected leave`},
		{"an unknown plant that is too close", "leave:\n", "too_close:\n  - {taxon: herba-mal, stages: [rosette], because: none, parted: never, from: [memory]}\nleave:\n", `studies/herba-bona.yaml:12:13: there is no plant "herba-mal" (known: herba-bona, herba-mala); the nearest is "herba-mala"`},
		{"a plant that is too close, and no reason", "leave:\n", "too_close:\n  - {taxon: herba-mala, stages: [rosette], parted: in flower}\nleave:\n", `
studies/herba-bona.yaml:12:5: a fact has no source: give from: with the ids of its sources, or memory
studies/herba-bona.yaml:12:5: too_close herba-mala has to say at which stages, why (because), and how or when the two can be told apart (parted)`},
		{"too close to nothing", "leave:\n", "too_close:\n  - {stages: [rosette], because: none, parted: never, from: [memory]}\nleave:\n", `studies/herba-bona.yaml:12:5: this too_close has no plant`},
		{"a field of a study in a gathering", "    say: [take", "    about: [take", `studies/herba-bona.yaml:9:5: there is no field "about" (known: parts, stages, checks, say, from)`},
	})
}

func TestSlipsInRulesFiles(t *testing.T) {
	checkSlips(t, "rules/general.yaml", []slip{
		{"no id", "- id: bristly-is-bona\n    for", "- for", `rules/general.yaml:2:5: this rule has no id`},
		{"an id that cannot be asked for", "id: bristly-is-bona", "id: bristly is bona", `rules/general.yaml:2:9: "bristly is bona" cannot be the id of a rule: expected letters, digits and hyphens`},
		{"the id of a rule in a study", "id: bristly-is-bona", "id: bona-by-water", `rules/general.yaml:2:9: the rule at studies/herba-bona.yaml:12:9 has the id "bona-by-water" too`},
		{"an unknown plant", "for: herba-bona", "for: herba-bon", `rules/general.yaml:3:10: there is no plant "herba-bon" (known: herba-bona, herba-mala); the nearest is "herba-bona"`},
		{"no consequence", "    then: it-is\n", "", `rules/general.yaml:2:9: bristly-is-bona has no consequence (then)`},
		{"an unknown consequence", "then: it-is", "then: it_is", `rules/general.yaml:4:11: there is no consequence (then) "it_is" (known: leave, must, it-is, note); the nearest is "it-is"`},
		{"no expression", "    when: |\n      stem.surface == \"bristly\" &&\n        stage != \"dormant\"\n", "", `rules/general.yaml:2:9: bristly-is-bona has no expression (when)`},
		{"no source", "    from: [memory]\n", "", `rules/general.yaml:2:9: a fact has no source: give from: with the ids of its sources, or memory`},
		{"an unknown outcome", "expect: fires", "expect: fire", `rules/general.yaml:12:17: there is no outcome (expect) "fire" (known: fires, quiet, waits); the nearest is "fires"`},
		{"no outcome", "        expect: fires\n", "", `rules/general.yaml:11:9: this test has no outcome (expect)`},
		{"a test that waits for an unknown trait", "expect: fires", "expect: waits\n        for: [stem.surfac]", `rules/general.yaml:13:15: there is no trait "stem.surfac" (known: leaf.margin, stem.surface, plant.height, flower.petals, season.flowering, plant.habitat); the nearest is "stem.surface"`},
		{"a test with an unknown state", "stem.surface: bristly,", "stem.surface: bristely,", `rules/general.yaml:11:31: there is no state of stem.surface "bristely" (known: hairless, bristly); the nearest is "bristly"`},
		{"a test with an unknown trait", "{stem.surface: bristly,", "{stem.surfac: bristly,", `rules/general.yaml:11:17: there is no trait "stem.surfac" (known: leaf.margin, stem.surface, plant.height, flower.petals, season.flowering, plant.habitat); the nearest is "stem.surface"`},
		{"a test with an unknown stage", "stage: rosette", "stage: roset", `rules/general.yaml:11:47: there is no stage "roset" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant); the nearest is "rosette"`},
		{"a test with an unknown month", "stage: rosette", "month: Mai", `rules/general.yaml:11:47: there is no month "Mai"; the nearest is "may"`},
		{"a test with an unknown part", "stage: rosette", "part: leafs", `rules/general.yaml:11:46: there is no part of a plant "leafs"; the nearest is "leaf"`},
		{"a test that hopes for an unknown plant", "stage: rosette", "hoped_for: herba-mal", `rules/general.yaml:11:51: there is no plant "herba-mal" (known: herba-bona, herba-mala); the nearest is "herba-mala"`},
		{"a rule outside the list", "rules:\n", "rule:\n", `rules/general.yaml:1:1: there is no field "rule" (known: rules); the nearest is "rules"`},
	})
}

func TestSlipsInTheVocabulary(t *testing.T) {
	checkSlips(t, "vocabulary.yaml", []slip{
		{"an unknown stage", "  rosette: {bbch", "  rosettes: {bbch", `vocabulary.yaml:4:3: there is no stage "rosettes" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant); the nearest is "rosette"`},
		{"a BBCH stage that is none", "bbch: [9]", "bbch: [10]", `vocabulary.yaml:8:20: "10" is no principal growth stage: BBCH has 0 to 9`},
		{"an id that rules cannot name", "  leaf.margin:", "  leaf-margin:", `vocabulary.yaml:16:3: "leaf-margin" cannot be the id of a trait: expected organ.what in small letters, digits and underscores`},
		{"a state that readings cannot name", "      streamside:", "      stream side|bank:", `vocabulary.yaml:67:7: "stream side|bank" cannot be the id of a state: expected small letters, digits and underscores`},
		{"an unknown kind", "kind: measure", "kind: mesure", `vocabulary.yaml:42:11: there is no kind "mesure" (known: state, measure, count, months); the nearest is "measure"`},
		{"no kind", "    kind: measure\n", "", `vocabulary.yaml:41:3: plant.height has no kind`},
		{"an unknown unit", "unit: cm", "unit: inches", `vocabulary.yaml:43:11: there is no unit for a measure "inches" (known: cm, mm)`},
		{"a measure without a unit", "    unit: cm\n", "", `vocabulary.yaml:41:3: plant.height has no unit for a measure`},
		{"no question", "    question: How tall is it?\n", "", `vocabulary.yaml:41:3: plant.height has no question to ask`},
		{"an unknown effort", "effort: touch", "effort: taste", `vocabulary.yaml:35:13: there is no effort "taste" (known: eye, touch)`},
		{"an error rate beyond 1", "rate: 0.08", "rate: 1.08", `vocabulary.yaml:26:19: "1.08" is no error rate: expected a number from 0 to 1`},
		{"an error rate that is no number", "rate: 0.08", "rate: NaN", `vocabulary.yaml:26:19: "NaN" is no error rate: expected a number from 0 to 1`},
		{"a cost below nothing", "cost: 1.5", "cost: -1.5", `vocabulary.yaml:14:17: "-1.5" is no cost: expected a number from 0 to 1000`},
		{"an unknown near state", "near: [dentate]", "near: [dentat]", `vocabulary.yaml:29:67: there is no state of leaf.margin "dentat" (known: entire, serrate, dentate); the nearest is "dentate"`},
		{"a word that is a state itself", "words: [smooth]", "words: [Serrate]", `vocabulary.yaml:28:41: "Serrate" is a state of leaf.margin itself and cannot be another word for entire`},
		{"a name of two traits", "    question: How many petals", "    label: height\n    words: [edge]\n    question: How many petals", `
vocabulary.yaml:20:13: "edge" is a name of flower.petals too: a reading under it could be of either
vocabulary.yaml:51:13: "edge" is a name of leaf.margin too: a reading under it could be of either`},
		{"a measure with states", "    unit: cm\n", "    unit: cm\n    states: {tall: {means: tall}}\n", `vocabulary.yaml:41:3: plant.height is a trait of kind measure with 1 states`},
		{"a trait of no states", "    states:\n      hairless: {means: no hairs}\n      bristly: {means: stiff hairs}\n", "", `vocabulary.yaml:31:3: stem.surface is a trait of kind state with 0 states`},
		{"a comma without quotes", "means: no teeth,", "means: no teeth, no hairs,", `vocabulary.yaml:28:33: nothing stands behind "no hairs": a text with a comma in it has to stand in quotes, means: "no teeth, no hairs"`},
		{"a file that cannot be read", "stages:", "stages: [", `vocabulary.yaml:9:1: a comma or ] is missing before this`},
	})
}

func TestEveryFileIsReportedAtOnce(t *testing.T) {
	folder := graphtest.Folder()
	for file, change := range map[string][2]string{
		"sources.yaml": {"1999", "long ago"}, "taxa/herba-bona.yaml": {"serrate", "serate"}, "taxa/herba-mala.yaml": {"\n  - {parts: [sap]", "\n  - {prts: [sap]"},
		"studies/herba-bona.yaml": {"[rosette]", "[roset]"}, "rules/general.yaml": {"it-is", "is"},
	} {
		text := string(folder[file].Data)
		if !strings.Contains(text, change[0]) {
			t.Fatal(file)
		}
		folder[file] = &fstest.MapFile{Data: []byte(strings.Replace(text, change[0], change[1], 1))}
	}
	k, err := files.Load(folder)
	var problems graph.Problems
	if k != nil || !errors.As(err, &problems) {
		t.Fatalf("%v, %v", k, err)
	}
	said := map[string]bool{}
	for _, p := range problems {
		said[p.Place.File] = true
	}
	if len(said) != 5 {
		t.Errorf("only of %v:\n%s", said, err)
	}
}

// A broken file of a plant must not look like a plant that nobody knows.
func TestPlantsOfBrokenFilesAreKnownByTheirFile(t *testing.T) {
	folder := spoilt(t, "taxa/herba-mala.yaml", slip{new: "id: [\n"})
	_, err := files.Load(folder)
	if want := "taxa/herba-mala.yaml:1:5: a [ is opened here and never closed"; err == nil || err.Error() != want {
		t.Errorf("said\n%v\nwant\n%s", err, want)
	}
}

func TestFilesThatAreNotThere(t *testing.T) {
	folder := graphtest.Folder()
	delete(folder, "sources.yaml")
	if _, err := files.Load(folder); err == nil || err.Error() != "sources.yaml: cannot be read: file does not exist" {
		t.Errorf("no sources: %v", err)
	}
	delete(folder, "vocabulary.yaml")
	if _, err := files.Load(folder); err == nil || err.Error() != "vocabulary.yaml: cannot be read: file does not exist" {
		t.Errorf("no vocabulary: %v", err)
	}
	folder = graphtest.Folder()
	folder["taxa/herba-nova.yml"] = &fstest.MapFile{}
	folder["taxa/notes.txt"] = &fstest.MapFile{}
	folder["rules/more.YAML"] = &fstest.MapFile{}
	_, err := files.Load(folder)
	if want := "rules/more.YAML: this file is not read for its ending: name it more.yaml\ntaxa/herba-nova.yml: this file is not read for its ending: name it herba-nova.yaml"; err == nil || err.Error() != want {
		t.Errorf("said\n%v\nwant\n%s", err, want)
	}
	for _, name := range []string{"taxa", "studies", "rules"} {
		folder := graphtest.Folder()
		for file := range folder {
			if strings.HasPrefix(file, name+"/") {
				delete(folder, file)
			}
		}
		_, err := files.Load(folder)
		if (err == nil) != (name != "taxa") { // studies name plants
			t.Errorf("without %s: %v", name, err)
		}
	}
}

func TestMadeFolderIsReadAsItIsMeant(t *testing.T) {
	k, err := files.Load(graphtest.Folder())
	if err != nil {
		t.Fatal(err)
	}
	bona, _ := k.Taxon("herba-bona")
	upper := bona.Statements[1]
	if d := cmp.Diff(graph.Statement{Trait: "leaf.margin", State: "entire", Frequency: graph.Rarely, Position: "upper", Sources: []string{"made-flora", "made-journal"}}, upper, ignoreBlanks); d != "" {
		t.Errorf("on: is read as a position (-want +got):\n%s", d)
	}
	height := bona.Statements[3]
	if height.Range.String() != "(15-)30-100(-210)" || height.Stages != graph.StagesOf(graph.Flowering) || bona.Statements[0].Note != "fine teeth, all round" {
		t.Errorf("%+v", height)
	}
	study, _ := k.Study("herba-bona")
	if g := study.Gather[0]; len(g.Checks) != 2 || g.Checks[1].Position != "upper" || len(g.Say) != 2 || study.Leave[0].For != "herba-bona" || study.Leave[0].Then != graph.Leave {
		t.Errorf("%+v", study)
	}
	if test := study.Leave[0].Tests[1]; test.Hoped != "herba-bona" || test.Given.Stage != graph.Rosette || test.For[0] != "plant.habitat" {
		t.Errorf("%+v", test)
	}
	mala, _ := k.Taxon("herba-mala")
	if tox := mala.Toxicity; tox[0].Severity != graph.Deadly || !tox[1].Irritant || tox[1].Severity != graph.Ungraded || mala.CommonName() != "badbane" {
		t.Errorf("%+v", mala)
	}
	habitat, _ := k.Vocabulary.Trait("plant.habitat")
	flowering, _ := k.Vocabulary.Trait("season.flowering")
	surface, _ := k.Vocabulary.Trait("stem.surface")
	if habitat.Excludes || !habitat.Many || flowering.Excludes || !surface.Excludes || surface.Group != "stem.surface" || surface.Label != "stem.surface" {
		t.Errorf("%+v", habitat)
	}
	margin, _ := k.Vocabulary.Trait("leaf.margin")
	if d := cmp.Diff([]string{"serrate"}, margin.States[2].Near); d != "" {
		t.Errorf("near states hold both ways: %s", d)
	}
}

func TestShippedDataCanBeRead(t *testing.T) {
	k, err := files.Load(os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	if len(k.Taxa) < 38 || len(k.Studies) == 0 || len(k.Rules) == 0 {
		t.Errorf("%d plants, %d studies, %d rules", len(k.Taxa), len(k.Studies), len(k.Rules))
	}
}

func TestNamesListsWhatIsRead(t *testing.T) {
	got, err := files.Names(graphtest.Folder())
	want := []string{"vocabulary.yaml", "sources.yaml", "taxa/herba-bona.yaml", "taxa/herba-mala.yaml", "studies/herba-bona.yaml", "rules/general.yaml"}
	if d := cmp.Diff(want, got); d != "" || err != nil {
		t.Errorf("%v %s", err, d)
	}
	if _, err := files.Names(refusing{}); err == nil {
		t.Error("a folder that cannot be listed has no files")
	}
}

// refusing is a folder that nobody may look into.
type refusing struct{}

func (refusing) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
}
