package render

import (
	"io"
	"slices"
	"strings"
	"unicode"

	"telltale/graph"
)

// Sheet is an answer put into sections before it is set as text, Markdown or
// HTML.
type Sheet struct {
	Title    Words
	Lead     []Words
	Sections []Section
	Cautions []string
	// Sources are those that the sheet cites by their ids. Markdown and HTML end
	// with them in full; text says how to look them up.
	Sources []*graph.Source
	Hints   []string // commands that tell more, for text
}

// Section is a part of a sheet, under a heading if it has a title.
type Section struct {
	Title  Words
	Blocks []Block
}

// Block is one of: a paragraph, facts, items or a table.
type Block struct {
	Paragraph Words
	Facts     []Fact
	Aligned   bool // the facts are short, and stand beside their terms
	Items     []Item
	Table     *Table
}

// Fact is a term and what is said of it.
type Fact struct {
	Term   Words
	Values []Words
}

// Item is an entry of a list with what is added under it.
type Item struct {
	Words Words
	Under []Words
}

// Table has a heading for each column. The first cell of a row names it.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]Words
	// Stacked tables are too wide for a screen: text sets the cells of a row one
	// under the other.
	Stacked bool
	// Spare is a column that text leaves out where there is no room for it, because
	// another says the same; 0 for none.
	Spare int
}

// Words is text with marks.
type Words []Span

// Span is a piece of text with one mark.
type Span struct {
	Mark Mark
	Text string
	To   string // where a link leads
}

// Mark is what sets a piece of text off. The words say the same without it.
type Mark string

// The marks.
const (
	NoMark     Mark = ""
	Strong     Mark = "strong"
	Scientific Mark = "scientific" // a scientific name
	Danger     Mark = "danger"
	Memory     Mark = "memory" // no publication stands behind it
	Code       Mark = "code"   // an id, or what can be typed
	SourceID   Mark = "source"
	Link       Mark = "link"
)

// fromMemoryWords are what marks a fact from memory in every format.
const fromMemoryWords = "from memory"

// W begins words with plain text.
func W(text string) Words { return Words{}.and(text) }

func (w Words) and(text string) Words { return w.marked(NoMark, text) }

func (w Words) marked(m Mark, text string) Words {
	if text == "" {
		return w
	}
	return append(slices.Clip(w), Span{Mark: m, Text: text})
}

func (w Words) then(more Words) Words { return append(slices.Clip(w), more...) }

// from names the sources of what was said, in brackets.
func (w Words) from(sources []string) Words {
	if len(sources) == 0 {
		return w
	}
	w = w.and(" [")
	for i, id := range sources {
		if i > 0 {
			w = w.and(", ")
		}
		if id == graph.Memory {
			w = w.marked(Memory, fromMemoryWords)
		} else {
			w = w.marked(SourceID, id)
		}
	}
	return w.and("]")
}

// link writes an address that leads somewhere. Only those of the web do.
func (w Words) link(url string) Words {
	if !strings.HasPrefix(url, "https://") && !strings.HasPrefix(url, "http://") {
		return w.and(url)
	}
	return append(slices.Clip(w), Span{Mark: Link, Text: url, To: url})
}

// Plain is the text without marks, on one line and without what would steer a
// terminal.
func (w Words) Plain() string {
	var b strings.Builder
	for _, s := range w {
		b.WriteString(s.oneLine())
	}
	return b.String()
}

func (s Span) oneLine() string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s.Text)
}

// join puts words between words.
func join(all []Words, between string) Words {
	var out Words
	for i, w := range all {
		if i > 0 {
			out = out.and(between)
		}
		out = out.then(w)
	}
	return out
}

// add puts a section to the sheet if anything is in it.
func (s *Sheet) add(title Words, blocks ...Block) {
	var full []Block
	for _, b := range blocks {
		if len(b.Paragraph) > 0 || len(b.Facts) > 0 || len(b.Items) > 0 || b.Table != nil && len(b.Table.Rows) > 0 {
			full = append(full, b)
		}
	}
	if len(full) > 0 {
		s.Sections = append(s.Sections, Section{Title: title, Blocks: full})
	}
}

// cite gathers the sources that the words of the sheet name.
func (s *Sheet) cite(k *graph.Knowledge) {
	seen := map[string]bool{}
	see := func(w Words) {
		for _, span := range w {
			if source, ok := k.Source(span.Text); ok && span.Mark == SourceID && !seen[source.ID] {
				seen[source.ID] = true
				s.Sources = append(s.Sources, source)
			}
		}
	}
	s.everyWords(see)
	slices.SortFunc(s.Sources, func(a, b *graph.Source) int { return strings.Compare(a.ID, b.ID) })
}

func (s *Sheet) everyWords(see func(Words)) {
	see(s.Title)
	for _, w := range s.Lead {
		see(w)
	}
	for _, section := range s.Sections {
		see(section.Title)
		for _, b := range section.Blocks {
			b.everyWords(see)
		}
	}
}

func (b *Block) everyWords(see func(Words)) {
	see(b.Paragraph)
	for _, f := range b.Facts {
		see(f.Term)
		for _, v := range f.Values {
			see(v)
		}
	}
	for _, i := range b.Items {
		see(i.Words)
		for _, u := range i.Under {
			see(u)
		}
	}
	if b.Table != nil {
		for _, row := range b.Table.Rows {
			for _, cell := range row {
				see(cell)
			}
		}
	}
}

// Text sets the sheet for a screen.
func (s *Sheet) Text(w io.Writer) error { return To(w).sheet(s) }
