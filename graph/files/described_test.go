package files_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"telltale/graph"
	"telltale/graph/files"
)

func readDescribed(v *graph.Vocabulary, text string) ([]files.Described, error) {
	return files.ReadDescribed(v, "plants.json", strings.NewReader(text))
}

func TestDescriptions(t *testing.T) {
	got, err := readDescribed(made(t).Vocabulary, `[
 {"id": "h1", "truth": "herba-bona", "kind": "careful", "stage": "rosette", "month": "May",
  "traits": {"plant.height": "1-2 ft", "leaf.margin": "toothed", "flower.petals": 5}, "source": {"title": "A page", "url": "https://example.org"}},
 {"id": "h2", "truth": "oak", "kind": "stranger", "stage": "", "month": null, "traits": {}}
]`)
	if err != nil {
		t.Fatal(err)
	}
	want := []files.Described{
		{ID: "h1", Truth: "herba-bona", Kind: "careful", Source: "A page", Observation: graph.Observation{Stage: graph.Rosette, Month: 5, Readings: []graph.Reading{
			{Trait: "flower.petals", Low: 5, High: 5}, {Trait: "leaf.margin", States: []string{"serrate", "dentate"}}, {Trait: "plant.height", Low: 30.48, High: 60.96},
		}}},
		{ID: "h2", Truth: "oak", Kind: "stranger"},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
}

func TestSlipsInDescriptions(t *testing.T) {
	v := made(t).Vocabulary
	for _, s := range []struct{ shows, text, want string }{
		{"every slip at once", `[{"id": "h1"}, {"id": "h2", "stage": "roset", "month": 13, "traits": {"leaf.mrgin": "x", "leaf.margin": "serate", "plant.height": 1e9}}]`, `
plants.json, description 2 h2: there is no stage "roset" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant); the nearest is "rosette"
plants.json, description 2 h2: there is no month 13: they run from 1 to 12
plants.json, description 2 h2: there is no state of leaf.margin "serate" (known: entire, smooth, serrate, toothed, dentate); the nearest is "serrate"
plants.json, description 2 h2: there is no trait "leaf.mrgin" (known: leaf.margin, stem.surface, plant.height, flower.petals, season.flowering, plant.habitat); the nearest is "leaf.margin"
plants.json, description 2 h2: plant.height takes a length such as 12 cm: "1e9" is no number`},
		{"no JSON", "[\n {\"id\": h1}]", `plants.json:2:9: this is no list of descriptions: invalid character 'h' looking for beginning of value`},
		{"no JSON behind letters beyond ASCII", `[{"id": "Öland" "x"}]`, `plants.json:1:17: this is no list of descriptions: invalid character '"' after object key:value pair`},
		{"no list", `{"id": "h1"}`, `plants.json:1:1: this is no list of descriptions: there is no place here for a JSON object`},
		{"a number for a name", "[{\"id\": 1}]", `plants.json:1:9: this is no list of descriptions: there is no place here for a JSON number`},
		{"a list for a reading", `[{"id": "h1", "traits": {"leaf.margin": ["serrate"]}}]`, `plants.json, description 1 h1: there is no state of leaf.margin "[\"serrate\"]" (known: entire, smooth, serrate, toothed, dentate)`},
		{"nothing", "", `plants.json: this is no list of descriptions: unexpected end of JSON input`},
		{"too much", "[" + strings.Repeat(" ", 8<<20) + "]", `plants.json: this file has more than the 8388608 bytes that are read`},
	} {
		t.Run(s.shows, func(t *testing.T) {
			got, err := readDescribed(v, s.text)
			if err == nil || got != nil {
				t.Fatalf("read as %+v: %v", got, err)
			}
			if want := strings.TrimSpace(s.want); err.Error() != want {
				t.Errorf("said\n%s\nwant\n%s", err, want)
			}
		})
	}
}
