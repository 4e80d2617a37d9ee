package exchange

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/piprate/json-gold/ld"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// TestShippedKnowledgeGoesOutAndComesBack: the way out and back holds for all that
// comes with the program, the data files written from it included.
func TestShippedKnowledgeGoesOutAndComesBack(t *testing.T) {
	k := shipped(t)
	back, err := ways["N-Quads"](context.Background(), k)
	if err != nil {
		t.Fatal(err)
	}
	if d := Difference(k, back); d != "" {
		t.Error(d)
	}
	var b bytes.Buffer
	if err := WriteStatements(&b, k.Taxa); err != nil {
		t.Fatal(err)
	}
	scored, err := ReadStatements(k, "sheet.csv", &b)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(stageByStage(k), stageByStage(Merged(k, scored))); d != "" {
		t.Error(d)
	}
}

// TestNQuadsAndJSONLDHoldTheSameGraph: a reader of N-Quads that is not ours, that of
// json-gold, finds the very triples that JSON-LD expands to.
func TestNQuadsAndJSONLDHoldTheSameGraph(t *testing.T) {
	k := made(t)
	var nq, jsonld bytes.Buffer
	if err := WriteNQuads(&nq, k); err != nil {
		t.Fatal(err)
	}
	if err := WriteJSONLD(&jsonld, k); err != nil {
		t.Fatal(err)
	}
	read, err := ld.ParseNQuads(nq.String())
	if err != nil {
		t.Fatal(err)
	}
	doc, err := decodeJSON("graph.jsonld", jsonld.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	expanded, err := triples(doc)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(tripleLines(t, read), tripleLines(t, expanded)); d != "" {
		t.Errorf("-N-Quads +JSON-LD:\n%s", d)
	}
}

func tripleLines(t *testing.T, d *ld.RDFDataset) []string {
	t.Helper()
	var out []string
	for _, q := range d.Graphs["@default"] {
		out = append(out, fmt.Sprintf("%s %s %v", q.Subject.GetValue(), q.Predicate.GetValue(), value(q.Object)))
	}
	slices.Sort(out)
	return out
}

func TestIRIsAreWholeAndComeBack(t *testing.T) {
	for _, node := range []string{"taxon/daucus-carota", "source/a b", "source/100%", "source/%2f", "source/<x>", "source/Æ", "genus/×Hortus", "source/a#b?c", "source/\\`^|", "source/\u2028"} {
		iri := nodeIRI(graph.Node("", node)[1:])
		if strings.ContainsAny(string(iri), "<>\"{}|\\^` \u2028") || !strings.HasPrefix(string(iri), Base) {
			t.Errorf("%q became %q, which RFC 3987 does not allow", node, iri)
		}
		if back, ok := nodeOf(iri); !ok || string(back) != node {
			t.Errorf("%q became %q and then %q", node, iri, back)
		}
	}
}

// TestTermsOfOthers: the Plant Ontology and PATO have these terms under these
// numbers (Planteome/plant-ontology, FNAglossary2po.txt and po_anatomy release 20;
// pato-base.obo of 2021-06-15).
func TestTermsOfOthers(t *testing.T) {
	names := map[string]string{
		"PO_0009005": "root", "PO_0004542": "rhizome", "PO_0025356": "bulb", "PO_0025355": "corm", "PO_0025522": "tuber", "PO_0009047": "stem",
		"PO_0025034": "leaf", "PO_0009046": "flower", "PO_0009001": "fruit", "PO_0009010": "seed", "PO_0004518": "bark", "PO_0000003": "whole plant",
		"PO_0009006": "shoot system", "PO_0000055": "bud", "PO_0005848": "secondary xylem", "PATO_0000122": "length", "PATO_0000119": "height",
		"PATO_0000921": "width", "PATO_0000014": "color", "PATO_0000052": "shape", "PATO_0000150": "texture", "PATO_0000058": "odor", "PATO_0000066": "pilosity",
	}
	for part, m := range partMatches {
		if !slices.Contains(graph.Parts(), part) {
			t.Errorf("%s is no part of a plant", part)
		}
		name, ok := names[m.term]
		if exact := name == strings.ReplaceAll(part, "_", " "); !ok || (m.how == exactMatch && !exact) {
			t.Errorf("%s is given as %s, which is %q", part, m.term, name)
		}
	}
	for _, q := range qualityMatches {
		if names[q.term] == "" {
			t.Errorf("%s is given as %s, which is unknown", q.ending, q.term)
		}
	}
	for trait, want := range map[string]string{
		"leaf.length": "length", "leaf.leaflet_length": "length", "plant.height": "height", "leaf.segment_width": "width", "flower.ray_colour": "color",
		"plant.odour_crushed": "odor", "flower.scent": "odor", "leaf.margin": "", "leaf.stalk": "", "season.flowering": "",
	} {
		if got := names[qualityOf(&graph.Trait{ID: trait})]; got != want {
			t.Errorf("%s is a case of %q, want %q", trait, got, want)
		}
	}
}

// written is the small knowledge in N-Quads, line by line.
func written(t testing.TB) []string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteNQuads(&b, made(t)); err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
}

