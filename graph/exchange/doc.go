// Package exchange takes knowledge out of Telltale and brings it back: the whole
// graph as N-Quads or JSON-LD, what is stated of plants as a spreadsheet in CSV,
// and the data folder as YAML. Observations go out as Darwin Core.
//
// What goes out and comes back is the same knowledge. What comes from outside is
// checked as if it had been written by hand: every problem is told with its file,
// its line and the nearest real name, and nothing is half-loaded.
//
//	err := exchange.WriteNQuads(w, k)                      // out
//	in, err := exchange.ReadNQuads(ctx, "graph.nq", r)     // in.Knowledge
//	folder, err := exchange.Folder(in.Knowledge)           // vocabulary.yaml, taxa/...
//
// Every node and every arrow has an IRI below one base, urn:telltale:, that does
// not change with the program or its place on the web:
//
//	urn:telltale:taxon/daucus-carota                  a plant
//	urn:telltale:taxon/daucus-carota/statement/017    something said of it
//	urn:telltale:arrow/source                         an arrow
//
// Numbers and truth values are typed literals of XML Schema. The published context
// (Context) gives the arrows their short names in JSON-LD.
package exchange
