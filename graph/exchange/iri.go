package exchange

import (
	"net/url"
	"strings"
	"unicode"

	"github.com/cayleygraph/quad"
)

// Base is what every IRI of Telltale begins with. Arrows stand below ArrowBase,
// everything else is a node. It is a name and no address, so that it needs nobody's
// web site; the namespace is not registered (RFC 8141).
const (
	Base      = "urn:telltale:"
	ArrowBase = Base + "arrow/"
)

// nodeIRI names a node of the graph absolutely.
func nodeIRI(node quad.IRI) quad.IRI { return Base + quad.IRI(escape(string(node))) }

// arrowIRI names an arrow absolutely.
func arrowIRI(name quad.IRI) quad.IRI { return ArrowBase + quad.IRI(escape(string(name))) }

// nodeOf is nodeIRI backwards. An IRI of somebody else, and one that is not
// written as this package writes it, is none of our nodes.
func nodeOf(iri quad.IRI) (quad.IRI, bool) {
	rest, ours := strings.CutPrefix(string(iri), Base)
	if !ours || rest == "" || strings.HasPrefix(string(iri), ArrowBase) {
		return "", false
	}
	node, err := url.PathUnescape(rest)
	return quad.IRI(node), err == nil
}

// arrowOf is arrowIRI backwards.
func arrowOf(iri quad.IRI) (string, bool) {
	rest, ours := strings.CutPrefix(string(iri), ArrowBase)
	return rest, ours
}

// plainInIRI are the marks that stand in the path of an IRI as they are (RFC 3987,
// section 2.2: iunreserved, sub-delims, ":", "@" and "/").
const plainInIRI = "-._~!$&'()*+,;=:@/"

// escape writes what an IRI cannot hold as percent and two digits for each byte.
func escape(s string) string {
	var b strings.Builder
	for _, r := range s {
		if strings.ContainsRune(plainInIRI, r) || unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
			continue
		}
		for _, c := range []byte(string(r)) {
			b.WriteByte('%')
			b.WriteByte("0123456789ABCDEF"[c>>4])
			b.WriteByte("0123456789ABCDEF"[c&15])
		}
	}
	return b.String()
}

// fileNode names, in problems, what a file of the data folder would hold:
// taxa/daucus-carota.yaml is taxon/daucus-carota.
func fileNode(file string) string {
	for _, kind := range []struct{ folder, node string }{{"taxa/", "taxon/"}, {"studies/", "study/"}} {
		if id, ok := strings.CutPrefix(file, kind.folder); ok {
			return kind.node + strings.TrimSuffix(id, ".yaml")
		}
	}
	return strings.TrimSuffix(file, ".yaml")
}
