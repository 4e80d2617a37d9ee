package render

import (
	"slices"
	"strings"

	"github.com/muesli/reflow/ansi"
	"github.com/muesli/reflow/wordwrap"
	"github.com/muesli/reflow/wrap"
)

// sheet sets a sheet as text.
func (p *Page) sheet(s *Sheet) error {
	p.say(p.coloured(bold, s.Title.Plain()))
	for _, w := range s.Lead {
		p.say(p.words(w))
	}
	for _, section := range s.Sections {
		if len(section.Title) > 0 {
			p.heading(section.Title.Plain())
		} else {
			p.blank()
		}
		for _, b := range section.Blocks {
			p.block(&b)
		}
	}
	if len(s.Cautions) > 0 {
		var all []string
		for _, c := range s.Cautions {
			all = append(all, W(c).Plain())
		}
		p.cautions(all)
	}
	if len(s.Hints) > 0 {
		p.blank()
		for _, h := range s.Hints {
			p.say(p.coloured(faint, W(h).Plain()))
		}
	}
	return p.err
}

// words sets words with their colours.
func (p *Page) words(w Words) string {
	var b strings.Builder
	for _, s := range w {
		b.WriteString(p.coloured(markColors[s.Mark], s.oneLine()))
	}
	return b.String()
}

var markColors = map[Mark]string{Strong: bold, Danger: red, Memory: yellow, SourceID: faint}

func (p *Page) block(b *Block) {
	if len(b.Paragraph) > 0 {
		p.say(p.words(b.Paragraph))
	}
	for _, f := range b.Facts {
		p.fact(&f, b)
	}
	for _, i := range b.Items {
		p.item("-", 2, p.words(i.Words))
		for _, u := range i.Under {
			p.item("", 4, p.words(u))
		}
	}
	if b.Table != nil {
		p.table(b.Table)
	}
}

// longestTerm is how many columns a term takes beside its fact (common practice,
// no source).
const longestTerm = 16

func (p *Page) fact(f *Fact, b *Block) {
	if b.Aligned && !p.narrow() {
		p.item(f.Term.Plain(), aligned(b), p.words(join(f.Values, "; ")))
		return
	}
	p.item("", 2, p.words(f.Term))
	for _, v := range f.Values {
		p.item("    -", 6, p.words(v))
	}
}

// aligned finds the column at which the facts of a block stand.
func aligned(b *Block) int {
	widest := 0
	for _, f := range b.Facts {
		widest = max(widest, ansi.PrintableRuneWidth(f.Term.Plain()))
	}
	return min(widest, longestTerm) + 2
}

func (p *Page) table(t *Table) {
	if t.Caption != "" {
		p.say(W(t.Caption).Plain())
	}
	if t.Stacked || p.narrow() {
		p.stack(t)
		return
	}
	widths, fits := p.columns(t)
	if !fits && t.Spare > 0 {
		t = t.without(t.Spare)
		widths, fits = p.columns(t)
	}
	if !fits {
		p.stack(t)
		return
	}
	p.row(titleRow(t.Head), widths, bold)
	for _, row := range t.Rows {
		p.row(row, widths, "")
	}
}

// without gives the table less a column.
func (t *Table) without(column int) *Table {
	out := &Table{Head: slices.Delete(slices.Clone(t.Head), column, column+1)}
	for _, row := range t.Rows {
		out.Rows = append(out.Rows, slices.Delete(slices.Clone(row), column, column+1))
	}
	return out
}

func titleRow(head []string) []Words {
	var out []Words
	for _, h := range head {
		out = append(out, W(h))
	}
	return out
}

// stack sets the cells of each row one under the other, each by its heading.
func (p *Page) stack(t *Table) {
	for i, row := range t.Rows {
		if i > 0 && t.Stacked {
			p.blank()
		}
		p.item("", 0, p.coloured(bold, row[0].Plain()))
		for j, cell := range row[1:] {
			if len(cell) > 0 {
				p.item("  ", 4, p.words(W(t.Head[j+1]+": ").then(cell)))
			}
		}
	}
}

// gap is the columns left free between two columns of a table.
const gap = 2

// columns shares the width out, and tells whether the row fits: each column gets
// what it needs, and the widest are narrowed. The first, by which a row is looked
// up, is not, and none below its longest word or longestKept.
func (p *Page) columns(t *Table) (widths []int, fits bool) {
	least := make([]int, len(t.Head))
	widths = make([]int, len(t.Head))
	for i, h := range t.Head {
		widths[i], least[i] = ansi.PrintableRuneWidth(h), longestWord(h)
		for _, row := range t.Rows {
			text := row[i].Plain()
			widths[i], least[i] = max(widths[i], ansi.PrintableRuneWidth(text)), max(least[i], longestWord(text))
		}
	}
	for {
		sum, most := gap*(len(widths)-1), 0
		for i, w := range widths {
			sum += w
			if i > 0 && w > least[i] && (most == 0 || w > widths[most]) {
				most = i
			}
		}
		if sum <= p.width || most == 0 {
			return widths, sum <= p.width
		}
		widths[most]--
	}
}

// longestKept is how long a word of a table can be and still stay whole (common
// practice, no source).
const longestKept = 16

func longestWord(text string) int {
	longest := 0
	for _, w := range strings.Fields(text) {
		longest = max(longest, ansi.PrintableRuneWidth(w))
	}
	return min(longest, longestKept)
}

func (p *Page) row(cells []Words, widths []int, mark string) {
	var lines [][]string
	tallest := 1
	for i, c := range cells {
		text := p.words(c)
		if mark != "" {
			text = p.coloured(mark, c.Plain())
		}
		set := strings.Split(wrapped(text, widths[i]), "\n")
		lines = append(lines, set)
		tallest = max(tallest, len(set))
	}
	for n := range tallest {
		var b strings.Builder
		for i := range cells {
			text := ""
			if n < len(lines[i]) {
				text = lines[i][n]
			}
			b.WriteString(text + strings.Repeat(" ", max(widths[i]-ansi.PrintableRuneWidth(text), 0)+gap))
		}
		p.write(strings.TrimRight(b.String(), " ") + "\n")
	}
}

// wrapped sets text to a width. A word that is longer is cut.
func wrapped(text string, width int) string {
	w := wordwrap.NewWriter(width)
	w.Breakpoints = nil
	_, _ = w.Write([]byte(text))
	_ = w.Close()
	return wrap.String(w.String(), width)
}
