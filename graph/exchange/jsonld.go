package exchange

import (
	"bufio"
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"
	"github.com/piprate/json-gold/ld"

	"telltale/graph"
)

// contextFile is the published context: the short name of each arrow and what it
// leads to. A test holds it to the types that the graph is written from.
//
//go:embed context.jsonld
var contextFile []byte

// ContextIRI names the published context: a document may give it in place of the
// context itself.
const ContextIRI = Base + "context"

// Context gives the published JSON-LD context.
func Context() []byte { return bytes.Clone(contextFile) }

// WriteJSONLD writes the knowledge in JSON-LD 1.1 (W3C Recommendation 2020) with
// the published context, one node a line, always in the same order.
func WriteJSONLD(w io.Writer, k *graph.Knowledge) error {
	var shared struct {
		Context json.RawMessage `json:"@context"`
	}
	if err := json.Unmarshal(contextFile, &shared); err != nil {
		return fmt.Errorf("reading the published context: %w", err)
	}
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "{\"@context\": %s,\n\"@graph\": [", shared.Context)
	for i, node := range nodesOf(Quads(k)) {
		text, err := node.json()
		if err != nil {
			return fmt.Errorf("writing JSON-LD: %w", err)
		}
		if i > 0 {
			out.WriteByte(',')
		}
		out.WriteString("\n")
		out.Write(text)
	}
	out.WriteString("\n]}\n")
	return out.Flush()
}

// jsonNode is a node with all arrows that leave it, in the order in which they
// came.
type jsonNode struct {
	id     string
	names  []string
	values map[string][]any
}

func nodesOf(quads []quad.Quad) []*jsonNode {
	var out []*jsonNode
	byID := map[quad.Value]*jsonNode{}
	for _, q := range quads {
		n := byID[q.Subject]
		if n == nil {
			n = &jsonNode{id: compact(q.Subject.(quad.IRI)), values: map[string][]any{}}
			byID[q.Subject] = n
			out = append(out, n)
		}
		name := compact(q.Predicate.(quad.IRI))
		if n.values[name] == nil {
			n.names = append(n.names, name)
		}
		n.values[name] = append(n.values[name], jsonValue(q.Object))
	}
	return out
}

func (n *jsonNode) json() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	put := func(x any) error {
		err := enc.Encode(x)
		b.Truncate(b.Len() - 1) // the encoder ends each value with a line break
		return err
	}
	b.WriteString(`{"@id": `)
	err := put(n.id)
	for _, name := range n.names {
		b.WriteString(", ")
		err = errors.Join(err, put(name))
		b.WriteString(": ")
		if values := n.values[name]; len(values) == 1 {
			err = errors.Join(err, put(values[0]))
		} else {
			err = errors.Join(err, put(values))
		}
	}
	b.WriteString("}")
	return b.Bytes(), err
}

// compact shortens an IRI the way the published context does.
func compact(iri quad.IRI) string {
	if name, ok := strings.CutPrefix(string(iri), ArrowBase); ok {
		return name
	}
	if name, ok := strings.CutPrefix(string(iri), skos); ok {
		return name
	}
	if node, ok := strings.CutPrefix(string(iri), Base); ok {
		return "telltale:" + node
	}
	return string(iri)
}

// jsonValue writes what an arrow leads to. The context says of which type it is.
// Whole numbers and truth values have a form of their own in JSON; other numbers
// are left as text, since JSON-LD processors keep only 15 digits of them (JSON-LD
// 1.1 API, section 8.2.2).
func jsonValue(v quad.Value) any {
	switch x := v.(type) {
	case quad.IRI:
		return compact(x)
	case quad.TypedString:
		native, err := x.ParseValue()
		if _, number := native.(quad.Float); err != nil || number {
			return string(x.Value)
		}
		return native.Native()
	}
	return quad.ToString(v)
}

