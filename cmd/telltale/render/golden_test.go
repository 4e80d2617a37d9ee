package render_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/muesli/reflow/ansi"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/graph/store"
	"telltale/rules/reason"
)

var update = flag.Bool("update", false, "rewrite the golden files")

const (
	flora  = "../../../testdata/flora"
	golden = "../../../testdata/golden"
)

// widths are those of a common screen and of a phone held upright.
var widths = []int{80, 40}

// lanterns makes a reasoner of the made-up flora.
func lanterns(t testing.TB) *reason.Reasoner {
	t.Helper()
	k, err := store.Build(context.Background(), os.DirFS(flora))
	if err != nil {
		t.Fatal(err)
	}
	r, err := reason.New(k)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// seen makes an observation of readings, of which stage=, part= and month= are
// circumstances.
func seen(t testing.TB, k *graph.Knowledge, readings ...string) graph.Observation {
	t.Helper()
	var obs graph.Observation
	for _, text := range readings {
		name, value, _ := strings.Cut(text, "=")
		switch name {
		case "stage":
			obs.Stage, _ = graph.StageNamed(value)
		case "part":
			obs.Part = value
		case "month":
			obs.Month, _ = graph.ParseMonth(value)
		default:
			r, err := graph.ParseReading(k.Vocabulary, text)
			if err != nil {
				t.Fatal(err)
			}
			obs.Readings = append(obs.Readings, r)
		}
	}
	return obs
}

// answers are the answers of golden files: what each shows, and what was seen.
var answers = map[string][]string{
	"poison-most-likely": {"stage=leafy_shoot", "stem.surface=hairless", "stem.markings=purple_blotched", "plant.odour_crushed=mousy", "leaf.length=9cm"},
	"too-little-to-tell": {"plant.habitat=meadow"},
	"no-plant-known":     {"stage=flowering", "stem.surface=stinging", "leaf.margin=crenate", "flower.petals=9", "plant.odour_crushed=lemony", "plant.height=4m"},
	"harmless-but-open":  {"stage=leafy_shoot", "stem.surface=softly_hairy", "leaf.margin=toothed", "plant.height=20 in", "stem.markings!=purple_blotched"},
	"poisons-ruled-out":  {"stage=leafy_shoot", "month=July", "stem.surface=softly_hairy", "plant.odour_crushed=lemon", "leaf.margin=serrate", "leaf.veins_below=raised", "root.interior=solid", "leaf.length=6cm"},
	"skin-is-at-risk":    {"stem.surface=bristly?", "plant.height=3m", "leaf.margin@upper=dentate", "leaf.length=2.5ft"},
}

// verdicts are the verdicts of golden files: the herb hoped for, and what was
// seen.
var verdicts = map[string][]string{
	"gather":               {"meadow lantern", "stage=leafy_shoot", "part=leaf", "stem.surface=softly_hairy", "plant.odour_crushed=lemony", "leaf.margin=serrate", "leaf.veins_below=raised", "root.interior=solid", "stem.markings=none", "leaf.length=6cm"},
	"not-yet-little-seen":  {"meadow lantern", "stage=leafy_shoot", "stem.surface=softly_hairy"},
	"not-yet-unsure":       {"meadow lantern", "stage=leafy_shoot", "part=leaf", "stem.surface=softly_hairy", "plant.odour_crushed=mousy?", "leaf.margin=serrate|crenate"},
	"not-yet-no-stage":     {"meadow lantern", "stem.surface=softly_hairy"},
	"not-yet-no-study":     {"hill lantern", "stage=leafy_shoot", "part=leaf", "stem.surface=bristly"},
	"leave-excluded":       {"meadow lantern", "stage=leafy_shoot", "stem.surface=stinging", "leaf.length=40cm"},
	"leave-by-rule":        {"meadow lantern", "stage=leafy_shoot", "stem.markings=purple_blotched", "plant.odour_crushed=mousy"},
	"leave-wrong-part":     {"meadow lantern", "stage=flowering", "part=root", "root.interior=solid"},
	"leave-poison":         {"widow's lantern", "stage=leafy_shoot", "part=leaf", "stem.surface=hairless"},
	"leave-harms-the-skin": {"great sunplate", "stage=leafy_shoot", "part=leaf", "stem.surface=hairless", "plant.height=5cm"},
}

// writer sets one answer on a page.
type writer func(*render.Page) error

// pages lists every answer and verdict of the golden files by name.
func pages(t testing.TB) map[string]writer {
	r := lanterns(t)
	k := r.Matrix.Knowledge
	out := map[string]writer{}
	for name, readings := range answers {
		obs := seen(t, k, readings...)
		a, err := r.Weigh(obs)
		if err != nil {
			t.Fatal(err)
		}
		out["weigh-"+name] = func(p *render.Page) error { return render.Weigh(p, k, &obs, a, 0) }
	}
	for name, readings := range verdicts {
		herb, err := k.FindTaxon(readings[0])
		if err != nil {
			t.Fatal(err)
		}
		obs := seen(t, k, readings[1:]...)
		v, err := r.MayGather(herb, obs)
		if err != nil {
			t.Fatal(err)
		}
		out["may-gather-"+name] = func(p *render.Page) error { return render.Verdict(p, k, &obs, v) }
	}
	out["score"] = func(p *render.Page) error { return render.Score(p, aScore()) }
	return out
}

func aScore() *reason.Score {
	return &reason.Score{
		Known: 3, First: 2, AmongThree: 3, Strangers: 1, CalledSo: 1, Gathered: 1,
		Kinds:  map[string]*reason.Score{"careful": {Known: 2, First: 2, AmongThree: 2}, "careless": {Known: 1, AmongThree: 1}, "stranger": {Strangers: 1}},
		Misses: []reason.Miss{{ID: "h1", Truth: "lanterna-pratensis", What: "came behind lanterna-montana"}},
	}
}

func TestTextIsAsKept(t *testing.T) {
	for name, write := range pages(t) {
		for _, columns := range widths {
			file := filepath.Join(golden, fmt.Sprintf("%s.%d.txt", name, columns))
			t.Run(filepath.Base(file), func(t *testing.T) {
				var got bytes.Buffer
				if err := write(render.Wide(&got, columns)); err != nil {
					t.Fatal(err)
				}
				compare(t, file, got.Bytes())
			})
		}
	}
}

func compare(t *testing.T, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), string(got)); d != "" {
		t.Errorf("the text changed (-kept +now); go test ./cmd/telltale/render -update keeps it:\n%s", d)
	}
}

