package exchange

import (
	"strings"

	"github.com/cayleygraph/quad"

	"telltale/graph"
)

// skos is the Simple Knowledge Organization System (W3C Recommendation 2009),
// whose arrows say how far a term of ours means what another means.
const (
	skos       = "http://www.w3.org/2004/02/skos/core#"
	exactMatch = skos + "exactMatch"
	closeMatch = skos + "closeMatch"
	broadMatch = skos + "broadMatch"
)

// obo is where the terms of the Plant Ontology (PO) and of the Phenotype and Trait
// Ontology (PATO) have their IRIs.
const obo = "http://purl.obolibrary.org/obo/"

// match says what a term of ours is elsewhere.
type match struct{ how, term string }

// partMatches gives the parts of plants in the Plant Ontology. The terms and their
// names are those of the Planteome's own release and of its mapping of the Flora of
// North America's glossary (Planteome/plant-ontology, mapping2po/FNAglossary2po.txt
// and po_anatomy, release 20). "herb", sap, oil, milk, water and bulbil have no term
// that is sure. A shoot that is picked is less than a whole shoot system, a bud may
// be a flower bud only, and wood is what joiners call secondary xylem: those are
// close, not the same.
var partMatches = map[string]match{
	"root":        {exactMatch, "PO_0009005"},
	"rhizome":     {exactMatch, "PO_0004542"},
	"bulb":        {exactMatch, "PO_0025356"},
	"corm":        {exactMatch, "PO_0025355"},
	"tuber":       {exactMatch, "PO_0025522"},
	"stem":        {exactMatch, "PO_0009047"},
	"leaf":        {exactMatch, "PO_0025034"},
	"flower":      {exactMatch, "PO_0009046"},
	"fruit":       {exactMatch, "PO_0009001"},
	"seed":        {exactMatch, "PO_0009010"},
	"bark":        {exactMatch, "PO_0004518"},
	"whole_plant": {exactMatch, "PO_0000003"},
	"shoot":       {closeMatch, "PO_0009006"},
	"bud":         {closeMatch, "PO_0000055"},
	"wood":        {closeMatch, "PO_0005848"},
}

// qualityMatches gives, by how a trait's name ends, the quality of PATO that it is
// one case of: the length of a leaf is a length. Terms, names and definitions as in
// PATO's release of 2021-06-15 (pato-base.obo); width is PATO_0000921.
var qualityMatches = []struct{ ending, term string }{
	{"length", "PATO_0000122"},
	{"height", "PATO_0000119"},
	{"width", "PATO_0000921"},
	{"colour", "PATO_0000014"},
	{"shape", "PATO_0000052"},
	{"texture", "PATO_0000150"},
	{"scent", "PATO_0000058"},
	{"odour_crushed", "PATO_0000058"},
	{"odour_root", "PATO_0000058"},
	{"clothing_hairs", "PATO_0000066"},
}

// matches gives the arrows from our parts and traits to the terms of others, for
// those parts that the graph has.
func matches(k *graph.Knowledge, quads []quad.Quad) []quad.Quad {
	var out []quad.Quad
	add := func(node quad.IRI, m match) {
		out = append(out, quad.Quad{Subject: nodeIRI(node), Predicate: quad.IRI(m.how), Object: quad.IRI(obo + m.term)})
	}
	has := map[quad.Value]bool{}
	for _, q := range quads {
		has[q.Object] = true
	}
	for _, part := range graph.Parts() {
		node := graph.Node("part", part)
		if m, ok := partMatches[part]; ok && has[node] {
			add(node, m)
		}
	}
	for _, t := range k.Vocabulary.Traits {
		if term := qualityOf(t); term != "" {
			add(graph.Node("trait", t.ID), match{broadMatch, term})
		}
	}
	return out
}

// qualityOf finds the quality that a trait is one case of, "" where none is sure.
func qualityOf(t *graph.Trait) string {
	_, name, _ := strings.Cut(t.ID, ".")
	for _, q := range qualityMatches {
		if name == q.ending || strings.HasSuffix(name, "_"+q.ending) {
			return q.term
		}
	}
	return ""
}
