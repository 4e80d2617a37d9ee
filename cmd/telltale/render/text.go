// Package render puts answers into words for people and into documents for
// programs. It computes nothing.
package render

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/muesli/reflow/wordwrap"
	"golang.org/x/term"
)

// widest and narrowest are the columns that text is set in; 80 where nothing is
// known of the screen (common practice, no source).
const (
	widest    = 80
	narrowest = 32
)

// Page is text being set for a screen. It remembers the first error of writing.
type Page struct {
	w     io.Writer
	width int
	color bool
	err   error
}

// To sets text for a writer: in colour, and to the width of the screen, only if
// it is a terminal; NO_COLOR turns colour off.
func To(w io.Writer) *Page {
	p := &Page{w: w, width: widest}
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return p
	}
	p.color = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	if columns, _, err := term.GetSize(int(f.Fd())); err == nil && columns > 0 {
		p.width = min(max(columns, narrowest), widest)
	}
	return p
}

// Wide sets text to a width that is told.
func Wide(w io.Writer, width int) *Page { return &Page{w: w, width: width} }

func (p *Page) line(format string, args ...any) { p.at(0, format, args...) }

// at writes a paragraph, indented by so many columns.
func (p *Page) at(in int, format string, args ...any) {
	p.hanging(in, in, format, args...)
}

// hanging writes a paragraph whose first line is indented by first columns, and
// all others by rest, which is no less.
func (p *Page) hanging(first, rest int, format string, args ...any) {
	if p.err != nil {
		return
	}
	set := wordwrap.String(fmt.Sprintf(format, args...), max(p.width-rest, narrowest/2))
	indent := first
	for _, l := range strings.Split(set, "\n") {
		if _, p.err = io.WriteString(p.w, strings.TrimRight(strings.Repeat(" ", indent)+l, " ")+"\n"); p.err != nil {
			return
		}
		indent = rest
	}
}

func (p *Page) blank() {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, "\n")
	}
}

// The marks of colour: for a verdict, or a plant's danger. The words beside them
// say the same.
const (
	plain  = ""
	red    = "\x1b[31m"
	yellow = "\x1b[33m"
	green  = "\x1b[32m"
	bold   = "\x1b[1m"
)

func (p *Page) colored(color, text string) string {
	if !p.color || color == plain {
		return text
	}
	return color + text + "\x1b[0m"
}
