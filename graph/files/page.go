package files

import (
	"errors"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"telltale/graph"
)

// page is one file being read.
type page struct {
	name     string
	most     int // bytes
	lines    []string
	problems *graph.Problems
}

func newPage(name string, problems *graph.Problems) *page {
	return &page{name: name, most: maxBytes, problems: problems}
}

func (p *page) place(t *token.Token) graph.Place {
	if t == nil || t.Position == nil {
		return graph.Place{File: p.name}
	}
	return graph.Place{File: p.name, Line: t.Position.Line, Column: t.Position.Column}
}

func (p *page) add(w Word, format string, args ...any) {
	p.problems.Add(p.place(w.tok), format, args...)
}

// nearestNames is for how many problems the nearest name is looked for: more of
// them nobody reads, and each takes a comparison with every name there is.
const nearestNames = 200

func (p *page) unknown(w Word, what string, known []string) {
	if len(*p.problems) > nearestNames {
		known = nil
	}
	p.problems.AddUnknown(p.place(w.tok), what, w.Text, known)
}

// wrong notes that something else was expected at n.
func (p *page) wrong(n ast.Node, want string) {
	found := "a single value"
	switch n.(type) {
	case *ast.SequenceNode:
		found = "a list"
	case *ast.MappingNode, *ast.MappingValueNode:
		found = "a mapping of names"
	case *ast.NullNode:
		found = "nothing"
	}
	p.problems.Add(p.place(firstToken(n)), "%s stands here, expected %s", found, want)
}

// firstToken is where a value begins to be written. The library's own answer for a
// mapping without braces is its first colon.
func firstToken(n ast.Node) *token.Token {
	switch x := n.(type) {
	case *ast.MappingNode:
		if len(x.Values) > 0 && !x.IsFlowStyle {
			return x.Values[0].Key.GetToken()
		}
	case *ast.MappingValueNode:
		return x.Key.GetToken()
	}
	return n.GetToken()
}

// decode reads the text into the struct or Map that value points to. What is wrong
// is noted; it tells whether nothing is. What can be read is filled all the same.
func (p *page) decode(text []byte, value any) bool {
	before := len(*p.problems)
	body, err := p.parse(text)
	if err != nil {
		p.note(err)
		return false
	}
	p.fill(reflect.ValueOf(value).Elem(), body)
	return len(*p.problems) == before
}

// note turns an error into a problem with a place.
func (p *page) note(err error) {
	var problem *graph.Problem
	if errors.As(err, &problem) {
		if problem.Place.File == "" {
			problem.Place.File = p.name
		}
		*p.problems = append(*p.problems, problem)
		return
	}
	var y yaml.Error
	if errors.As(err, &y) {
		p.problems.Add(p.place(y.GetToken()), "%s", inPlainWords(y.GetMessage()))
		return
	}
	p.problems.Add(graph.Place{File: p.name}, "%s", err)
}

// plainWords puts what the YAML library says, on the left, so that who has never
// heard of a token understands it.
var plainWords = []struct{ said, meant string }{
	{"mapping value is not allowed in this context", "a colon and a blank stand inside a text here: put the whole text in quotes"},
	{"tab", "a tab stands here: indent with blanks"},
	{"cannot start any token", "a tab stands here: indent with blanks"},
	{" tag ", "a text that begins with ! has to stand in quotes"},
	{"is a reserved character", "a text that begins with @ or ` has to stand in quotes"},
	{"directive", "a text that begins with % has to stand in quotes"},
	{"end character of double-quoted text", `a text is opened here with " and never closed`},
	{"end character of single-quoted text", "a text is opened here with ' and never closed"},
	{"flow mapping end token", "a { is opened here and never closed"},
	{"sequence end token", "a [ is opened here and never closed"},
	{"',' or '}' must be specified", "a comma or } is missing before this"},
	{"',' or ']' must be specified", "a comma or ] is missing before this"},
	{"corresponding to", "a bracket is closed here that was never opened"},
	{"flow map content", "a name stands here without a colon and a value"},
	{"block sequence entries", "a text that begins with - and a blank has to stand in quotes, and a list begins on a line of its own"},
	{"non-map value is specified", "a name with a colon is expected here, indented like those above it"},
	{"escape character", "a backslash stands here in a text in double quotes: write it twice, or use single quotes"},
	{"document separator", "one file holds one document: nothing can stand beside or below ---"},
}

func inPlainWords(message string) string {
	for _, w := range plainWords {
		if strings.Contains(message, w.said) {
			return w.meant
		}
	}
	return "this cannot be read as YAML (" + message + ")"
}
