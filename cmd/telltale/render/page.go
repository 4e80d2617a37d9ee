package render

import (
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/muesli/reflow/ansi"
	"github.com/muesli/reflow/wordwrap"
	"golang.org/x/term"
)

// widest and narrowest are the columns that text is set in; widest where nothing
// is known of the screen (common practice, no source).
const (
	widest    = 80
	narrowest = 32
)

// Page is text being set for a screen. It remembers the first error of writing.
type Page struct {
	w      io.Writer
	width  int
	colour bool
	err    error
}

// To sets text for a writer: in colour, and to the width of the screen, only if
// it is a terminal; NO_COLOR turns colour off. Elsewhere COLUMNS tells the width,
// if anything does.
func To(w io.Writer) *Page {
	p := Wide(w, columnsTold())
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return p
	}
	p.colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	if columns, _, err := term.GetSize(int(f.Fd())); err == nil && columns > 0 {
		p.width = within(columns)
	}
	return p
}

// Wide sets text to a width that is told, without colour.
func Wide(w io.Writer, columns int) *Page { return &Page{w: w, width: within(columns)} }

func within(columns int) int { return min(max(columns, narrowest), widest) }

func columnsTold() int {
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		return n
	}
	return widest
}

// narrow tells a phone held upright from wider screens (common practice, no
// source).
func (p *Page) narrow() bool { return p.width < 60 }

// say writes a paragraph from the margin.
func (p *Page) say(text string) { p.item("", 0, text) }

// item writes a paragraph indented by so many columns, with a mark in the margin
// that this leaves. Words are never cut.
func (p *Page) item(mark string, indent int, text string) {
	setter := wordwrap.NewWriter(p.width - indent)
	setter.Breakpoints = nil // a hyphen is no place to break "water-dropwort"
	_, _ = setter.Write([]byte(text))
	_ = setter.Close()
	margin := mark + strings.Repeat(" ", max(indent-ansi.PrintableRuneWidth(mark), 0))
	for _, line := range strings.Split(setter.String(), "\n") {
		p.write(strings.TrimRight(margin+strings.TrimLeft(line, " "), " ") + "\n")
		margin = strings.Repeat(" ", indent)
	}
}

// heading leaves a line free and writes the name of what follows.
func (p *Page) heading(text string) {
	p.blank()
	p.say(p.coloured(bold, text))
}

func (p *Page) blank() { p.write("\n") }

func (p *Page) write(text string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, text)
	}
}

// The marks of colour. The words beside them say the same.
const (
	red    = "\x1b[1;31m"
	yellow = "\x1b[1;33m"
	green  = "\x1b[1;32m"
	bold   = "\x1b[1m"
	faint  = "\x1b[2m"
	reset  = "\x1b[0m"
)

// coloured marks text, word by word, so that no mark runs over the end of a line.
func (p *Page) coloured(mark, text string) string {
	if !p.colour || text == "" {
		return text
	}
	words := strings.Split(text, " ")
	for i, w := range words {
		words[i] = mark + w + reset
	}
	return strings.Join(words, " ")
}