func TestNoGoldenFileIsLeftOver(t *testing.T) {
	known := map[string]bool{}
	for name := range pages(t) {
		for _, columns := range widths {
			known[fmt.Sprintf("%s.%d.txt", name, columns)] = true
		}
	}
	entries, err := os.ReadDir(golden)
	if err != nil {
		t.Fatal(err)
	}
	mine := regexp.MustCompile(`^(weigh|may-gather|score)\b.*0\.txt$`)
	for _, e := range entries {
		if !known[e.Name()] && mine.MatchString(e.Name()) {
			t.Errorf("%s shows nothing that is tested", e.Name())
		}
	}
}

func TestNoLineIsWiderThanThePage(t *testing.T) {
	for name, write := range pages(t) {
		for columns := 40; columns <= 80; columns++ {
			var out bytes.Buffer
			if err := write(render.Wide(&out, columns)); err != nil {
				t.Fatal(err)
			}
			for _, line := range strings.Split(out.String(), "\n") {
				if w := ansi.PrintableRuneWidth(line); w > columns {
					t.Errorf("%s at %d columns: %d wide: %s", name, columns, w, line)
				}
			}
		}
	}
}

// Setting text to a width moves words to other lines and does nothing else.
func TestNoWordIsCutOrLost(t *testing.T) {
	for name, write := range pages(t) {
		var wide, narrow bytes.Buffer
		if err := write(render.Wide(&wide, 80)); err != nil {
			t.Fatal(err)
		}
		if err := write(render.Wide(&narrow, 40)); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(strings.Fields(wide.String()), strings.Fields(narrow.String())); d != "" {
			t.Errorf("%s (-at 80 +at 40):\n%s", name, d)
		}
	}
}

// Documents are compared by what they say: the last digit of a weight may differ
// from processor to processor.
func TestDocumentsAreAsKept(t *testing.T) {
	r := lanterns(t)
	k := r.Matrix.Knowledge
	docs := map[string]any{"score": render.ScoreJSON(aScore())}
	for _, name := range []string{"harmless-but-open", "skin-is-at-risk"} {
		obs := seen(t, k, answers[name]...)
		a, err := r.Weigh(obs)
		if err != nil {
			t.Fatal(err)
		}
		docs["weigh-"+name] = render.WeighJSON(k, &obs, a, 0)
	}
	for _, name := range []string{"gather", "not-yet-unsure", "leave-by-rule"} {
		herb, err := k.FindTaxon(verdicts[name][0])
		if err != nil {
			t.Fatal(err)
		}
		obs := seen(t, k, verdicts[name][1:]...)
		v, err := r.MayGather(herb, obs)
		if err != nil {
			t.Fatal(err)
		}
		docs["may-gather-"+name] = render.VerdictJSON(k, &obs, v)
	}
	for name, doc := range docs {
		t.Run(name, func(t *testing.T) {
			var out bytes.Buffer
			if err := render.JSON(&out, doc); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(golden, name+".json")
			if *update {
				if err := os.WriteFile(file, out.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			kept, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(parsed(t, kept), parsed(t, out.Bytes()), cmpopts.EquateApprox(1e-9, 1e-12)); d != "" {
				t.Errorf("the document changed (-kept +now); go test ./cmd/telltale/render -update keeps it:\n%s", d)
			}
		})
	}
}

func parsed(t *testing.T, text []byte) any {
	t.Helper()
	var out any
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	return out
}