func TestGraphFromElsewhereIsTakenAsItIs(t *testing.T) {
	lines := written(t)
	backwards := slices.Clone(lines)
	slices.Reverse(backwards)
	for _, tt := range []struct {
		name    string
		lines   []string
		foreign int
	}{
		{"in any order", backwards, 0},
		{"with lines twice", append(slices.Clone(lines), lines...), 0},
		{"with comments, empty lines and the line ends of Windows", append([]string{"\ufeff# mine\r", "\r"}, lines...), 0},
		{"in a named graph", replacedIn(lines, " .", " <urn:x:mine> ."), 0},
		{"with arrows of other vocabularies", append(slices.Clone(lines), `<urn:telltale:taxon/hortus-dulcis> <http://www.w3.org/2000/01/rdf-schema#label> "hort"@en .`), 1},
		{"without what follows from the rest", without(lines, "arrow/in_genus>", "arrow/is_a>"), 0},
		{"with whole numbers as other programs write them", replacedIn(lines, "XMLSchema#integer", "XMLSchema#int"), 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in, err := ReadNQuads(context.Background(), "graph.nq", strings.NewReader(strings.Join(tt.lines, "\n")))
			if err != nil {
				t.Fatal(err)
			}
			if d := Difference(made(t), in.Knowledge); d != "" {
				t.Error(d)
			}
			if in.Foreign != tt.foreign {
				t.Errorf("%d arrows were left out, want %d", in.Foreign, tt.foreign)
			}
		})
	}
}

