package render

import (
	"strings"

	"telltale/graph/query"
)

// Schema writes what a graph is made of.
func Schema(p *Page, nodes []query.Node, arrows []query.Arrow, examples []query.Example) error {
	p.say(`Nodes are named by their kind and id. In a query, names of nodes and arrows stand in angle brackets, "<taxon/conium-maculatum>", "<severity>"; other texts are values, "deadly".`)
	for _, n := range append(nodes, query.Node{Kind: query.AnyNode, Means: "every node"}) {
		p.blank()
		p.say(p.coloured(bold, n.Kind) + ": " + n.Means)
		if n.Name != "" {
			p.item("", 2, "<"+n.Name+">")
		}
		for _, a := range arrows {
			if a.From == n.Kind {
				p.item("  "+pad(a.Name, 18)+" "+pad(a.To, 11), 32, a.Means)
			}
		}
	}
	p.heading("Examples")
	for _, e := range examples {
		p.item("", 2, e.Name)
		p.item("", 4, strings.TrimSpace(e.About+" ("+e.Language+")"))
	}
	return p.err
}

func pad(s string, width int) string { return s + strings.Repeat(" ", max(width-len(s), 0)) }

// SchemaDoc is what `graph schema --format json` writes.
type SchemaDoc struct {
	Nodes    []query.Node  `json:"nodes"`
	Arrows   []query.Arrow `json:"arrows"`
	Examples []ExampleDoc  `json:"examples"`
}

// ExampleDoc is a query that comes with the program.
type ExampleDoc struct {
	Name     string `json:"name"`
	About    string `json:"about"`
	Language string `json:"language"`
	Query    string `json:"query"`
}

// SchemaJSON puts what a graph is made of into its document.
func SchemaJSON(nodes []query.Node, arrows []query.Arrow, examples []query.Example) SchemaDoc {
	doc := SchemaDoc{Nodes: nodes, Arrows: arrows, Examples: []ExampleDoc{}}
	for _, e := range examples {
		doc.Examples = append(doc.Examples, ExampleDoc{Name: e.Name, About: e.About, Language: e.Language, Query: e.Text})
	}
	return doc
}
