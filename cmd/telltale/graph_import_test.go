package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"telltale/graph/exchange"
	"telltale/graph/files"
)

// made are the small graphs that package exchange is tested with.
const made = "../../graph/exchange/testdata/"

// imported runs an import and gives what it said.
func imported(t *testing.T, stdin []byte, args ...string) (string, error) {
	t.Helper()
	var out bytes.Buffer
	root := newRoot()
	root.SetOut(&out)
	root.SetIn(bytes.NewReader(stdin))
	root.SetArgs(append([]string{"graph", "import"}, args...))
	err := root.ExecuteContext(t.Context())
	return out.String(), err
}

func TestAnImportedGraphIsADataFolder(t *testing.T) {
	want, err := files.Load(os.DirFS(made + "made"))
	if err != nil {
		t.Fatal(err)
	}
	nquads, err := os.ReadFile(made + "made.nq")
	if err != nil {
		t.Fatal(err)
	}
	jsonld, err := os.ReadFile(made + "made.jsonld")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name, file string
		stdin      []byte
	}{
		{"N-Quads", made + "made.nq", nil},
		{"JSON-LD", made + "made.jsonld", nil},
		{"N-Quads on standard input", "-", nquads},
		{"JSON-LD on standard input", "-", jsonld},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "mine")
			said, err := imported(t, tt.stdin, tt.file, "--out", dir)
			if err != nil {
				t.Fatal(err)
			}
			if want := "2 plants, 1 herb worked up and 2 rules written to " + dir + "\n"; said != want {
				t.Errorf("it says %q, want %q", said, want)
			}
			got, err := files.Load(os.DirFS(dir))
			if err != nil {
				t.Fatal(err)
			}
			if d := exchange.Difference(want, got); d != "" {
				t.Error(d)
			}
		})
	}
}

// TestAGraphWithABrokenRuleIsRefused: a rule is part of the graph as text, and only
// the rules know what is wrong with it.
func TestAGraphWithABrokenRuleIsRefused(t *testing.T) {
	text, err := os.ReadFile(made + "made.nq")
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "mine")
	broken := strings.Replace(string(text), `leaf.margin == \"serrate\"`, `leaf.margin == \"serate\"`, 1)
	_, err = imported(t, []byte(broken), "-", "--out", dir)
	if err == nil || !strings.Contains(err.Error(), `"serate"`) {
		t.Errorf("got %v", err)
	}
	if _, err := os.Stat(dir); err == nil {
		t.Error("something was written all the same")
	}
}
