package graph

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// written is a stretch of what somebody wrote, and the column that it begins at.
type written struct {
	text   string
	column int
}

func (w written) from(i int) written {
	return written{w.text[i:], w.column + utf8.RuneCountInString(w.text[:i])}
}

func (w written) to(i int) written { return written{w.text[:i], w.column} }

// trim takes the blanks off both ends. Where nothing else stands, the column stays.
func (w written) trim() written {
	text := strings.TrimSpace(w.text)
	if text == "" {
		return w.to(0)
	}
	w = w.from(strings.Index(w.text, text))
	w.text = text
	return w
}

func (w written) problem(format string, args ...any) *Problem {
	return &Problem{Place: Place{Column: w.column}, Message: fmt.Sprintf(format, args...)}
}

func (w written) unknown(what string, known []string) *Problem {
	return Unknown(Place{Column: w.column}, what, w.text, known)
}

// cutSign parts a reading at = (or ==, as rules have it) or !=.
func (w written) cutSign() (left, right written, negated, ok bool) {
	i := strings.Index(w.text, "=")
	if i < 0 {
		return w, w, false, false
	}
	left, right = w.to(i), w.from(i+1)
	if negated = strings.HasSuffix(left.text, "!"); negated {
		left = left.to(i - 1)
	} else if strings.HasPrefix(right.text, "=") {
		right = right.from(1)
	}
	return left.trim(), right.trim(), negated, true
}