// TestCorrectionsComeBackToo: a graph tells what somebody's own data changed.
func TestCorrectionsComeBackToo(t *testing.T) {
	k := made(t)
	k.Corrections = []graph.Correction{{Kind: "taxon", Of: "hortus-dulcis", What: []string{"leaf.margin"}, File: "mine/taxa/hortus-dulcis.yaml"}}
	for name, way := range ways {
		back, err := way(context.Background(), k)
		if err != nil {
			t.Fatalf("%s: %s", name, err)
		}
		if d := cmp.Diff(k.Corrections, back.Corrections); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
}

func replacedIn(lines []string, old, with string) []string {
	out := slices.Clone(lines)
	for i, l := range out {
		if j := strings.LastIndex(l, old); j >= 0 {
			out[i] = l[:j] + with + l[j+len(old):]
		}
	}
	return out
}

func without(lines []string, marks ...string) []string {
	return slices.DeleteFunc(slices.Clone(lines), func(l string) bool {
		return slices.ContainsFunc(marks, func(m string) bool { return strings.Contains(l, m) })
	})
}

func TestBrokenGraphIsRefused(t *testing.T) {
	lines := written(t)
	n := len(lines) + 1
	with := func(line string) []string { return append(slices.Clone(lines), line) }
	for _, tt := range []struct {
		name  string
		lines []string
		want  string
	}{
		{"nothing", nil, "graph.nq: no arrow of Telltale stands in this graph: they begin with urn:telltale:arrow/"},
		{"another graph", []string{`<http://a.b/c> <http://a.b/d> "e" .`}, "graph.nq: no arrow of Telltale stands in this graph"},
		{"a line that ends early", with(`<urn:telltale:taxon/hortus-dulcis> <urn:telltale:arrow/na`),
			fmt.Sprintf("graph.nq:%d: this is no line of N-Quads: it ends early", n)},
		{"a text without quotes", with(`<urn:telltale:taxon/hortus-dulcis> <urn:telltale:arrow/name> hort .`), fmt.Sprintf("graph.nq:%d: this is no line of N-Quads: a text stands without quotes", n)},
		{"a broken escape", with(`<urn:telltale:taxon/hortus-dulcis> <urn:telltale:arrow/name> "\uZZZZ" .`), fmt.Sprintf("graph.nq:%d: this is no line of N-Quads", n)},
		{"Latin-1", with("<urn:telltale:taxon/hortus-dulcis> <urn:telltale:arrow/name> \"caf\xe9\" ."), fmt.Sprintf("graph.nq:%d: this is not UTF-8", n)},
		{"a misspelt arrow", with(`<urn:telltale:taxon/hortus-dulcis> <urn:telltale:arrow/authr> "L." .`),
			fmt.Sprintf(`graph.nq:%d: there is no arrow "authr"; the nearest is "author"`, n)},
		{"an arrow that is a node", with(`<urn:telltale:taxon/hortus-dulcis> <urn:telltale:name> "L." .`),
			fmt.Sprintf("graph.nq:%d: <urn:telltale:name> is no arrow: arrows of Telltale begin with urn:telltale:arrow/", n)},
		{"a node of somebody else", with(`<http://a.b/hort> <urn:telltale:arrow/name> "hort" .`),
			fmt.Sprintf("graph.nq:%d: an arrow leaves from <http://a.b/hort>, which is no node of Telltale", n)},
		{"a node without a name", with(`_:a <urn:telltale:arrow/name> "hort" .`), fmt.Sprintf("graph.nq:%d: an arrow leaves from _:a, which has no name", n)},
		{"a text where a node belongs", with(`<urn:telltale:taxon/hortus-dulcis> <urn:telltale:arrow/source> "hill-flora" .`),
			fmt.Sprintf(`graph.nq:%d: the arrow source leads to "hill-flora", which has no name`, n)},
		{"a text where a number belongs", replacedIn(lines, `"1998"^^<http://www.w3.org/2001/XMLSchema#integer>`, `"1998"`), `: the arrow year leads to "1998": expected a whole number`},
		{"a number that is none", replacedIn(lines, `"1998"^^`, `"late"^^`), `: the arrow year leads to "late"^^<http://www.w3.org/2001/XMLSchema#integer>: expected a whole number`},
		{"a text with a language", replacedIn(lines, `"Hortus dulcis"`, `"Hortus dulcis"@la`), `: the arrow name leads to "Hortus dulcis"@la: expected a text`},
		{"a second name", with(`<urn:telltale:taxon/hortus-dulcis> <urn:telltale:arrow/name> "Hortus alter" .`), "name of taxon/hortus-dulcis has no place in the knowledge"},
		{"a plant that nothing leads to", with(`<urn:telltale:taxon/hortus-novus> <urn:telltale:arrow/name> "Hortus novus" .`), "name of taxon/hortus-novus has no place in the knowledge"},
		{"a statement of two plants", with(`<urn:telltale:taxon/hortus-mortis> <urn:telltale:arrow/statement> <urn:telltale:taxon/hortus-dulcis/statement/000> .`),
			fmt.Sprintf("graph.nq:%d: taxon/hortus-dulcis/statement/000 has a place in the graph already", n)},
		{"a trait that does not exist", replacedIn(lines, "<urn:telltale:arrow/trait> <urn:telltale:trait/leaf.count> .", "<urn:telltale:arrow/trait> <urn:telltale:trait/leaf.cont> ."),
			`there is no trait "leaf.cont"`},
		{"a source that does not exist", without(lines, "source/poison-desk> <", "<urn:telltale:source/poison-desk> .\x00"), `there is no source "poison-desk"`},
		{"a severity of one's own", replacedIn(lines, `"deadly"`, `"awful"`), `"awful" is no severity`},
		{"a stage of one's own", replacedIn(lines, `arrow/stage> "rosette"`, `arrow/stage> "rosete"`), `"rosete" is no stage`},
		{"an id that is a path", without(replacedIn(lines, `arrow/taxon_id> "hortus-mortis"`, `arrow/taxon_id> "../../mortis"`), "arrow/lookalike>", "/lookalike/000>", "arrow/too_close>", "/too_close/000>"),
			`graph.nq, taxon/../../mortis: "../../mortis" is no id of a plant`},
		{"an id that is another node's", replacedIn(lines, `arrow/taxon_id> "hortus-mortis"`, `arrow/taxon_id> "hortus-novus"`), `there is no taxon "hortus-mortis"`},
		{"a category of one's own", replacedIn(lines, `arrow/category> "food"`, `arrow/category> "fodder"`), `graph.nq, taxon/hortus-dulcis: there is no category "fodder"`},
		{"no vocabulary", without(lines, "arrow/vocabulary>", "arrow/trait_def>"), "this graph holds no vocabulary"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in, err := ReadNQuads(context.Background(), "graph.nq", strings.NewReader(strings.Join(tt.lines, "\n")))
			if in != nil || err == nil {
				t.Fatalf("it was taken: %v", err)
			}
			if !strings.Contains(err.Error(), tt.want) || !strings.HasPrefix(err.Error(), "graph.nq") {
				t.Errorf("\ngot  %s\nwant %s", err, tt.want)
			}
		})
	}
}

