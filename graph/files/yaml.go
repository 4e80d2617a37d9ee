package files

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"telltale/graph"
)

// The bounds on what is read, so that no file can stall or fell the program: the
// YAML library takes time by the square of the lines of one mapping, of blank
// lines, and of the values that are missing. A flora's page
// on one plant has some kB, the largest file shipped 120 kB in 2,200 lines, and
// values are nested six deep at the most (common practice, no source).
const (
	maxBytes       = 1 << 20
	maxObservation = 32 << 10
	maxLines       = 20_000
	maxBlank       = 200 // line breaks with nothing between them
	maxNesting     = 64
	maxIndent      = 4 * maxNesting
	maxLacking     = 100 // names without a value between braces
)

// parse makes the tree of a text that holds one YAML document.
func (p *page) parse(text []byte) (body ast.Node, err error) {
	// Whatever a hostile file makes of the parser must end in an error.
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("this is not YAML that can be read (%v)", r)
		}
	}()
	if text, err = p.clean(text); err != nil {
		return nil, err
	}
	p.lines = strings.Split(string(text), "\n")
	tokens := lexer.Tokenize(string(text))
	if err := p.plainTokens(tokens); err != nil {
		return nil, err
	}
	file, err := parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return nil, err
	}
	if len(file.Docs) > 1 {
		return nil, p.refuse(file.Docs[1].Start, "%d documents stand in this file, expected one", len(file.Docs))
	}
	if len(file.Docs) == 0 || file.Docs[0].Body == nil || file.Docs[0].Body.Type() == ast.NullType {
		return nil, errors.New("nothing stands in this file")
	}
	return file.Docs[0].Body, nil
}

func (p *page) refuse(t *token.Token, format string, args ...any) error {
	return &graph.Problem{Place: p.place(t), Message: fmt.Sprintf(format, args...)}
}

// clean refuses what is no text, and turns the tabs of JSON into blanks, which
// leaves every column where it was.
func (p *page) clean(text []byte) ([]byte, error) {
	switch {
	case len(text) > p.most:
		return nil, fmt.Errorf("this file has more than the %d bytes that are read", p.most)
	case max(bytes.Count(text, []byte("\n")), bytes.Count(text, []byte("\r"))) > maxLines:
		return nil, fmt.Errorf("this file has more than the %d lines that are read", maxLines)
	case bytes.HasPrefix(text, []byte{0xff, 0xfe}) || bytes.HasPrefix(text, []byte{0xfe, 0xff}):
		return nil, errors.New("this is UTF-16: save the file as UTF-8")
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if err := p.characters(text); err != nil {
		return nil, err
	}
	if bytes.HasPrefix(bytes.TrimSpace(text), []byte("{")) {
		text = bytes.ReplaceAll(text, []byte("\t"), []byte(" "))
	}
	return text, nil
}

// characters refuses what is not UTF-8, what no text has, and endless blank lines.
func (p *page) characters(text []byte) error {
	at := graph.Place{File: p.name, Line: 1}
	blank := 0
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		text = text[size:]
		at.Column++
		switch {
		case r == utf8.RuneError && size == 1:
			return &graph.Problem{Place: at, Message: "this is not UTF-8: save the file with that encoding"}
		case r == '\n':
			at.Line, at.Column = at.Line+1, 0
			blank++
		case r == '\r':
			blank++
		case r < ' ' && r != '\t':
			return &graph.Problem{Place: at, Message: fmt.Sprintf("a character stands here that no text has (U+%04X)", r)}
		case r != ' ' && r != '\t':
			blank = 0
		}
		if blank > maxBlank {
			return &graph.Problem{Place: at, Message: "too many blank lines stand here"}
		}
	}
	return nil
}

// plainTokens refuses what these files have no use for and what would take a
// parser down: tags, anchors and aliases, and values nested, or names left without
// one, beyond all measure.
func (p *page) plainTokens(tokens token.Tokens) error {
	var open []token.Type
	line, lacking := 0, 0
	for _, t := range tokens {
		begins := t.Position.Line != line && t.Type != token.CommentType
		line = t.Position.Line
		if len(open) > 0 && lacksValue(t, open[len(open)-1]) {
			lacking++
		}
		switch t.Type {
		case token.InvalidType:
			return p.refuse(t, "%s", inPlainWords(t.Error))
		case token.TagType:
			return p.refuse(t, "a text that begins with ! has to stand in quotes")
		case token.MappingKeyType:
			return p.refuse(t, "a text that begins with ? has to stand in quotes")
		case token.AnchorType, token.AliasType, token.MergeKeyType:
			return p.refuse(t, "anchors and aliases (&, *, <<) are not used in these files: write the value out, or put the text in quotes")
		case token.SequenceStartType, token.MappingStartType:
			open = append(open, t.Type)
		case token.SequenceEndType, token.MappingEndType:
			open = open[:max(len(open)-1, 0)]
		}
		switch {
		case len(open) > maxNesting || t.Position.Column > maxIndent && (begins || t.Type == token.SequenceEntryType):
			return p.refuse(t, "values are nested too deeply here")
		case lacking > maxLacking:
			return p.refuse(t, "nothing stands behind more than %d names between braces: a text with a comma in it has to stand in quotes", maxLacking)
		}
	}
	return nil
}

// lacksValue tells whether what ends at t, within the bracket that is open, is a
// name without a value.
func lacksValue(t *token.Token, open token.Type) bool {
	ends := t.Type == token.CollectEntryType || t.Type == token.MappingEndType || t.Type == token.SequenceEndType
	if !ends || t.Prev == nil {
		return false
	}
	before := t.Prev.PreviousType()
	return t.Prev.Type == token.MappingValueType ||
		open == token.MappingStartType && (before == token.MappingStartType || before == token.CollectEntryType)
}
