package files

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"telltale/graph"
)

// The bounds on what is read. A flora's page on one plant is a few kB, and the
// largest file shipped under 1 MB; nesting beyond six levels does not occur
// (common practice, no source).
const (
	maxBytes   = 8 << 20
	maxNesting = 64
)

// Word is one written value, with the place it stands at. Numbers and truth
// values are kept as they are written.
type Word struct {
	Text string
	tok  *token.Token
}

// UnmarshalYAML takes any single value.
func (w *Word) UnmarshalYAML(n ast.Node) error {
	n = bare(n)
	switch x := n.(type) {
	case *ast.StringNode:
		w.Text = x.Value
	case *ast.LiteralNode:
		w.Text = x.Value.Value
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		w.Text = n.GetToken().Value
	case *ast.NullNode:
		w.Text = ""
		if v := n.GetToken().Value; v != "" && strings.TrimSpace(v) != "~" {
			w.Text = v
		}
	default:
		return wrong(n, "a single value")
	}
	w.tok = n.GetToken()
	return nil
}

// Words is a list of values; a single value counts as a list of one.
type Words []Word

// UnmarshalYAML takes a list or a single value.
func (ws *Words) UnmarshalYAML(n ast.Node) error {
	n = bare(n)
	seq, ok := n.(*ast.SequenceNode)
	if !ok {
		var w Word
		if err := w.UnmarshalYAML(n); err != nil {
			return wrong(n, "a list of values")
		}
		*ws = Words{w}
		return nil
	}
	*ws = make(Words, len(seq.Values))
	for i, v := range seq.Values {
		if err := (*ws)[i].UnmarshalYAML(v); err != nil {
			return err
		}
	}
	return nil
}

func (ws Words) texts() []string {
	if len(ws) == 0 {
		return nil
	}
	out := make([]string, len(ws))
	for i, w := range ws {
		out[i] = w.Text
	}
	return out
}

// Map is a mapping whose keys are names, in the order written.
type Map[T any] []Entry[T]

// Entry is one name of a Map with what stands behind it.
type Entry[T any] struct {
	Key   Word
	Value T
}

// UnmarshalYAML takes a mapping.
func (m *Map[T]) UnmarshalYAML(n ast.Node) error {
	n = bare(n)
	pairs, ok := pairsOf(n)
	if !ok {
		return wrong(n, "names with what stands behind each")
	}
	seen := map[string]bool{}
	for _, p := range pairs {
		var e Entry[T]
		if err := e.Key.UnmarshalYAML(p.Key.(ast.Node)); err != nil {
			return err
		}
		if seen[e.Key.Text] {
			return &yaml.SyntaxError{Message: fmt.Sprintf("%q stands here twice", e.Key.Text), Token: e.Key.tok}
		}
		seen[e.Key.Text] = true
		if err := yaml.NodeToValue(p.Value, &e.Value, yaml.Strict()); err != nil {
			return err
		}
		*m = append(*m, e)
	}
	return nil
}

func pairsOf(n ast.Node) ([]*ast.MappingValueNode, bool) {
	switch x := n.(type) {
	case *ast.MappingNode:
		return x.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{x}, true
	case *ast.NullNode:
		return nil, true
	}
	return nil, false
}

// bare takes a tag off a node: files have no use for tags.
func bare(n ast.Node) ast.Node {
	if t, ok := n.(*ast.TagNode); ok && t.Value != nil {
		return t.Value
	}
	return n
}

func wrong(n ast.Node, want string) error {
	return &yaml.SyntaxError{Message: "expected " + want + " here", Token: n.GetToken()}
}

// page is one file being read.
type page struct {
	name     string
	lines    []string
	fields   []string // the names that mappings in this kind of file can have
	problems *graph.Problems
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

func (p *page) unknown(w Word, what string, known []string) {
	p.problems.AddUnknown(p.place(w.tok), what, w.Text, known)
}

// decode reads the text into value, which may hold Words. What is wrong is noted;
// it tells whether value can be used.
func (p *page) decode(text []byte, value any) bool {
	p.fields = fieldNames(reflect.TypeOf(value), map[reflect.Type]bool{})
	if err := p.parse(text, value); err != nil {
		p.note(err)
		return false
	}
	return true
}

func (p *page) parse(text []byte, value any) (err error) {
	// A hostile file must end in an error, whatever the parser makes of it.
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("this is not YAML that can be read (%v)", r)
		}
	}()
	if text, err = p.clean(text); err != nil {
		return err
	}
	file, err := parser.ParseBytes(text, 0)
	if err != nil {
		return err
	}
	if len(file.Docs) > 1 {
		return fmt.Errorf("%d documents stand in this file, expected one", len(file.Docs))
	}
	if len(file.Docs) == 0 || file.Docs[0].Body == nil {
		return errors.New("nothing stands in this file")
	}
	var alias aliasFinder
	ast.Walk(&alias, file.Docs[0].Body)
	if alias.found != nil {
		return &yaml.SyntaxError{Message: "anchors and aliases (&, *) are not used in these files: write the value out", Token: alias.found.GetToken()}
	}
	return yaml.NodeToValue(file.Docs[0].Body, value, yaml.Strict())
}

