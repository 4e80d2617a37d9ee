package files

import (
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/token"

	"telltale/graph"
)

// expression gives a rule's expression with the place of its first character and
// the columns before each further line, so that what is wrong in it can be
// placed. Where YAML joins lines into one, they are kept as they were written.
func (p *page) expression(w Word) (text string, at graph.Place, indent int) {
	at = p.place(w.tok)
	words := strings.Fields(w.Text)
	if w.tok == nil || len(words) == 0 {
		return w.Text, at, 0
	}
	line, column := p.find(words[0], w.tok)
	if line == 0 {
		return w.Text, at, 0
	}
	at.Line, at.Column = line, column
	text = strings.TrimSpace(w.Text)
	if strings.Contains(text, "\n") { // | keeps lines
		before, _, _ := strings.Cut(w.Text, words[0])
		return text, at, at.Column - 1 - len(before[strings.LastIndex(before, "\n")+1:])
	}
	if lines := p.linesOf(words, at); len(lines) > 1 && !strings.Contains(text, "//") {
		indent = shallowest(lines[1:])
		for i := range lines[1:] {
			lines[i+1] = lines[i+1][min(indent, len(lines[i+1])):]
		}
		return strings.Join(lines, "\n"), at, indent
	}
	return text, at, 0
}

// find gives the line and column at which a word is first written, from a token
// on; line 0 if it is nowhere near.
func (p *page) find(word string, from *token.Token) (line, column int) {
	block := from.Type == token.LiteralType || from.Type == token.FoldedType
	for i := from.Position.Line - 1; i >= 0 && i < len(p.lines); i++ {
		skip := 0
		if i == from.Position.Line-1 {
			if block {
				continue
			}
			skip = min(from.Position.Column-1, len(p.lines[i]))
		}
		if j := strings.Index(p.lines[i][skip:], word); j >= 0 {
			return i + 1, utf8.RuneCountInString(p.lines[i][:skip+j]) + 1
		}
		if skip == 0 && strings.TrimSpace(p.lines[i]) != "" {
			break
		}
	}
	return 0, 0
}

// linesOf gives the lines over which words are written, the first from its column
// on; nil if they are not written there word by word.
func (p *page) linesOf(words []string, at graph.Place) []string {
	var out []string
	for i := at.Line - 1; i < len(p.lines) && len(words) > 0; i++ {
		line := p.lines[i]
		if i == at.Line-1 {
			line = string([]rune(line)[at.Column-1:])
		}
		rest := line
		for len(words) > 0 && strings.TrimSpace(rest) != "" {
			after, ok := strings.CutPrefix(strings.TrimLeft(rest, " \t\r"), words[0])
			if !ok {
				return nil
			}
			rest, words = after, words[1:]
		}
		out = append(out, strings.TrimSuffix(line, rest))
	}
	return out
}

// shallowest is the fewest blanks before any of the lines that are not blank.
func shallowest(lines []string) int {
	fewest := -1
	for _, l := range lines {
		if n := len(l) - len(strings.TrimLeft(l, " ")); strings.TrimSpace(l) != "" && (fewest < 0 || n < fewest) {
			fewest = n
		}
	}
	return max(fewest, 0)
}
