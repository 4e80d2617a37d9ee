package rules

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/google/cel-go/cel"

	"telltale/graph"
)

// placeOf gives the place in the file of a line, from 1, and column, from 0, of
// the expression.
func (c *checker) placeOf(line, column int) graph.Place {
	at := c.rule.WhenAt
	switch {
	case at.Line == 0 && at.Column == 0: // not known where the expression stands
	case line > 1:
		at.Line += line - 1
		at.Column = c.rule.Indent + column + 1
	case at.Column > 0:
		at.Column += column
	}
	return at
}

// unreadable notes why an expression is no CEL: the first thing that is wrong,
// since the rest mostly follows from it.
func (c *checker) unreadable(issues *cel.Issues) {
	var first *cel.Error
	for _, x := range issues.Errors() {
		switch {
		case strings.Contains(x.Message, "recursion"):
			c.add(c.rule.WhenAt, "it is nested more than %d deep", maxNesting)
			return
		case x.Location.Line() < 1: // CEL gave up; why, it has told before
		case first == nil || isBefore(x, first):
			first = x
		}
	}
	if first == nil {
		c.add(c.rule.WhenAt, "the expression cannot be read: %s", issues.Errors()[0].Message)
		return
	}
	line, column := first.Location.Line(), first.Location.Column()
	c.add(c.placeOf(line, column), "%s", c.syntax(line, column))
}

func isBefore(a, b *cel.Error) bool {
	if a.Location.Line() != b.Location.Line() {
		return a.Location.Line() < b.Location.Line()
	}
	return a.Location.Column() < b.Location.Column()
}

// syntax says what stands where the reading stopped, and what to write instead.
func (c *checker) syntax(line, column int) string {
	found := tokenAt(c.rule.When, line, column)
	first, _ := utf8.DecodeRuneInString(found)
	switch {
	case found == "":
		return "the expression breaks off: something is missing at its end"
	case found == "=":
		return "= compares nothing: write =="
	case found == "and" || found == "&":
		return fmt.Sprintf("%q joins nothing: write &&", found)
	case found == "or" || found == "|":
		return fmt.Sprintf("%q joins nothing: write ||", found)
	case wordEnds(textBefore(c.rule.When, line, column), "not"):
		return `"not" turns nothing around: write !(…)`
	case strings.ContainsRune("“”„‘’‚«»", first):
		return fmt.Sprintf(`%q is a quote of books: write "…"`, first)
	case first == '"' || first == '\'':
		return fmt.Sprintf("unexpected %s: a quote is not closed, or an operator such as == or && is missing before it", found)
	}
	return fmt.Sprintf("unexpected %q: expected comparisons, such as stage == %q, joined by && and ||", found, graph.Rosette)
}

// textBefore gives what stands before a column, from 0, in a line, from 1.
func textBefore(text string, line, column int) string {
	lines := strings.Split(text, "\n")
	if line < 1 || line > len(lines) {
		return ""
	}
	runes := []rune(lines[line-1])
	return string(runes[:max(0, min(column, len(runes)))])
}

// wordEnds tells whether a text ends with a word, or the word and blanks.
func wordEnds(text, word string) bool {
	words := strings.Fields(text)
	return len(words) > 0 && words[len(words)-1] == word
}

// tokenAt gives the word or sign that stands at a line, from 1, and column, from
// 0, of a text, or next after it; "" at the end.
func tokenAt(text string, line, column int) string {
	lines := strings.Split(text, "\n")
	if line < 1 || line > len(lines) {
		return ""
	}
	rest := strings.Join(append([]string{lines[line-1][len(textBefore(text, line, column)):]}, lines[line:]...), "\n")
	rest = strings.TrimSpace(rest)
	first, size := utf8.DecodeRuneInString(rest)
	end := size
	switch {
	case rest == "":
		return ""
	case first == '"' || first == '\'':
		if end = strings.IndexAny(rest[size:], string(first)+"\n") + 2*size; end < 2*size {
			end = len(rest)
		}
	case isWordRune(first):
		end = len(rest) - len(strings.TrimLeftFunc(rest, isWordRune))
	case strings.ContainsRune(operatorRunes, first):
		end = len(rest) - len(strings.TrimLeft(rest, operatorRunes))
	}
	return strings.TrimSpace(string([]rune(rest[:end])[:min(shownToken, utf8.RuneCountInString(rest[:end]))]))
}

const operatorRunes = "=!<>&|"

func isWordRune(r rune) bool {
	return r == '_' || r == '.' || unicode.IsLetter(r) || unicode.IsDigit(r)
}

// shownToken is how many characters of what was found an error quotes (common
// practice, no source).
const shownToken = 60
