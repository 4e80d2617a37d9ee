package render

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"unicode/utf8"

	"telltale/graph"
)

// aSheet has the text in every place that a sheet can have one.
func aSheet(text string) *Sheet {
	w := W(text).marked(Strong, text).marked(Scientific, text).marked(Danger, text).marked(Memory, text).marked(Code, text).marked(SourceID, text).link("https://herbs.example/" + text)
	s := &Sheet{Title: w, Lead: []Words{w}, Cautions: []string{text}, Hints: []string{"more"}}
	s.Sources = []*graph.Source{{ID: "source", Title: text, Publisher: text, Year: 1987, Kind: text, URL: text}}
	s.add(w, Block{Paragraph: w}, Block{Facts: []Fact{{w, []Words{w, w}}}}, Block{Facts: []Fact{{w, []Words{w}}}, Aligned: true}, Block{Items: []Item{{w, []Words{w}}}},
		Block{Table: &Table{Caption: text, Head: []string{text, text}, Rows: [][]Words{{w, w}}}})
	return s
}

func set(t testing.TB, write func(io.Writer) error) string {
	t.Helper()
	var out bytes.Buffer
	if err := write(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestNothingThatSomebodyWroteSteersATerminal(t *testing.T) {
	out := set(t, aSheet("a\x1b[2J\x07b\r\nc\u009b").Text)
	if strings.ContainsAny(out, "\x1b\x07\r\u009b") {
		t.Errorf("%q", out)
	}
}

func TestNothingThatSomebodyWroteIsMarkupInHTML(t *testing.T) {
	plain := set(t, aSheet("x").HTML)
	for _, text := range []string{"<script>alert(1)</script>", `"><img src=x onerror=alert(1)>`, "</style><b>", "{{.Title}}", "javascript:alert(1)", "&lt;", "' onclick='x"} {
		out := set(t, aSheet(text).HTML)
		if strings.Count(out, "<") != strings.Count(plain, "<") {
			t.Errorf("%q adds elements:\n%s", text, out)
		}
		if strings.Contains(out, `href="javascript`) {
			t.Errorf("%q leads to a script", text)
		}
	}
}

func TestPageNeedsNothingFromElsewhere(t *testing.T) {
	out := set(t, aSheet("x").HTML)
	for _, sign := range []string{"<script", "<link", "<img", "@import", "url(", "src="} {
		if strings.Contains(out, sign) {
			t.Errorf("the page has %s", sign)
		}
	}
	for _, sign := range []string{`<html lang="en">`, `<meta charset="utf-8">`, "<title>", "<main>", "<h1>", `scope="col"`, `scope="row"`, "<caption>"} {
		if !strings.Contains(out, sign) {
			t.Errorf("the page lacks %s", sign)
		}
	}
}

func TestOnlyAddressesOfTheWebAreLinks(t *testing.T) {
	tests := map[string]bool{"https://herbs.example": true, "http://herbs.example": true, "javascript:alert(1)": false, "file:///etc/passwd": false, "see the box in the attic": false}
	for url, want := range tests {
		if got := W("").link(url)[0].Mark == Link; got != want {
			t.Errorf("%s is a link: %v", url, got)
		}
	}
}

func TestNothingThatSomebodyWroteIsMarkupInMarkdown(t *testing.T) {
	tests := []struct{ text, want string }{
		{"*not bold*", `\*not bold\*`},
		{"_", `\_`},
		{"[a](b)", `\[a\](b)`},
		{"a | b", `a \| b`},
		{"<b>", "&lt;b&gt;"},
		{"&amp;", "&amp;amp;"},
		{"# no heading", `\# no heading`},
		{"`code`", "\\`code\\`"},
		{"over\nlines", "over lines"},
	}
	for _, tt := range tests {
		if got := escaped(tt.text); got != tt.want {
			t.Errorf("%q is written %q, want %q", tt.text, got, tt.want)
		}
	}
	out := set(t, (&Sheet{Title: W("t"), Lead: []Words{W("1. no list"), W("- no list")}}).Markdown)
	if !strings.Contains(out, `\1. no list`) || !strings.Contains(out, `\- no list`) {
		t.Errorf("a paragraph begins a list:\n%s", out)
	}
}

func TestTableOfMarkdownKeepsItsColumns(t *testing.T) {
	for _, text := range []string{"a | b", "a || b", "`|`", "\\|"} {
		out := set(t, aSheet(text).Markdown)
		for _, line := range strings.Split(out, "\n") {
			if strings.HasPrefix(line, "| ") && strings.Count(strings.ReplaceAll(strings.ReplaceAll(line, `\\`, ""), `\|`, ""), "|") != 3 {
				t.Errorf("%q makes another number of columns: %s", text, line)
			}
		}
	}
}

func TestEmptySectionsAreLeftOut(t *testing.T) {
	s := &Sheet{Title: W("t")}
	s.add(W("nothing"), Block{}, Block{Table: &Table{Head: []string{"a"}}})
	if len(s.Sections) != 0 {
		t.Errorf("%+v", s.Sections)
	}
}

func TestEachCitedSourceStandsOnceAtTheEnd(t *testing.T) {
	k := &graph.Knowledge{Vocabulary: &graph.Vocabulary{}, Sources: []*graph.Source{{ID: "b"}, {ID: "a"}, {ID: "c"}}}
	k.Index()
	s := &Sheet{Title: W("t")}
	s.add(W("x"), Block{Items: []Item{{W("1").from([]string{"b", graph.Memory}), []Words{W("2").from([]string{"a"})}}}}, Block{Paragraph: W("3").from([]string{"a"})})
	s.cite(k)
	var got []string
	for _, x := range s.Sources {
		got = append(got, x.ID)
	}
	if strings.Join(got, " ") != "a b" {
		t.Errorf("cited %v", got)
	}
}

func FuzzSheet(f *testing.F) {
	for _, s := range []string{"x", "<b>", "|", "a  b", "\x1b[31m", "é×", strings.Repeat("long ", 30), "`", "\\"} {
		f.Add(s)
	}
	elements := strings.Count(set(f, aSheet("x").HTML), "<")
	f.Fuzz(func(t *testing.T, text string) {
		if !utf8.ValidString(text) || len(text) > 500 {
			t.Skip()
		}
		s := aSheet("x" + text)
		if out := set(t, s.Text); strings.ContainsRune(out, '\x1b') {
			t.Errorf("%q steers the terminal", text)
		}
		if out := set(t, s.HTML); strings.Count(out, "<") != elements {
			t.Errorf("%q makes other elements", text)
		}
		set(t, s.Markdown)
	})
}