// clean refuses what no reader should be handed, and turns the tabs of JSON into
// blanks, which leaves every column where it was.
func (p *page) clean(text []byte) ([]byte, error) {
	if len(text) > maxBytes {
		return nil, fmt.Errorf("this file has %d bytes, more than the %d that are read", len(text), maxBytes)
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if line, column, ok := notUTF8(text); ok {
		return nil, &graph.Problem{Place: graph.Place{File: p.name, Line: line, Column: column}, Message: "this is not UTF-8: save the file with that encoding"}
	}
	if i := bytes.IndexByte(text, 0); i >= 0 {
		return nil, fmt.Errorf("a zero byte stands at byte %d: this is no text file", i+1)
	}
	if err := p.nesting(text); err != nil {
		return nil, err
	}
	if t := bytes.TrimSpace(text); len(t) > 0 && t[0] == '{' && json.Valid(t) {
		text = bytes.ReplaceAll(text, []byte("\t"), []byte(" "))
	}
	p.lines = strings.Split(string(text), "\n")
	return text, nil
}

// nesting refuses brackets, or blocks told by ever deeper indents, that no honest
// file holds and that would take a parser down.
func (p *page) nesting(text []byte) error {
	depth, line, dashes := 0, 1, 0
	for _, c := range text {
		switch c {
		case '\n':
			line, dashes = line+1, 0
		case '[', '{':
			depth++
		case ']', '}':
			depth--
		case '-', '?', ':':
			dashes++
		}
		if depth > maxNesting || dashes > 64*maxNesting {
			return &graph.Problem{Place: graph.Place{File: p.name, Line: line}, Message: "values are nested too deeply"}
		}
	}
	for i, l := range bytes.Split(text, []byte("\n")) {
		if indent := len(l) - len(bytes.TrimLeft(l, " -?")); indent > 8*maxNesting {
			return &graph.Problem{Place: graph.Place{File: p.name, Line: i + 1}, Message: "values are nested too deeply"}
		}
	}
	return nil
}

func notUTF8(text []byte) (line, column int, bad bool) {
	line, column = 1, 1
	for _, r := range string(text) {
		if r == '\ufffd' {
			return line, column, !bytes.Contains(text, []byte("\ufffd"))
		}
		column++
		if r == '\n' {
			line, column = line+1, 1
		}
	}
	return 0, 0, false
}

type aliasFinder struct{ found ast.Node }

func (f *aliasFinder) Visit(n ast.Node) ast.Visitor {
	switch n.(type) {
	case *ast.AnchorNode, *ast.AliasNode, *ast.MergeKeyNode:
		if f.found == nil {
			f.found = n
		}
		return nil
	}
	return f
}

// note turns an error of the YAML library into a problem with a place.
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
		at := p.place(y.GetToken())
		message := y.GetMessage()
		if field, ok := strings.CutPrefix(message, "unknown field "); ok {
			p.problems.AddUnknown(at, "field", strings.Trim(field, `"`), p.fields)
			return
		}
		p.problems.Add(at, "%s", message)
		return
	}
	p.problems.Add(graph.Place{File: p.name}, "%s", err)
}

// fieldNames lists the names that the mappings of a file's type can have.
func fieldNames(t reflect.Type, seen map[reflect.Type]bool) []string {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice, reflect.Map:
		return fieldNames(t.Elem(), seen)
	case reflect.Struct:
	default:
		return nil
	}
	if seen[t] {
		return nil
	}
	seen[t] = true
	var out []string
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
		if name != "" && name != "-" {
			out = append(out, name)
		}
		if f.IsExported() {
			out = append(out, fieldNames(f.Type, seen)...)
		}
	}
	return out
}
