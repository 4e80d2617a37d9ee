package exchange

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"
	"github.com/cayleygraph/quad/voc/xsd"

	"telltale/graph"
)

// Quads writes the knowledge as a graph whose names hold anywhere, with the arrows
// to the terms of other vocabularies at its end.
func Quads(k *graph.Knowledge) []quad.Quad {
	own := k.Quads()
	out := make([]quad.Quad, 0, len(own)+64)
	for _, q := range own {
		out = append(out, quad.Quad{Subject: nodeIRI(q.Subject.(quad.IRI)), Predicate: arrowIRI(q.Predicate.(quad.IRI)), Object: outward(q.Object)})
	}
	return append(out, matches(k, own)...)
}

// outward writes a value as others read it: nodes with their IRIs, numbers and
// truth values as XML Schema has them (Datatypes 1.1, sections 3.2.2, 3.2.5, 3.3.13).
func outward(v quad.Value) quad.Value {
	typed := func(text string, t quad.IRI) quad.Value {
		return quad.TypedString{Value: quad.String(text), Type: t.Full()}
	}
	switch x := v.(type) {
	case quad.IRI:
		return nodeIRI(x)
	case quad.Int:
		return typed(strconv.FormatInt(int64(x), 10), xsd.Integer)
	case quad.Float:
		return typed(strconv.FormatFloat(float64(x), 'G', -1, 64), xsd.Double)
	case quad.Bool:
		return typed(strconv.FormatBool(bool(x)), xsd.Boolean)
	}
	return v
}

// Received is knowledge that came from outside.
type Received struct {
	Knowledge *graph.Knowledge
	// Foreign counts the arrows of other vocabularies that were left out.
	Foreign int
}

// intake takes the arrows of a graph one by one, checks each, and makes knowledge
// of them once all are there.
type intake struct {
	name     string
	known    map[string]leads
	names    []string
	quads    []quad.Quad
	at       []graph.Place
	seen     map[string]bool
	parents  map[quad.Value]graph.Place
	foreign  int
	problems graph.Problems
}

// mostProblems is where reading stops: a file with so many is another kind of file
// (common practice, no source).
const mostProblems = 1000

func newIntake(name string) (*intake, error) {
	known, err := arrows()
	if err != nil {
		return nil, err
	}
	in := &intake{name: name, known: known, seen: map[string]bool{}, parents: map[quad.Value]graph.Place{}}
	for n := range known {
		in.names = append(in.names, n)
	}
	return in, nil
}

// full tells whether there is no use in reading on.
func (in *intake) full() bool { return len(in.problems) >= mostProblems }

// take takes one arrow that stands at a place.
func (in *intake) take(q quad.Quad, at graph.Place) {
	predicate, _ := q.Predicate.(quad.IRI)
	arrow, ours := arrowOf(predicate)
	switch {
	case !ours && strings.HasPrefix(string(predicate), Base):
		in.problems.Add(at, "%s is no arrow: arrows of Telltale begin with %s", predicate, ArrowBase)
		return
	case !ours:
		if !strings.HasPrefix(string(predicate), skos) {
			in.foreign++
		}
		return
	}
	to, ok := in.known[arrow]
	if !ok {
		in.problems.AddUnknown(at, "arrow", arrow, in.names)
		return
	}
	subject, ok := in.node(q.Subject, at, "an arrow leaves from ")
	if !ok {
		return
	}
	if object, ok := in.object(q.Object, arrow, to, at); ok {
		in.put(quad.Quad{Subject: subject, Predicate: quad.IRI(arrow), Object: object}, to, at)
	}
}

func (in *intake) put(q quad.Quad, to leads, at graph.Place) {
	key := q.NQuad()
	if in.seen[key] {
		return
	}
	in.seen[key] = true
	if to == toChild {
		if other, taken := in.parents[q.Object]; taken {
			in.problems.Add(at, "%s has a place in the graph already (%s): a node of this kind stands once", string(q.Object.(quad.IRI)), other)
			return
		}
		in.parents[q.Object] = at
	}
	in.quads = append(in.quads, q)
	in.at = append(in.at, at)
}

