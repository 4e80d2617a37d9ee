package author_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/author"
	"telltale/graph/graphtest"
)

func known() *graph.Knowledge {
	return graphtest.Knowledge(
		graphtest.States("leaf.margin", "entire serrate"),
		graphtest.Plant("herba-bona", "leaf.margin always serrate", "looks like herba-mala"),
		graphtest.Plant("herba-mala", "deadly", "leaf.margin always entire"),
	)
}

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestALayoutHasAFileForWhatIsNew(t *testing.T) {
	k := known()
	mala, _ := k.Taxon("herba-mala")
	fresh := &graph.Taxon{ID: "herba-nova", Name: "Herba nova"}
	l := &author.Layout{Dir: filepath.Join(t.TempDir(), "mine"), Herb: fresh, New: []*graph.Taxon{fresh}, Lookalikes: []*graph.Taxon{mala}, Knowledge: k}
	done, err := l.Write()
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"taxa/herba-nova.yaml", "sources.yaml", "studies/herba-nova.yaml", "rules/herba-nova.yaml"}
	if got := done.Written[:min(len(want), len(done.Written))]; !slices.Equal(got, want) || len(done.Left) != 0 {
		t.Errorf("wrote %v, left %v", done.Written, done.Left)
	}
	for _, name := range done.Written {
		read(t, filepath.Join(l.Dir, name))
	}
	form := read(t, filepath.Join(l.Dir, "taxa", "herba-nova.yaml"))
	herbaceous, _ := k.Taxon("herba-bona")
	if !strings.Contains(form, "\nfamily: "+herbaceous.Family+" ") {
		t.Error("the family of the genus is not given")
	}
	if !strings.Contains(form, "\nlookalikes:\n  - taxon: herba-mala\n") {
		t.Error("the lookalike is not linked")
	}
}

func TestWhatIsThereIsLeftAsItIs(t *testing.T) {
	k := known()
	mala, _ := k.Taxon("herba-mala")
	fresh := &graph.Taxon{ID: "planta-nova", Name: "Planta nova"}
	l := &author.Layout{Dir: t.TempDir(), Herb: fresh, New: []*graph.Taxon{fresh}, Knowledge: k}
	mine := filepath.Join(l.Dir, "taxa", "planta-nova.yaml")
	if err := os.MkdirAll(filepath.Dir(mine), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(mine, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	l.Lookalikes = []*graph.Taxon{mala}
	for range 2 {
		done, err := l.Write()
		switch {
		case err != nil:
			t.Fatal(err)
		case read(t, mine) != "mine":
			t.Fatal("a file was overwritten")
		case !slices.Contains(done.Left, "taxa/planta-nova.yaml"):
			t.Errorf("left %v", done.Left)
		case !slices.Equal(done.Unlinked, []*graph.Taxon{mala}):
			t.Errorf("not said to be linked nowhere: %v", done.Unlinked)
		}
	}
}

// A herb that is known gets a file for links alone, and only for those that nobody
// has stated yet, in either file.
func TestAKnownHerbIsLinkedToWhatItIsNotLinkedToYet(t *testing.T) {
	k := known()
	bona, _ := k.Taxon("herba-bona")
	mala, _ := k.Taxon("herba-mala")
	fresh := &graph.Taxon{ID: "planta-nova", Name: "Planta nova"}
	l := &author.Layout{Dir: t.TempDir(), Herb: mala, Lookalikes: []*graph.Taxon{bona}, Knowledge: k}
	done, err := l.Write()
	if err != nil || slices.Contains(done.Written, "taxa/herba-mala.yaml") {
		t.Errorf("%v, %v", done, err)
	}
	l.Dir, l.New, l.Lookalikes = t.TempDir(), []*graph.Taxon{fresh}, []*graph.Taxon{bona, fresh}
	if _, err := l.Write(); err != nil {
		t.Fatal(err)
	}
	form := read(t, filepath.Join(l.Dir, "taxa", "herba-mala.yaml"))
	if !strings.Contains(form, "- taxon: planta-nova\n") || strings.Contains(form, "- taxon: herba-bona\n") {
		t.Error(form)
	}
}

func TestALayoutThatCannotBeWritten(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	fresh := &graph.Taxon{ID: "planta-nova", Name: "Planta nova"}
	l := &author.Layout{Dir: filepath.Join(file, "below"), Herb: fresh, New: []*graph.Taxon{fresh}, Knowledge: known()}
	if done, err := l.Write(); err == nil || done != nil {
		t.Errorf("%v, %v", done, err)
	}
}
