package files

import (
	"fmt"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"
)

// Word is one written value, with the place it stands at. Numbers and truth
// values are kept as they are written; null, ~ and nothing at all are the same.
type Word struct {
	Text string
	tok  *token.Token
}

func (w *Word) fill(p *page, n ast.Node) {
	w.tok = n.GetToken()
	switch x := n.(type) {
	case *ast.StringNode:
		w.Text = x.Value
	case *ast.LiteralNode:
		w.Text = strings.TrimRight(x.Value.Value, "\n")
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		w.Text = n.GetToken().Value
	case *ast.NullNode:
	default:
		p.wrong(n, "a single value")
	}
}

// Words is a list of values; a single value counts as a list of one.
type Words []Word

func (ws *Words) fill(p *page, n ast.Node) {
	switch x := n.(type) {
	case *ast.SequenceNode:
		*ws = make(Words, len(x.Values))
		for i, v := range x.Values {
			(*ws)[i].fill(p, v)
		}
	case *ast.NullNode:
	case *ast.MappingNode, *ast.MappingValueNode:
		p.wrong(n, "a list of values")
	default:
		*ws = make(Words, 1)
		(*ws)[0].fill(p, n)
	}
}

// texts gives the values, without those left empty.
func (ws Words) texts() []string {
	var out []string
	for _, w := range ws {
		if w.Text != "" {
			out = append(out, w.Text)
		}
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

func (m *Map[T]) fill(p *page, n ast.Node) {
	p.pairs(n, func(key Word, value ast.Node) {
		e := Entry[T]{Key: key}
		p.fill(reflect.ValueOf(&e.Value).Elem(), value)
		*m = append(*m, e)
	})
}

// filler is what takes a written value its own way.
type filler interface{ fill(p *page, n ast.Node) }

// fill takes what is written at n into v: a filler, a list, or a struct whose
// fields are named in their yaml tags. Everything wrong below n is noted, and the
// rest is filled all the same.
func (p *page) fill(v reflect.Value, n ast.Node) {
	if f, ok := v.Addr().Interface().(filler); ok {
		f.fill(p, n)
		return
	}
	if v.Kind() == reflect.Slice {
		p.list(v, n)
		return
	}
	if b, ok := v.Addr().Interface().(beginner); ok {
		b.begin(firstToken(n))
	}
	fields := fieldsOf(v.Type())
	p.pairs(n, func(key Word, value ast.Node) {
		if i, ok := fields[key.Text]; ok {
			p.fill(v.Field(i), value)
			return
		}
		p.unknown(key, "field", fieldNames(v.Type()))
	})
}

// begun is part of an entry that has no name of its own, and keeps the place where
// it begins.
type begun struct{ tok *token.Token }

type beginner interface{ begin(t *token.Token) }

func (b *begun) begin(t *token.Token) { b.tok = t }

// called lets problems speak of the entry: "this use has no category".
func (b *begun) called(what string) Word { return Word{Text: "this " + what, tok: b.tok} }

func (p *page) list(v reflect.Value, n ast.Node) {
	switch x := n.(type) {
	case *ast.NullNode:
	case *ast.SequenceNode:
		v.Set(reflect.MakeSlice(v.Type(), len(x.Values), len(x.Values)))
		for i, e := range x.Values {
			p.fill(v.Index(i), e)
		}
	default:
		p.wrong(n, "a list, each entry begun with -")
	}
}

// pairs goes through the names of a mapping, each of which stands there once.
func (p *page) pairs(n ast.Node, do func(key Word, value ast.Node)) {
	list, flow, ok := pairsOf(n)
	if !ok {
		p.wrong(n, "names with what stands behind each, parted by a colon and a blank")
		return
	}
	seen := map[string]bool{}
	before := ""
	for _, pair := range list {
		var key Word
		key.fill(p, pair.Key.(ast.Node))
		null, empty := pair.Value.(*ast.NullNode)
		switch {
		case seen[key.Text]:
			p.add(key, "%q stands here twice", key.Text)
			continue
		case empty && null.Token.Type != token.ImplicitNullType: // null, as programs write it
		case empty && flow:
			p.add(key, "nothing stands behind %q%s", key.Text, quotesFor(before, key.Text))
			before = strings.TrimSuffix(before, `"`) + key.Text + `, "`
			continue
		case empty: // has no place of its own
			null.Token = key.tok
		}
		seen[key.Text] = true
		do(key, pair.Value)
		before = ""
		if s, ok := pair.Value.(*ast.StringNode); ok && s.Token.Type == token.StringType {
			before = fmt.Sprintf("%s: %q", key.Text, s.Value+", ")
		}
	}
}

// quotesFor helps with the commonest slip of all: a comma in a text between braces
// ends it, and what follows is taken for a name.
func quotesFor(before, rest string) string {
	if !strings.Contains(before, `"`) || !strings.Contains(before, ": ") {
		return ""
	}
	return ": a text with a comma in it has to stand in quotes, " + strings.TrimSuffix(before, `"`) + rest + `"`
}

// pairsOf gives the names of a mapping with their values, and whether it is
// written between braces. Nothing at all is a mapping without any.
func pairsOf(n ast.Node) (list []*ast.MappingValueNode, flow, ok bool) {
	switch x := n.(type) {
	case *ast.MappingNode:
		return x.Values, x.IsFlowStyle, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{x}, x.IsFlowStyle, true
	case *ast.NullNode:
		return nil, false, true
	}
	return nil, false, false
}

func fieldsOf(t reflect.Type) map[string]int {
	out := make(map[string]int, t.NumField())
	for i := range t.NumField() {
		if name := t.Field(i).Tag.Get("yaml"); name != "" {
			out[name] = i
		}
	}
	return out
}

func fieldNames(t reflect.Type) []string {
	var out []string
	for i := range t.NumField() {
		if name := t.Field(i).Tag.Get("yaml"); name != "" {
			out = append(out, name)
		}
	}
	return out
}