func (in *intake) node(v quad.Value, at graph.Place, what string) (quad.IRI, bool) {
	iri, ok := v.(quad.IRI)
	if !ok {
		in.problems.Add(at, "%s%s, which has no name: expected an IRI that begins with %s", what, quad.StringOf(v), Base)
		return "", false
	}
	node, ok := nodeOf(iri)
	if !ok {
		in.problems.Add(at, "%s%s, which is no node of Telltale: expected an IRI that begins with %s", what, iri, Base)
	}
	return node, ok
}

// object takes what an arrow leads to, if it is of the kind that the arrow leads to.
func (in *intake) object(v quad.Value, arrow string, to leads, at graph.Place) (quad.Value, bool) {
	if to == toNode || to == toChild {
		return in.node(v, at, fmt.Sprintf("the arrow %s leads to ", arrow))
	}
	if t, ok := v.(quad.TypedString); ok {
		if native, err := t.ParseValue(); err == nil {
			v = native
		}
	}
	switch x := v.(type) {
	case quad.String:
		if to == toText {
			return x, true
		}
	case quad.Int:
		switch to {
		case toInteger:
			return x, true
		case toNumber:
			return quad.Float(x), true
		}
	case quad.Float:
		if to == toNumber {
			return x, true
		}
	case quad.Bool:
		if to == toTruth {
			return x, true
		}
	}
	in.problems.Add(at, "the arrow %s leads to %s: expected %s", arrow, quad.StringOf(v), to)
	return nil, false
}

// received makes the knowledge, and refuses what would not come back as it went in.
func (in *intake) received(ctx context.Context) (*Received, error) {
	if len(in.quads) == 0 && len(in.problems) == 0 {
		in.problems.Add(graph.Place{File: in.name}, "no arrow of Telltale stands in this graph: they begin with %s", ArrowBase)
	}
	if err := in.problems.Err(); err != nil {
		return nil, err
	}
	k, err := graph.FromQuads(in.quads)
	if err != nil {
		return nil, in.placed(err)
	}
	if err := in.left(k); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	gatherTraits(k)
	k.Sort()
	if err := in.check(k); err != nil {
		return nil, err
	}
	return &Received{Knowledge: k, Foreign: in.foreign}, nil
}

// left finds what the graph held and the knowledge does not: a second name where
// there is one, a node that nothing leads to.
func (in *intake) left(k *graph.Knowledge) error {
	counts := map[quad.Value]int{}
	kept := map[string]bool{}
	for _, q := range k.Quads() {
		counts[q.Predicate]++
		kept[q.NQuad()] = true
	}
	for _, q := range in.quads {
		counts[q.Predicate]--
	}
	for i, q := range in.quads {
		if counts[q.Predicate] < 0 && !kept[q.NQuad()] {
			counts[q.Predicate]++
			in.problems.Add(in.at[i], "%s of %s has no place in the knowledge: it stands there once already, or nothing leads to that node",
				string(q.Predicate.(quad.IRI)), string(q.Subject.(quad.IRI)))
		}
	}
	return in.problems.Err()
}

// placed names the file in what the graph says of its nodes.
func (in *intake) placed(err error) error {
	var all graph.Problems
	if errors.As(err, &all) {
		return renamed(err, func(p graph.Place) graph.Place {
			p.File = in.name + ", " + p.File
			return p
		})
	}
	return &graph.Problem{Place: graph.Place{File: in.name}, Message: err.Error()}
}

// check puts the knowledge through the reader of the data files, which knows all
// that can be wrong with a fact.
func (in *intake) check(k *graph.Knowledge) error {
	_, err := Folder(k)
	return renamed(err, func(p graph.Place) graph.Place {
		return graph.Place{File: in.name + ", " + fileNode(p.File)}
	})
}

// gatherTraits puts what is stated of one trait together, in the order in which the
// traits come up, as a file has it.
func gatherTraits(k *graph.Knowledge) {
	for _, t := range k.Taxa {
		t.Statements = byTrait(t.Statements)
	}
}

func byTrait(list []graph.Statement) []graph.Statement {
	var order []string
	of := map[string][]graph.Statement{}
	for _, s := range list {
		if of[s.Trait] == nil {
			order = append(order, s.Trait)
		}
		of[s.Trait] = append(of[s.Trait], s)
	}
	var out []graph.Statement
	for _, trait := range order {
		out = append(out, of[trait]...)
	}
	return out
}
