package query

import (
	"context"
	"regexp"
	"slices"
	"strings"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/query/graphql"
	"github.com/cayleygraph/quad"
	"github.com/dennwc/graphql/language/ast"
	"github.com/dennwc/graphql/language/parser"

	"telltale/graph"
)

// literal is the name of an arrow or a node as a query writes it, "<severity>".
var literal = regexp.MustCompile("[\"'`]<([^<>\"'`\\s]+)>[\"'`]")

// checkNames finds the arrows and nodes of a query that are not in the graph. A
// misspelt one would be no error but an empty answer, and "nothing here is deadly"
// is not to be had by a slip of the finger.
func checkNames(quads cayley.QuadStore, q Query) error {
	var problems graph.Problems
	names := literal.FindAllStringSubmatchIndex(q.Text, -1)
	for _, m := range names {
		if err := checkName(quads, q, m[2], q.Text[m[2]:m[3]], &problems); err != nil {
			return err
		}
	}
	if q.Language == GraphQL {
		for _, f := range treeNames(q.Text) {
			if err := checkName(quads, q, f.at, f.name, &problems); err != nil {
				return err
			}
		}
	}
	return problems.Err()
}

func checkName(quads cayley.QuadStore, q Query, at int, name string, problems *graph.Problems) error {
	if arrowNamed(name) || name == "source/"+graph.Memory || slices.Contains(partNodes(), name) {
		return nil
	}
	there, err := has(quads, quad.IRI(name))
	if err != nil || there {
		return err
	}
	if kind, _, ok := strings.Cut(name, "/"); ok {
		problems.AddUnknown(placeOf(q, at), kind, name, nodesLike(quads, kind))
	} else {
		problems.AddUnknown(placeOf(q, at), "arrow", name, arrowNames())
	}
	return nil
}

// nameAt is a name and where in the query it stands.
type nameAt struct {
	name string
	at   int
}

// treeNames lists the arrows of a query in GraphQL: the fields below its roots, and
// the arguments that are none of GraphQL's own. Of what cannot be read there are
// none; that is found out by whoever asks.
func treeNames(text string) []nameAt {
	doc, err := parser.Parse(parser.ParseParams{Source: text})
	if err != nil {
		return nil
	}
	var out []nameAt
	var walk func(set *ast.SelectionSet, root bool)
	walk = func(set *ast.SelectionSet, root bool) {
		if set == nil {
			return
		}
		for _, s := range set.Selections {
			f, ok := s.(*ast.Field)
			if !ok {
				continue
			}
			if !root {
				out = append(out, arrowWord(f.Name))
			}
			for _, a := range f.Arguments {
				out = append(out, arrowWord(a.Name))
			}
			walk(f.SelectionSet, false)
		}
	}
	for _, d := range doc.Definitions {
		if o, ok := d.(*ast.OperationDefinition); ok {
			walk(o.SelectionSet, true)
		}
	}
	own := []string{graphql.ValueKey, graphql.LimitKey, graphql.SkipKey, graphql.AnyKey}
	return slices.DeleteFunc(out, func(n nameAt) bool { return slices.Contains(own, n.name) })
}

func arrowWord(n *ast.Name) nameAt {
	at := 0
	if n.Loc != nil {
		at = n.Loc.Start
	}
	return nameAt{name: unbracketed(strings.TrimPrefix(n.Value, "~")), at: at}
}

func has(quads cayley.QuadStore, v quad.Value) (bool, error) {
	ref, err := quads.ValueOf(v)
	if err != nil || ref == nil {
		return false, err
	}
	name, err := quads.NameOf(ref) // some stores give a reference to what is not there
	return name != nil, err
}

// partNodes lists the nodes of all parts of plants, of which a graph may not have
// every one.
func partNodes() []string {
	var out []string
	for _, p := range graph.Parts() {
		out = append(out, "part/"+p)
	}
	return out
}

// nodesLike lists the nodes of a kind, for the nearest name.
func nodesLike(quads cayley.QuadStore, kind string) []string {
	if kind == "part" {
		return partNodes()
	}
	ref, err := quads.ValueOf(quad.String(kind))
	if err != nil || ref == nil {
		return nil
	}
	var nodes []cayley.Ref
	ctx := context.Background()
	it := quads.QuadIterator(quad.Object, ref).Iterate()
	defer func() { _ = it.Close() }()
	for it.Next(ctx) {
		node, err := quads.QuadDirection(it.Result(), quad.Subject)
		if err != nil {
			return nil
		}
		nodes = append(nodes, node)
	}
	names, err := cayley.ValuesOf(ctx, quads, nodes)
	if err != nil {
		return nil
	}
	var out []string
	for _, n := range names {
		if iri, ok := n.(quad.IRI); ok {
			out = append(out, string(iri))
		}
	}
	return out
}

func placeOf(q Query, offset int) graph.Place {
	before := q.Text[:offset]
	line := strings.Count(before, "\n")
	return graph.Place{File: q.Name, Line: line + 1, Column: len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1}
}