func TestGraphThatIsTooLargeIsRefused(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"one line without an end", "<urn:a" + strings.Repeat("a", maxLine), "graph.nq:1: this line has more than the 1048576 bytes that are read of one"},
		{"lines without an end", strings.Repeat("no\n", 2*mostProblems), "graph.nq:1: this is no line of N-Quads"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if _, err := ReadNQuads(context.Background(), "graph.nq", strings.NewReader(tt.text)); err == nil || !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("got %v, want %s", err, tt.want)
			}
		})
	}
	t.Run("a reader of more bytes than are read", func(t *testing.T) {
		var b [8]byte
		l := &limited{r: strings.NewReader("0123456789"), left: 4}
		if n, err := l.Read(b[:]); n != 4 || err != nil {
			t.Fatal(n, err)
		}
		if _, err := l.Read(b[:]); err != errTooLarge {
			t.Error(err)
		}
	})
}

func TestReadingStopsWhenItIsToldTo(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := ReadNQuads(ctx, "graph.nq", strings.NewReader(strings.Join(written(t), "\n"))); err != context.Canceled {
		t.Errorf("got %v", err)
	}
}

// tiny is a knowledge small enough for a fuzzer to take to pieces.
func tiny() *graph.Knowledge {
	return graphtest.Knowledge(graphtest.States("leaf.edge", "smooth toothed"), graphtest.Plant("a-b", "leaf.edge usually smooth at rosette"))
}

func FuzzReadNQuads(f *testing.F) {
	var b bytes.Buffer
	if err := WriteNQuads(&b, tiny()); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add(b.Bytes()[b.Len()/2:])
	for _, s := range []string{"", "# none", "<a> <b> <c> .", `<urn:telltale:taxon/a> <urn:telltale:arrow/name> "\u00e9" .`, "<urn:telltale:%zz> <urn:telltale:arrow/name> _:b <g> ."} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		in, err := ReadNQuads(context.Background(), "graph.nq", bytes.NewReader(text))
		comesBack(t, in, err)
	})
}

// comesBack checks what any reader of a graph gave.
func comesBack(t *testing.T, in *Received, err error) {
	t.Helper()
	if err != nil {
		if in != nil {
			t.Fatal("something was loaded with an error")
		}
		return
	}
	back, err := ways["N-Quads"](context.Background(), in.Knowledge)
	if err != nil {
		t.Fatalf("what was read cannot be read again: %s", err)
	}
	if d := Difference(in.Knowledge, back); d != "" {
		t.Fatal(d)
	}
}
