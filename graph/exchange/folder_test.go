package exchange

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/files"
)

func TestFolderReadsBackAsTheSameKnowledge(t *testing.T) {
	k := made(t)
	f, err := Folder(k)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := f.WriteWhole(dir, false); err != nil {
		t.Fatal(err)
	}
	back, err := files.Load(os.DirFS(dir))
	if err != nil {
		t.Fatal(err)
	}
	if d := Difference(k, back); d != "" {
		t.Error(d)
	}
}

// TestFilesKeepTheirNamesIfTheyAreSafe: a graph from elsewhere must not choose where
// a file is written.
func TestFilesKeepTheirNamesIfTheyAreSafe(t *testing.T) {
	for file, want := range map[string]string{
		"rules/hill.yaml": "rules/hill.yaml", "rules/a_b-2.yaml": "rules/a_b-2.yaml",
		"": "rules/imported.yaml", "../../etc/cron.yaml": "rules/imported.yaml", "rules/../taxa/a.yaml": "rules/imported.yaml", "/rules/a.yaml": "rules/imported.yaml",
		"mine/rules/a.yaml": "rules/imported.yaml", "rules/.a.yaml": "rules/imported.yaml", "rules/a.yml": "rules/imported.yaml", "rules/a\x00.yaml": "rules/imported.yaml",
		"taxa/a.yaml": "rules/imported.yaml", `rules/..\a.yaml`: "rules/imported.yaml",
	} {
		k := made(t)
		for _, r := range k.Rules {
			r.Place.File = file
		}
		f, err := Folder(k)
		if err != nil {
			t.Fatal(err)
		}
		got := slices.DeleteFunc(f.Names(), func(n string) bool { return !strings.HasPrefix(n, "rules") && !strings.Contains(n, "..") })
		if !slices.Equal(got, []string{want}) {
			t.Errorf("rules of %q are written to %q, want %s", file, got, want)
		}
	}
}

func TestDifferenceSeesEveryFact(t *testing.T) {
	for name, change := range map[string]func(*graph.Knowledge){
		"a frequency":        func(k *graph.Knowledge) { k.Taxa[0].Statements[0].Frequency = graph.Never },
		"a stage":            func(k *graph.Knowledge) { k.Taxa[0].Statements[1].Stages = 0 },
		"the order of two":   func(k *graph.Knowledge) { s := k.Taxa[0].Statements; s[0], s[1] = s[1], s[0] },
		"a severity":         func(k *graph.Knowledge) { k.Taxa[1].Toxicity[0].Severity = graph.Mild },
		"a statement more":   func(k *graph.Knowledge) { k.Taxa[0].Statements = append(k.Taxa[0].Statements, k.Taxa[0].Statements[0]) },
		"a source of a fact": func(k *graph.Knowledge) { k.Taxa[0].Uses[0].Sources = nil },
		"a rule's test":      func(k *graph.Knowledge) { k.Rules[0].Tests[0].Given.Month = 6 },
		"a near state":       func(k *graph.Knowledge) { k.Vocabulary.Traits[0].States[1].Near = nil },
	} {
		k := made(t)
		change(k)
		if Difference(made(t), k) == "" {
			t.Errorf("%s makes no difference", name)
		}
	}
	k := made(t)
	k.Rules[0].Place.Line = 99
	k.Corrections = []graph.Correction{{Kind: "taxon", Of: "hortus-dulcis", File: "mine/taxa/hortus-dulcis.yaml"}}
	if d := Difference(made(t), k); d != "" {
		t.Errorf("where a fact stood makes a difference: %s", d)
	}
}

