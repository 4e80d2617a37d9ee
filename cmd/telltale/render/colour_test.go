package render

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"

	"telltale/graph"
	"telltale/rules/reason"
)

var marks = regexp.MustCompile("\x1b\\[[0-9;]*m")

func aVerdict(verdict string) *reason.Verdict {
	return &reason.Verdict{
		Taxon: &graph.Taxon{ID: "lanterna-pratensis", Name: "Lanterna pratensis", Common: []string{"meadow lantern"}}, Verdict: verdict, Slack: 2,
		Because: []reason.Reason{{Verdict: verdict, Text: "a reason of some length, so that it runs over the end of the line at last"}},
	}
}

func TestColourAddsNothingButColour(t *testing.T) {
	k := &graph.Knowledge{Vocabulary: &graph.Vocabulary{}}
	for _, verdict := range []string{reason.Leave, reason.NotYet, reason.Gather} {
		var plain, coloured bytes.Buffer
		if err := Verdict(&Page{w: &plain, width: 40}, k, &graph.Observation{}, aVerdict(verdict)); err != nil {
			t.Fatal(err)
		}
		if err := Verdict(&Page{w: &coloured, width: 40, colour: true}, k, &graph.Observation{}, aVerdict(verdict)); err != nil {
			t.Fatal(err)
		}
		if !marks.MatchString(coloured.String()) {
			t.Errorf("%s shows no colour", verdict)
		}
		if got := marks.ReplaceAllString(coloured.String(), ""); got != plain.String() {
			t.Errorf("%s without its colours is\n%s\nand in plain\n%s", verdict, got, plain.String())
		}
	}
}

func TestEachLineEndsItsColour(t *testing.T) {
	var out bytes.Buffer
	p := &Page{w: &out, width: 40, colour: true}
	p.item(p.coloured(yellow, "!"), 2, p.coloured(red, "words that are red and run over the end of the line"))
	for _, line := range strings.Split(strings.TrimSpace(out.String()), "\n") {
		if strings.Count(line, reset) != strings.Count(line, "\x1b[")/2 || !strings.HasSuffix(line, reset) {
			t.Errorf("colour runs over the end of %q", line)
		}
	}
}

func TestAFileIsWrittenInPlain(t *testing.T) {
	f, err := os.Create(t.TempDir() + "/out")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	if p := To(f); p.colour {
		t.Error("colour goes into a file")
	}
}

func TestColumnsAreTakenFromTheEnvironment(t *testing.T) {
	for told, want := range map[string]int{"": 80, "40": 40, "12": narrowest, "200": 80, "many": 80, "-5": 80} {
		t.Setenv("COLUMNS", told)
		if p := To(&bytes.Buffer{}); p.width != want {
			t.Errorf("COLUMNS=%q sets %d columns, expected %d", told, p.width, want)
		}
	}
}
