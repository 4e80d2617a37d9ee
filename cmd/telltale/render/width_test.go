package render_test

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/muesli/reflow/ansi"
	"pgregory.net/rapid"

	"telltale/cmd/telltale/render"
	"telltale/data"
	"telltale/graph"
	"telltale/graph/store"
)

// drawObservation draws readings of every kind: one state, several, what it was
// not, lengths, unsure ones, anywhere on the plant.
func drawObservation(t *rapid.T, v *graph.Vocabulary) graph.Observation {
	obs := graph.Observation{Stage: rapid.SampledFrom(append(graph.Stages(), graph.AnyStage)).Draw(t, "stage")}
	for range rapid.IntRange(1, 8).Draw(t, "readings") {
		trait := rapid.SampledFrom(v.Traits).Draw(t, "trait")
		r := graph.Reading{Trait: trait.ID, Unsure: rapid.Bool().Draw(t, "unsure")}
		if rapid.Bool().Draw(t, "placed") {
			r.Position = rapid.SampledFrom(v.PositionNames()).Draw(t, "position")
		}
		if trait.Kind == graph.StateKind {
			drawStates(t, trait, &r)
		} else {
			r.Low = float64(rapid.IntRange(1, 12).Draw(t, "low"))
			r.High = r.Low
		}
		obs.Readings = append(obs.Readings, r)
	}
	return obs
}

func drawStates(t *rapid.T, trait *graph.Trait, r *graph.Reading) {
	ids := trait.StateIDs()
	named := rapid.SliceOfNDistinct(rapid.SampledFrom(ids), 1, len(ids)-1, rapid.ID).Draw(t, "states")
	if rapid.Bool().Draw(t, "not") {
		r.Not = named
		named = slices.DeleteFunc(ids, func(id string) bool { return slices.Contains(r.Not, id) })
	}
	r.States = named
}

func TestWhateverWasReadNoLineIsWiderThanThePage(t *testing.T) {
	r := lanterns(t)
	k := r.Matrix.Knowledge
	rapid.Check(t, func(t *rapid.T) {
		obs := drawObservation(t, k.Vocabulary)
		columns := rapid.IntRange(40, 80).Draw(t, "columns")
		a, err := r.Weigh(obs)
		if err != nil {
			t.Fatal(err)
		}
		v, err := r.MayGather(rapid.SampledFrom(k.Taxa).Draw(t, "herb"), obs)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := render.Weigh(render.Wide(&out, columns), k, &obs, a, rapid.IntRange(0, 9).Draw(t, "limit")); err != nil {
			t.Fatal(err)
		}
		if err := render.Verdict(render.Wide(&out, columns), k, &obs, v); err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(out.String(), "\n") {
			if w := ansi.PrintableRuneWidth(line); w > columns {
				t.Fatalf("%d columns, %d wide: %s", columns, w, line)
			}
			if strings.HasSuffix(line, " ") {
				t.Fatalf("blanks at the end of %q", line)
			}
		}
	})
}

// A word longer than the narrow page less its margin would stand out of it.
func TestNoWordThatIsShownIsTooLongForAPhone(t *testing.T) {
	const longest = 36
	k, err := store.Embedded(context.Background(), data.Files)
	if err != nil {
		t.Fatal(err)
	}
	show := func(where string, texts ...string) {
		for _, text := range texts {
			for _, w := range strings.Fields(text) {
				if utf8.RuneCountInString(w) > longest {
					t.Errorf("%s: %q", where, w)
				}
			}
		}
	}
	for _, trait := range k.Vocabulary.Traits {
		show(trait.ID, trait.ID, trait.Label, trait.Question, trait.Caution)
		show(trait.ID, trait.StateIDs()...)
	}
	for _, taxon := range k.Taxa {
		show(taxon.ID, taxon.Name)
		show(taxon.ID, taxon.Common...)
	}
	for _, source := range k.Sources {
		show(source.ID, source.Publisher)
	}
	for _, rule := range k.AllRules() {
		show(rule.ID, rule.Because)
	}
	for _, study := range k.Studies {
		for _, g := range study.Gather {
			show(study.Taxon, g.Say...)
			for _, c := range g.Checks {
				show(study.Taxon, c.Because)
			}
		}
	}
}