func content(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func names(t *testing.T, dir string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			rel, _ := filepath.Rel(dir, path)
			out = append(out, filepath.ToSlash(rel))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func say(text string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
}

func TestFileIsWholeOrNotThere(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "graph.nq")
	broken := func(w io.Writer) error {
		if _, err := io.WriteString(w, "half"); err != nil {
			return err
		}
		return errors.New("no more")
	}
	if err := WriteFile(path, false, broken); err == nil {
		t.Fatal("an error of writing was lost")
	}
	if left := names(t, dir); len(left) != 0 {
		t.Fatalf("%q was left behind", left)
	}
	if err := WriteFile(path, false, say("whole")); err != nil {
		t.Fatal(err)
	}
	if err := WriteFile(path, true, broken); err == nil || content(t, path) != "whole" {
		t.Errorf("a failed write spoilt the file that was there: %v, %q", err, content(t, path))
	}
	if left := names(t, dir); !slices.Equal(left, []string{"graph.nq"}) {
		t.Errorf("there is %q", left)
	}
}

func TestNothingIsOverwrittenWithoutLeave(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "graph.nq")
	for _, tt := range []struct {
		name, text string
		force      bool
		want       string
		err        error
	}{
		{"a new file", "one", false, "one", nil},
		{"a file that is there", "two", false, "one", ErrExists},
		{"a file that is there, with leave", "three", true, "three", nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if err := WriteFile(path, tt.force, say(tt.text)); !errors.Is(err, tt.err) {
				t.Errorf("got %v, want %v", err, tt.err)
			}
			if got := content(t, path); got != tt.want {
				t.Errorf("the file holds %q, want %q", got, tt.want)
			}
		})
	}
}

func TestWhatCannotBeWrittenIsToldClearly(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "file"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct{ path, want string }{
		"a folder that is not there": {filepath.Join(dir, "none", "graph.nq"), "writing " + filepath.Join(dir, "none", "graph.nq") + ": no such file or directory"},
		"a folder for a file":        {dir, "writing " + dir + ": it is no file"},
		"a file for a folder":        {filepath.Join(dir, "file", "graph.nq"), "writing " + filepath.Join(dir, "file", "graph.nq") + ": not a directory"},
	} {
		if err := WriteFile(tt.path, true, say("x")); err == nil || err.Error() != tt.want {
			t.Errorf("%s: got %v, want %s", name, err, tt.want)
		}
	}
	f := Files{"taxa/a-b.yaml": []byte("id: a-b\n")}
	if err := f.WriteTo(filepath.Join(dir, "file"), false); err == nil {
		t.Error("a file was taken for a folder")
	}
}

func TestFolderIsWrittenWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	f := Files{"sources.yaml": []byte("new"), "taxa/a-b.yaml": []byte("new"), "taxa/c-d.yaml": []byte("new")}
	if err := (Files{"taxa/c-d.yaml": []byte("old")}).WriteTo(dir, false); err != nil {
		t.Fatal(err)
	}
	if err := f.WriteTo(dir, false); !errors.Is(err, ErrExists) {
		t.Fatalf("got %v", err)
	}
	if there := names(t, dir); !slices.Equal(there, []string{"taxa/c-d.yaml"}) {
		t.Fatalf("there is %q", there)
	}
	if err := f.WriteTo(dir, true); err != nil {
		t.Fatal(err)
	}
	if there := names(t, dir); !slices.Equal(there, []string{"sources.yaml", "taxa/a-b.yaml", "taxa/c-d.yaml"}) {
		t.Errorf("there is %q", there)
	}
	if got := content(t, filepath.Join(dir, "taxa/c-d.yaml")); got != "new" {
		t.Errorf("the file holds %q", got)
	}
}

// TestAWholeFolderIsNotMixedWithAnother: plants that stay behind would be read as if
// they had been imported.
func TestAWholeFolderIsNotMixedWithAnother(t *testing.T) {
	dir := t.TempDir()
	if err := (Files{"taxa/old-one.yaml": []byte("old")}).WriteTo(dir, false); err != nil {
		t.Fatal(err)
	}
	err := Files{"taxa/new-one.yaml": []byte("new")}.WriteWhole(dir, true)
	if err == nil || !strings.Contains(err.Error(), "taxa/old-one.yaml, which would be read together with what is written") {
		t.Errorf("got %v", err)
	}
	if there := names(t, dir); !slices.Equal(there, []string{"taxa/old-one.yaml"}) {
		t.Errorf("there is %q", there)
	}
}
