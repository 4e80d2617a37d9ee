package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"

	"telltale/data"
	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/matrix"
	"telltale/graph/names"
	"telltale/graph/store"
)

// a herb between two lookalikes, one linked by itself and one by the other.
func herbs() *graph.Knowledge {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly", "seen at leafy_shoot flowering"),
		graphtest.States("leaf.margin", "entire serrate"),
		graphtest.States("root.smell", "none carrot"),
		graphtest.States("flower.colour", "white pink", "seen at flowering"),
		graphtest.Plant("good-carrot", "stem.surface always bristly", "leaf.margin usually serrate", "looks like bad-carrot at rosette", "flower.colour always white"),
		graphtest.Plant("bad-carrot", "deadly", "stem.surface always hairless", "leaf.margin usually entire at leafy_shoot"),
		graphtest.Plant("dull-carrot", "stem.surface usually bristly", "looks like good-carrot"),
		graphtest.Plant("far-oak", "leaf.margin always entire"),
		graphtest.Study("good-carrot", "root at leafy_shoot flowering", "stem.surface is bristly"),
		graphtest.Rule(`leave good-carrot when stem.surface == "hairless"`),
		graphtest.Rule(`leave bad-carrot when stem.surface == "bristly"`),
	)
	for id, author := range map[string]string{"good-carrot": "L.", "bad-carrot": "Mill."} {
		t, _ := k.Taxon(id)
		t.Author = author
	}
	bad, _ := k.Taxon("bad-carrot")
	bad.Synonyms, bad.Common = []string{"Daucus falsus Mill."}, []string{"bad carrot", "dead man's root"}
	return k
}

func TestPlantIsFoundByWhatItIsCalled(t *testing.T) {
	k := herbs()
	tests := []struct{ what, name, want, problem string }{
		{"its id", "bad-carrot", "bad-carrot", ""},
		{"its name with its author", "Bad carrot Mill.", "bad-carrot", ""},
		{"a synonym without its author", "Daucus falsus", "bad-carrot", ""},
		{"a name that nobody is sure of", "Daucus cf. falsus", "bad-carrot", ""},
		{"a common name", "Dead Man’s Root", "bad-carrot", ""},
		{"a plant near it", "Daucus aff. falsus", "", "is another plant near Daucus falsus"},
		{"a misspelt name", "bad carot", "", `the nearest is "Bad carrot"`},
		{"a genus", "Daucus", "", `there is no plant "Daucus"`},
		{"a rank below it", "Daucus falsus subsp. minor", "", "there is no plant"},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			found, err := findTaxon(k, tt.name)
			switch {
			case tt.problem != "":
				if err == nil || !strings.Contains(err.Error(), tt.problem) {
					t.Errorf("got %v, want a problem with %q", err, tt.problem)
				}
			case err != nil:
				t.Error(err)
			case found.ID != tt.want:
				t.Errorf("found %s, want %s", found.ID, tt.want)
			}
		})
	}
}

func TestMatrixLaysTheHerbBesideItsLookalikes(t *testing.T) {
	k := herbs()
	herb, _ := k.Taxon("good-carrot")
	study, _ := k.Study("good-carrot")
	tests := []struct {
		what    string
		stage   graph.Stage
		parting bool
		want    []string // trait: for each plant how many statements, and where it is parted
	}{
		{"at every stage", graph.AnyStage, false, []string{
			"stem.surface: good-carrot 1, bad-carrot 1 certain leafy_shoot flowering, dull-carrot 1",
			"leaf.margin: good-carrot 1, bad-carrot 1 usually leafy_shoot, dull-carrot 0",
			"flower.colour: good-carrot 1, bad-carrot 0, dull-carrot 0",
		}},
		{"at one stage", graph.Rosette, false, []string{"leaf.margin: good-carrot 1, bad-carrot 0, dull-carrot 0"}},
		{"only what parts", graph.AnyStage, true, []string{
			"stem.surface: good-carrot 1, bad-carrot 1 certain leafy_shoot flowering, dull-carrot 1",
			"leaf.margin: good-carrot 1, bad-carrot 1 usually leafy_shoot, dull-carrot 0",
		}},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			m := herbMatrix(matrix.Compile(k), herb, study, tt.stage, tt.parting)
			var got []string
			for _, r := range m.Rows {
				var cells []string
				for i, c := range r.Cells {
					cell := m.Plants[i].ID + " " + string(rune('0'+len(c.Statements)))
					if c.Parts != 0 {
						cell += " certain " + strings.Join(c.Parts.Names(), " ")
					}
					if c.Usually != 0 {
						cell += " usually " + strings.Join(c.Usually.Names(), " ")
					}
					cells = append(cells, cell)
				}
				got = append(got, r.Trait.ID+": "+strings.Join(cells, ", "))
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
		})
	}
}

func TestRulesOfAStudyAreThoseAboutTheHerb(t *testing.T) {
	var got []string
	for _, r := range rulesAbout(herbs(), "good-carrot") {
		got = append(got, r.For)
	}
	if d := cmp.Diff([]string{"good-carrot"}, got); d != "" {
		t.Errorf("(-want +got):\n%s", d)
	}
}

// A botanist who writes a name that is none should hear of it: it would never be
// found with its authors, in another rank, or misspelt.
func TestScientificNamesOfTheDataCanBeRead(t *testing.T) {
	k, err := store.Embedded(t.Context(), data.Files)
	if err != nil {
		t.Fatal(err)
	}
	for _, plant := range k.Taxa {
		n, err := names.Parse(plant.Name + " " + plant.Author)
		switch {
		case err != nil:
			t.Errorf("%s: %v", plant.ID, err)
		case n.Canonical() != plant.Name:
			t.Errorf("%s: the canonical name is %q, written %q", plant.ID, n.Canonical(), plant.Name)
		case plant.Author != "" && n.Authorship.IsZero():
			t.Errorf("%s: no author is read from %q", plant.ID, plant.Author)
		}
		for _, s := range plant.Synonyms {
			if _, err := names.Parse(s); err != nil {
				t.Errorf("%s: %v", plant.ID, err)
			}
		}
	}
}

func TestEveryCommandHasItsManualPage(t *testing.T) {
	root := newRoot()
	pages, err := manPages(root)
	if err != nil {
		t.Fatal(err)
	}
	var walk func(*cobra.Command)
	walk = func(c *cobra.Command) {
		name := strings.ReplaceAll(c.CommandPath(), " ", "-") + ".1"
		page, ok := pages[name]
		switch {
		case !c.IsAvailableCommand() && c.HasParent():
		case !ok:
			t.Errorf("%s has no page", c.CommandPath())
		case c.Example != "" && !strings.Contains(string(page), "EXAMPLE"):
			t.Errorf("%s shows no example", name)
		}
		for _, sub := range c.Commands() {
			walk(sub)
		}
	}
	walk(root)
}

func TestManualPagesAreWrittenTheSame(t *testing.T) {
	t.Setenv("SOURCE_DATE_EPOCH", "0")
	first, second := t.TempDir(), t.TempDir()
	for _, dir := range []string{first, second} {
		root := newRoot()
		root.SetArgs([]string{"man", dir})
		root.SetOut(&strings.Builder{})
		if err := root.Execute(); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := os.ReadDir(first)
	if err != nil || len(entries) == 0 {
		t.Fatalf("no pages: %v", err)
	}
	for _, e := range entries {
		a, _ := os.ReadFile(filepath.Join(first, e.Name()))
		b, _ := os.ReadFile(filepath.Join(second, e.Name()))
		if string(a) != string(b) {
			t.Errorf("%s differs", e.Name())
		}
	}
}
