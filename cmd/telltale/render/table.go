package render

import (
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode"

	"github.com/muesli/reflow/ansi"
	"github.com/muesli/reflow/wordwrap"
	"github.com/muesli/reflow/wrap"
	"golang.org/x/term"

	"telltale/graph/query"
)

// notHarmless stands under every table: an empty one must not be taken for a word
// on what may be eaten.
const notHarmless = "This lists what the graph states. What it does not list is not thereby harmless."

// Answer writes the rows of a query as a table.
func Answer(p *Page, a *query.Answer) error {
	if len(a.Rows) > 0 {
		t := grid{head: a.Columns, width: screenWidth(p.w)}
		for _, r := range a.Rows {
			var cells []string
			for _, c := range a.Columns {
				cells = append(cells, query.Text(r[c]))
			}
			t.rows = append(t.rows, cells)
		}
		t.write(p)
		p.blank()
	}
	rows := fmt.Sprintf("%d rows", len(a.Rows))
	switch len(a.Rows) {
	case 0:
		rows = "No rows"
	case 1:
		rows = "1 row"
	}
	if a.More {
		rows += "; there are more: --limit 0 shows all"
	}
	p.say(rows + ".")
	p.say(notHarmless)
	return p.err
}

// AnswerDoc is what `graph query --format json` writes. A row has no entry for a
// column in which it has nothing.
type AnswerDoc struct {
	Columns  []string    `json:"columns"`
	Rows     []query.Row `json:"rows"`
	More     bool        `json:"more"` // the limit has cut rows off
	Cautions []string    `json:"cautions"`
}

// AnswerJSON puts the rows of a query into their document.
func AnswerJSON(a *query.Answer) AnswerDoc {
	doc := AnswerDoc{Columns: append([]string{}, a.Columns...), Rows: []query.Row{}, More: a.More, Cautions: []string{notHarmless}}
	for _, r := range a.Rows {
		row := query.Row{}
		for _, c := range a.Columns {
			if v, ok := r[c]; ok {
				row[c] = v
			}
		}
		doc.Rows = append(doc.Rows, row)
	}
	return doc
}

// AnswerCSV writes the rows of a query as CSV (RFC 4180), with the columns in the
// first line.
func AnswerCSV(w io.Writer, a *query.Answer) error {
	out := csv.NewWriter(w)
	if len(a.Columns) > 0 {
		_ = out.Write(a.Columns)
	}
	for _, r := range a.Rows {
		var cells []string
		for _, c := range a.Columns {
			cells = append(cells, query.Text(r[c]))
		}
		_ = out.Write(cells)
	}
	out.Flush()
	return out.Error()
}

// grid is a table for a screen of some width, 0 where it can be as wide as it takes:
// in a file, or on the way to another program.
type grid struct {
	head  []string
	rows  [][]string
	width int
}

// screenWidth is the width of the screen, 0 where there is none.
func screenWidth(w io.Writer) int {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return 0
	}
	columns, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return widest
	}
	return columns
}

// leastWidth is how narrow a column may get (common practice, no source).
const leastWidth = 10

func (t *grid) write(p *Page) {
	t.rows = append([][]string{t.head}, t.rows...)
	for i := range t.rows {
		for j := range t.rows[i] {
			t.rows[i][j] = printable(t.rows[i][j], t.width > 0)
		}
	}
	widths := t.widths()
	for i, row := range t.rows {
		mark := ""
		if i == 0 {
			mark = bold
		}
		t.row(p, widths, row, mark)
		if i == 0 {
			var rule []string
			for _, w := range widths {
				rule = append(rule, strings.Repeat("-", w))
			}
			t.row(p, widths, rule, "")
		}
	}
}

// printable takes out of a cell what would move the cursor or ring the bell.
func printable(s string, lines bool) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' && lines:
			return r
		case unicode.IsControl(r):
			return ' '
		}
		return r
	}, s)
}

// widths gives each column what its longest cell takes, and where that is too much
// for the screen takes from the widest.
func (t *grid) widths() []int {
	widths := make([]int, len(t.head))
	for _, row := range t.rows {
		for i, cell := range row {
			for _, line := range strings.Split(cell, "\n") {
				widths[i] = max(widths[i], ansi.PrintableRuneWidth(line))
			}
		}
	}
	for t.width > 0 {
		total, widestColumn := gap*(len(widths)-1), 0
		for i, w := range widths {
			total += w
			if w > widths[widestColumn] {
				widestColumn = i
			}
		}
		if total <= t.width || widths[widestColumn] <= leastWidth {
			break
		}
		widths[widestColumn]--
	}
	return widths
}

func (t *grid) row(p *Page, widths []int, cells []string, mark string) {
	var columns [][]string
	height := 1
	for i, cell := range cells {
		lines := strings.Split(wrap.String(wordwrap.String(cell, widths[i]), widths[i]), "\n")
		columns = append(columns, lines)
		height = max(height, len(lines))
	}
	for line := range height {
		var out strings.Builder
		for i, lines := range columns {
			cell := ""
			if line < len(lines) {
				cell = lines[line]
			}
			if i > 0 {
				out.WriteString(strings.Repeat(" ", gap))
			}
			out.WriteString(p.coloured(mark, cell))
			out.WriteString(strings.Repeat(" ", max(widths[i]-ansi.PrintableRuneWidth(cell), 0)))
		}
		p.write(strings.TrimRight(out.String(), " ") + "\n")
	}
}
