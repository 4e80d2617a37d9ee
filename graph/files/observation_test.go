package files_test

import (
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"

	"telltale/graph"
	"telltale/graph/files"
	"telltale/graph/graphtest"
)

// made is what stands in the made folder.
func made(t testing.TB) *graph.Knowledge {
	t.Helper()
	k, err := files.Load(graphtest.Folder())
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func TestObservationsInYAMLAndJSON(t *testing.T) {
	v := made(t).Vocabulary
	want := graph.Observation{Stage: graph.Rosette, Month: 5, Part: "leaf", Readings: []graph.Reading{
		{Trait: "leaf.margin", Position: "upper", States: []string{"serrate", "dentate"}},
		{Trait: "stem.surface", States: []string{"hairless"}, Not: []string{"bristly"}},
		{Trait: "plant.height", Low: 30.48, High: 30.48, Unsure: true},
		{Trait: "flower.petals", Low: 5, High: 5},
	}}
	for shows, text := range map[string]string{
		"blocks": `
stage: rosette
month: May
part: leaf
place: behind the barn, by the wall
date: 2024-05-17
readings:
  leaf.margin@upper: serrate|dentate
  stem.surface: "!=bristly"
  plant.height: 1 ft?   # with a tape
  flower.petals: 5
`,
		"braces":       `{stage: rosette, month: 5, part: leaf, readings: {leaf.margin @ upper: toothed, stem.surface: '!=bristly', plant.height: 30.48?, flower.petals: 5}}`,
		"JSON":         `{"stage":"rosette","month":5,"part":"leaf","place":null,"readings":{"leaf.margin@upper":"serrate|dentate","stem.surface":"!=bristly","plant.height":"1ft?","flower.petals":5}}`,
		"JSON in tabs": "{\n\t\"stage\":\t\"rosette\",\n\t\"month\": 5,\n\t\"part\": \"leaf\",\n\t\"readings\": {\n\t\t\"leaf.margin@upper\": \"serrate|dentate\",\n\t\t\"stem.surface\": \"!=bristly\",\n\t\t\"plant.height\": \"1ft?\",\n\t\t\"flower.petals\": 5\n\t}\n}\n",
		"escaped JSON": `{"stage":"ros\u0065tte","month":"Ma\u0079","part":"leaf","place":"caf\u00e9 \ud83c\udf3f \/ \"wall\"","readings":{"leaf.margin@upper":"serrate|dentate","stem.surface":"!=bristly","plant.height":"1ft?","flower.petals":5}}`,
		"Windows":      "\ufeffstage: rosette\r\ndate: 2024-05\r\npart: leaf\r\nreadings:\r\n  leaf.margin@upper: serrate|dentate\r\n  stem.surface: \"!=bristly\"\r\n  plant.height: 1 ft?\r\n  flower.petals: 5\r\n",
		"folded":       "---\nstage: >\n  rosette\nmonth: |\n  5\npart: leaf\nreadings:\n  edge of the leaf@upper: >-\n    serrate|\n    dentate\n  stem.surface: \"!=bristly\"\n  plant.height: 1 ft?\n  flower.petals: 5\n...\n",
	} {
		t.Run(shows, func(t *testing.T) {
			got, err := files.ReadObservation(v, "seen", strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("-want +got:\n%s", d)
			}
		})
	}
}

func TestSlipsInObservations(t *testing.T) {
	v := made(t).Vocabulary
	for _, s := range []struct{ shows, text, want string }{
		{"every slip at once", "stage: roset\nmonth: Mai\npart: leafs\ndate: 17.5.2024\nreadings:\n  leaf.mrgin: serrate\n  stem.surface@top: hairless\n  plant.height: 30 cmm\n", `
seen:1:8: there is no stage "roset" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant); the nearest is "rosette"
seen:2:8: there is no month "Mai"; the nearest is "may"
seen:3:7: there is no part of a plant "leafs"; the nearest is "leaf"
seen:4:7: "17.5.2024" is no date: expected one such as 2024-05-17
seen:6:3: there is no trait "leaf.mrgin" (known: leaf.margin, stem.surface, plant.height, flower.petals, season.flowering, plant.habitat); the nearest is "leaf.margin"
seen:7:16: there is no position "top" (known: upper, lower)
seen:8:17: plant.height takes a length such as 12 cm: there is no unit "cmm" (known: mm, cm, m, in, ft); the nearest is "cm"`},
		{"the second of two states", "readings: {leaf.margin: serrate|dentat}", `seen:1:33: there is no state of leaf.margin "dentat" (known: entire, smooth, serrate, toothed, dentate); the nearest is "dentate"`},
		{"the second of two states in quotes", "readings: {leaf.margin: \"serrate|dentat\"}", `seen:1:34: there is no state of leaf.margin "dentat" (known: entire, smooth, serrate, toothed, dentate); the nearest is "dentate"`},
		{"columns are characters, not bytes", "{place: Öland, stag: rosette}", `seen:1:16: there is no field "stag" (known: stage, month, part, place, date, readings); the nearest is "stage"`},
		{"not, without quotes", "readings: {stem.surface: !=bristly hairless}", `seen:1:26: a text that begins with ! has to stand in quotes`},
		{"not, without quotes, in a block", "readings:\n  stem.surface: !=bristly\n", `seen:2:17: a text that begins with ! has to stand in quotes`},
		{"not, without quotes, last between braces", "readings: {stem.surface: !bristly}", `seen:1:34: a text that begins with ! has to stand in quotes`},
		{"a tag", "stage: !!str rosette", `seen:1:8: a text that begins with ! has to stand in quotes`},
		{"a question mark first", "readings: {leaf.margin: ? serrate}", `seen:1:25: a text that begins with ? has to stand in quotes`},
		{"an alias", "stage: &s rosette\nmonth: *s", `seen:1:8: anchors and aliases (&, *, <<) are not used in these files: write the value out, or put the text in quotes`},
		{"a merge", "<<: {stage: rosette}", `seen:1:1: anchors and aliases (&, *, <<) are not used in these files: write the value out, or put the text in quotes`},
		{"a date in another month than the one told", "month: 4\ndate: 2024-05-17", `seen:2:7: this date is in May, and the month told is April`},
		{"no such day", "date: 2023-02-29", `seen:1:7: "2023-02-29" is no date: expected one such as 2024-05-17`},
		{"a stage twice", "stage: rosette\nstage: rosette", `seen:2:1: "stage" stands here twice`},
		{"a reading twice", "readings:\n  leaf.margin: serrate\n  leaf.margin: entire", `seen:3:3: "leaf.margin" stands here twice`},
		{"a reading twice in JSON", `{"readings": {"leaf.margin": "serrate", "leaf.margin": "entire"}}`, `seen:1:41: "leaf.margin" stands here twice`},
		{"a reading of nothing", "readings:\n  leaf.margin:\n", `seen:2:3: nothing was read of leaf.margin: give one of entire, serrate, dentate, or leave the reading out`},
		{"a reading of null", `{"readings": {"leaf.margin": null}}`, `seen:1:30: nothing was read of leaf.margin: give one of entire, serrate, dentate, or leave the reading out`},
		{"a list of states", "readings: {leaf.margin: [serrate, dentate]}", `seen:1:25: a list stands here, expected a single value`},
		{"a list of readings", "readings: [leaf.margin=serrate]", `seen:1:11: a list stands here, expected names with what stands behind each, parted by a colon and a blank`},
		{"a comma without a value", "readings: {leaf.margin: serrate, dentate}", `seen:1:34: nothing stands behind "dentate": a text with a comma in it has to stand in quotes, leaf.margin: "serrate, dentate"`},
		{"a comma without a value and nothing before", "{stage, month: 5}", `seen:1:2: nothing stands behind "stage"`},
		{"no blank behind the colon", "stage:rosette", `seen:1:1: a single value stands here, expected names with what stands behind each, parted by a colon and a blank`},
		{"a colon within", "stage: rosette: or so", `seen:1:8: a colon and a blank stand inside a text here: put the whole text in quotes`},
		{"a tab for an indent", "readings:\n\tleaf.margin: serrate", `seen:2:1: a tab stands here: indent with blanks`},
		{"a quote left open", "stage: \"rosette\nmonth: 5", `seen:1:8: a text is opened here with " and never closed`},
		{"a brace left open", "readings: {leaf.margin: serrate", `seen:1:11: a { is opened here and never closed`},
		{"a bracket left open", "readings: [leaf.margin", `seen:1:11: a [ is opened here and never closed`},
		{"a bracket too many", "readings: leaf]]", `seen:1:11: a single value stands here, expected names with what stands behind each, parted by a colon and a blank`},
		{"a reserved character", "place: @home", `seen:1:8: a text that begins with @ or ` + "`" + ` has to stand in quotes`},
		{"a per cent sign", "place: %", `seen:1:8: a text that begins with % has to stand in quotes`},
		{"a list on the line of its name", "readings: - leaf", `seen:1:11: a text that begins with - and a blank has to stand in quotes, and a list begins on a line of its own`},
		{"a backslash in quotes", `place: "C:\dir"`, `seen:1:12: a backslash stands here in a text in double quotes: write it twice, or use single quotes`},
		{"JSON without a colon", "{\n\t\"stage\" \"rosette\"\n}", `seen:2:2: a name stands here without a colon and a value`},
		{"JSON without a comma", "{\n\t\"stage\": \"rosette\"\n\t\"month\": 5\n}", `seen:3:2: a comma or } is missing before this`},
		{"JSON cut off", "{\n\t\"stage\": \"rosette\",\n", `seen:2:20: a name stands here without a colon and a value`},
		{"JSON with a slip below a tab", "{\n\t\"stage\": \"rosette\",\n\t\"readings\": {\n\t\t\"leaf.margin\": \"serate\"\n\t}\n}", `seen:4:18: there is no state of leaf.margin "serate" (known: entire, smooth, serrate, toothed, dentate); the nearest is "serrate"`},
		{"a JSON list", `["stage"]`, `seen:1:1: a list stands here, expected names with what stands behind each, parted by a colon and a blank`},
		{"two documents", "stage: rosette\n---\nstage: flowering\n", `seen:2:1: 2 documents stand in this file, expected one`},
		{"nothing", "", `seen: nothing stands in this file`},
		{"blank lines", " \n\n", `seen: nothing stands in this file`},
		{"a comment only", "# to be written\n", `seen: nothing stands in this file`},
		{"null", "null\n", `seen: nothing stands in this file`},
		{"a document of nothing", "---\n", `seen: nothing stands in this file`},
	} {
		t.Run(s.shows, func(t *testing.T) {
			got, err := files.ParseObservation(v, "seen", []byte(s.text))
			if err == nil {
				t.Fatalf("read as %+v", got)
			}
			if want := strings.TrimSpace(s.want); err.Error() != want {
				t.Errorf("%s\nsaid\n%s\nwant\n%s", s.text, err, want)
			}
			if !cmp.Equal(got, graph.Observation{}) {
				t.Errorf("half of it was read: %+v", got)
			}
		})
	}
}

func TestObservationsThatCannotBeRead(t *testing.T) {
	broken := io.MultiReader(strings.NewReader("stage: rosette\n"), iotest.ErrReader(io.ErrUnexpectedEOF))
	if _, err := files.ReadObservation(made(t).Vocabulary, "seen", broken); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("half an observation passes for one: %v", err)
	}
}

func TestAnObservationMayTellNothing(t *testing.T) {
	got, err := files.ParseObservation(made(t).Vocabulary, "seen", []byte("{}"))
	if err != nil || !cmp.Equal(got, graph.Observation{}) {
		t.Errorf("%+v, %v", got, err)
	}
}
