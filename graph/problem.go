package graph

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// Place is where in a file, or on the command line, something is written.
// Lines and columns count from 1; 0 is not known.
type Place struct {
	File   string
	Line   int
	Column int
}

// String gives "file:line:column", leaving out what is not known.
func (p Place) String() string {
	out := p.File
	if p.Line > 0 {
		out += fmt.Sprintf(":%d", p.Line)
		if p.Column > 0 {
			out += fmt.Sprintf(":%d", p.Column)
		}
	} else if p.Column > 0 {
		out = strings.TrimPrefix(fmt.Sprintf("%s, column %d", out, p.Column), ", ")
	}
	return out
}

// Problem is something that somebody wrote and Telltale cannot use: where, what
// was found and expected, and the nearest real name.
type Problem struct {
	Place   Place
	Message string
	Nearest string
}

// Error puts the problem in one line.
func (p *Problem) Error() string {
	out := p.Message
	if at := p.Place.String(); at != "" {
		out = at + ": " + out
	}
	if p.Nearest != "" {
		out += fmt.Sprintf("; the nearest is %q", p.Nearest)
	}
	return out
}

// Problems is everything wrong with what was read, in the order of the files.
type Problems []*Problem

// shownProblems is how many problems one error spells out: more than a screenful
// helps nobody (common practice, no source).
const shownProblems = 20

// Error puts each problem on a line of its own.
func (ps Problems) Error() string {
	var lines []string
	for i, p := range ps {
		if i == shownProblems {
			lines = append(lines, fmt.Sprintf("and %d more", len(ps)-i))
			break
		}
		lines = append(lines, p.Error())
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the problems one by one.
func (ps Problems) Unwrap() []error {
	out := make([]error, len(ps))
	for i, p := range ps {
		out[i] = p
	}
	return out
}

// Add notes one more problem.
func (ps *Problems) Add(at Place, format string, args ...any) {
	*ps = append(*ps, &Problem{Place: at, Message: fmt.Sprintf(format, args...)})
}

// AddUnknown notes a name that is not among the known ones, with the nearest.
func (ps *Problems) AddUnknown(at Place, what, found string, known []string) {
	*ps = append(*ps, Unknown(at, what, found, known))
}

// Err gives the problems as an error, sorted by place, nil if there are none.
func (ps Problems) Err() error {
	if len(ps) == 0 {
		return nil
	}
	slices.SortStableFunc(ps, func(a, b *Problem) int {
		if c := strings.Compare(a.Place.File, b.Place.File); c != 0 {
			return c
		}
		if a.Place.Line != b.Place.Line {
			return a.Place.Line - b.Place.Line
		}
		return a.Place.Column - b.Place.Column
	})
	return ps
}

// listedNames is how many known names an error lists when there are few of them
// (common practice, no source).
const listedNames = 9

// Unknown makes the problem of a name that is not among the known ones.
func Unknown(at Place, what, found string, known []string) *Problem {
	p := &Problem{Place: at, Message: fmt.Sprintf("there is no %s %q", what, short(found))}
	p.Nearest = Nearest(found, known)
	if len(known) > 0 && len(known) <= listedNames {
		p.Message += " (known: " + strings.Join(known, ", ") + ")"
	}
	return p
}

// shownCharacters is how much of what somebody wrote an error quotes (common
// practice, no source).
const shownCharacters = 80

// short cuts a long text off, for an error to quote.
func short(text string) string {
	if utf8.RuneCountInString(text) <= shownCharacters {
		return text
	}
	return string([]rune(text)[:shownCharacters]) + "…"
}

// Nearest finds the known name that takes the fewest changed letters to get to,
// "" when even that one has more than half its letters changed. Of two as near the
// one with the same first letter is nearer.
func Nearest(name string, known []string) string {
	key := wordKey(name)
	if key == "" || len(name) > 200 { // a name that long is no misspelling (common practice, no source)
		return ""
	}
	best, fewest, initial := "", -1, false
	for _, k := range known {
		other := wordKey(k)
		d, same := levenshtein.ComputeDistance(key, other), other != "" && other[0] == key[0]
		if fewest < 0 || d < fewest || d == fewest && same && !initial {
			best, fewest, initial = k, d, same
		}
	}
	if fewest < 0 || 2*fewest > max(utf8.RuneCountInString(best), 2) {
		return ""
	}
	return best
}