// ReadJSONLD reads a graph in JSON-LD; name is what problems call it. Nothing is
// fetched: the only context that may be named is ContextIRI. The error is a
// graph.Problems that lists everything wrong.
func ReadJSONLD(ctx context.Context, name string, r io.Reader) (*Received, error) {
	at := graph.Place{File: name}
	text, err := io.ReadAll(&limited{r: r, left: maxGraph})
	if err != nil {
		return nil, &graph.Problem{Place: at, Message: unread(err)}
	}
	doc, err := decodeJSON(name, text)
	if err != nil {
		return nil, err
	}
	data, err := triples(doc)
	if err != nil {
		return nil, &graph.Problem{Place: at, Message: "this is JSON, but no JSON-LD that can be read: " + err.Error()}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	in, err := newIntake(name)
	if err != nil {
		return nil, err
	}
	for _, g := range sortedKeys(data.Graphs) {
		for _, q := range data.Graphs[g] {
			if in.full() {
				break
			}
			in.take(quad.Quad{Subject: value(q.Subject), Predicate: value(q.Predicate), Object: value(q.Object)}, in.placeOf(q.Subject))
		}
	}
	return in.received(ctx)
}

func decodeJSON(name string, text []byte) (any, error) {
	text, err := utf8Text(graph.Place{File: name}, text, "save the file in UTF-8")
	if err != nil {
		return nil, err
	}
	var doc any
	dec := json.NewDecoder(bytes.NewReader(text))
	if err = dec.Decode(&doc); err == nil && dec.More() {
		err = errors.New("something stands behind its end")
	}
	if err == nil {
		return doc, nil
	}
	before := text[:min(int(dec.InputOffset()), len(text))]
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) && int(syntax.Offset) <= len(text) {
		before = text[:syntax.Offset]
	}
	at := graph.Place{File: name, Line: bytes.Count(before, []byte("\n")) + 1}
	at.Column = max(len([]rune(string(before[bytes.LastIndexByte(before, '\n')+1:]))), 1)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = errors.New("it ends early")
	}
	return nil, &graph.Problem{Place: at, Message: fmt.Sprintf("this is no JSON: %s", err)}
}

// triples leaves the reading of JSON-LD to its processor.
func triples(doc any) (data *ld.RDFDataset, err error) {
	// A hostile document must end in an error, whatever the processor makes of it.
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("it is built in a way that cannot be (%v)", r)
		}
	}()
	opts := ld.NewJsonLdOptions("")
	var contexts published
	opts.DocumentLoader = &contexts
	expanded, err := ld.NewJsonLdProcessor().Expand(doc, opts)
	switch {
	case contexts.refused != "":
		return nil, fmt.Errorf("it names the context %q, and nothing is fetched: write the context out, or name %s", contexts.refused, ContextIRI)
	case err != nil:
		return nil, err
	}
	if id := relative(expanded); id != "" {
		return nil, fmt.Errorf("%q is no whole IRI: write telltale:%s with the published context, or %s%s", id, id, Base, id)
	}
	return ld.NewJsonLdApi().ToRDF(expanded, opts)
}

// relative finds an id that is no whole IRI: the processor would leave its node out
// without a word.
func relative(x any) string {
	switch x := x.(type) {
	case []any:
		for _, e := range x {
			if id := relative(e); id != "" {
				return id
			}
		}
	case map[string]any:
		if id, ok := x["@id"].(string); ok && ld.IsRelativeIri(id) {
			return id
		}
		for _, key := range sortedKeys(x) {
			if id := relative(x[key]); id != "" {
				return id
			}
		}
	}
	return ""
}

// published hands out the published context and nothing else.
type published struct {
	refused string // what else was asked for
}

// LoadDocument answers a document that names a context.
func (p *published) LoadDocument(iri string) (*ld.RemoteDocument, error) {
	if iri != ContextIRI {
		p.refused = iri
		return nil, errors.New("nothing is fetched")
	}
	var doc any
	if err := json.Unmarshal(contextFile, &doc); err != nil {
		return nil, err
	}
	return &ld.RemoteDocument{DocumentURL: iri, Document: doc}, nil
}

// placeOf names the node that an arrow leaves from: the processor keeps no lines.
func (in *intake) placeOf(n ld.Node) graph.Place {
	node, ok := nodeOf(quad.IRI(n.GetValue()))
	if !ok {
		return graph.Place{File: in.name}
	}
	return graph.Place{File: in.name + ", " + string(node)}
}

func value(n ld.Node) quad.Value {
	switch x := n.(type) {
	case *ld.IRI:
		return quad.IRI(x.Value)
	case *ld.BlankNode:
		return quad.BNode(x.Attribute)
	case *ld.Literal:
		switch {
		case x.Language != "":
			return quad.LangString{Value: quad.String(x.Value), Lang: x.Language}
		case x.Datatype != "" && x.Datatype != ld.XSDString:
			return quad.TypedString{Value: quad.String(x.Value), Type: quad.IRI(x.Datatype)}
		}
		return quad.String(x.Value)
	}
	return nil
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
