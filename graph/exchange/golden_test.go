package exchange

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"telltale/graph"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares what was written with the file kept beside the tests.
func golden(t *testing.T, file string, got []byte) {
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
		t.Errorf("%s (-want +got):\n%s", file, d)
	}
}

func TestWhatPeopleSee(t *testing.T) {
	k := made(t)
	for _, tt := range []struct {
		file  string
		write func(*bytes.Buffer) error
	}{
		{"testdata/made.nq", func(b *bytes.Buffer) error { return WriteNQuads(b, k) }},
		{"testdata/made.jsonld", func(b *bytes.Buffer) error { return WriteJSONLD(b, k) }},
		{"testdata/made.csv", func(b *bytes.Buffer) error { return WriteStatements(b, k.Taxa) }},
		{"testdata/made.folder", func(b *bytes.Buffer) error {
			f, err := Folder(k)
			return errorsOr(err, func() { list(b, f) })
		}},
		{"testdata/sheet.folder", func(b *bytes.Buffer) error {
			f, err := SheetFiles(k, sheetOf(t, k, "hortus-mortis,leaf.margin,serrate,usually,rosette,lower,hill-flora|poison-desk,\"seen, twice\"\n"), false)
			return errorsOr(err, func() { list(b, f) })
		}},
		{"testdata/unnamed.dwc.csv", func(b *bytes.Buffer) error {
			return WriteOccurrences(b, k.Vocabulary, []Occurrence{seen(t, k, "walk.yaml"), seen(t, k, "stand.json")}, Identification{})
		}},
		{"testdata/named.dwc.csv", func(b *bytes.Buffer) error {
			dulcis, _ := k.Taxon("hortus-dulcis")
			return WriteOccurrences(b, k.Vocabulary, []Occurrence{seen(t, k, "walk.yaml")}, Identification{Taxon: dulcis, Qualifier: "cf."})
		}},
	} {
		t.Run(tt.file, func(t *testing.T) {
			var b bytes.Buffer
			if err := tt.write(&b); err != nil {
				t.Fatal(err)
			}
			golden(t, tt.file, b.Bytes())
		})
	}
}

func errorsOr(err error, do func()) error {
	if err == nil {
		do()
	}
	return err
}

// list writes the files one below the other.
func list(b *bytes.Buffer, f Files) {
	for _, name := range f.Names() {
		fmt.Fprintf(b, "-- %s --\n%s", name, f[name])
	}
}

const header = "taxon,trait,value,frequency,stage,part,source,note\n"

func sheetOf(t *testing.T, k *graph.Knowledge, rows string) []Scored {
	t.Helper()
	scored, err := ReadStatements(k, "sheet.csv", bytes.NewReader([]byte(header+rows)))
	if err != nil {
		t.Fatal(err)
	}
	return scored
}

func seen(t *testing.T, k *graph.Knowledge, file string) Occurrence {
	t.Helper()
	r, err := os.Open("testdata/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = r.Close() }()
	o, err := ReadOccurrence(k.Vocabulary, file, r)
	if err != nil {
		t.Fatal(err)
	}
	return o
}
