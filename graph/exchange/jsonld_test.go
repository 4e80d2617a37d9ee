package exchange

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"
)

// TestContextSaysWhatTheGraphIsWrittenWith holds the published context to the types:
// every arrow has its short name and leads to what the program writes.
func TestContextSaysWhatTheGraphIsWrittenWith(t *testing.T) {
	all, err := arrows()
	if err != nil {
		t.Fatal(err)
	}
	types := map[leads]any{
		toInteger: "xsd:integer", toNumber: "xsd:double", toTruth: "xsd:boolean", toNode: "@id", toChild: "@id",
	}
	terms := map[string]any{
		"@version": 1.1, "telltale": Base, "@vocab": ArrowBase,
		"xsd": "http://www.w3.org/2001/XMLSchema#", "skos": skos,
	}
	for name, to := range all {
		term := map[string]any{"@id": ArrowBase + name}
		if typ, ok := types[to]; ok {
			term["@type"] = typ
		}
		terms[name] = term
	}
	for _, how := range []string{"exactMatch", "closeMatch", "broadMatch"} {
		terms[how] = map[string]any{"@id": skos + how, "@type": "@id"}
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(map[string]any{"@context": terms}); err != nil {
		t.Fatal(err)
	}
	golden(t, "context.jsonld", b.Bytes())
}

func jsonOf(t testing.TB) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteJSONLD(&b, made(t)); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestJSONLDFromElsewhereIsTakenAsItIs(t *testing.T) {
	text := jsonOf(t)
	_, nodes, _ := strings.Cut(text, "\"@graph\":")
	for _, tt := range []struct{ name, text string }{
		{"as it is written here", text},
		{"with the context named", `{"@context": "` + ContextIRI + `", "@graph":` + nodes},
		{"with a byte-order mark and the line ends of Windows", "\ufeff" + strings.ReplaceAll(text, "\n", "\r\n")},
		{"spread over lines", indented(t, text)},
		{"with whole IRIs", strings.ReplaceAll(text, `"telltale:`, `"`+Base)},
		{"with numbers as numbers", strings.ReplaceAll(text, `"cost": "4.5"`, `"cost": 4.5`)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in, err := ReadJSONLD(context.Background(), "graph.jsonld", strings.NewReader(tt.text))
			if err != nil {
				t.Fatal(err)
			}
			if d := Difference(made(t), in.Knowledge); d != "" {
				t.Error(d)
			}
		})
	}
}

func indented(t *testing.T, text string) string {
	t.Helper()
	var b bytes.Buffer
	if err := json.Indent(&b, []byte(text), "", "\t"); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestBrokenJSONLDIsRefused(t *testing.T) {
	text := jsonOf(t)
	with := func(old, replacement string) string {
		out := strings.Replace(text, old, replacement, 1)
		if out == text {
			t.Fatalf("%s does not stand in the graph", old)
		}
		return out
	}
	for _, tt := range []struct{ name, text, want string }{
		{"nothing", "", "graph.jsonld:1:1: this is no JSON: it ends early"},
		{"something that ends early", text[:len(text)/2], "this is no JSON: it ends early"},
		{"a comma too many", "{\n  \"a\": 1,\n}", "graph.jsonld:3:1: this is no JSON: invalid character '}'"},
		{"two documents", "{} {}", "this is no JSON: something stands behind its end"},
		{"JSON of another kind", `{"plants": []}`, "graph.jsonld: no arrow of Telltale stands in this graph"},
		{"a number", "12", "graph.jsonld: "},
		{"Latin-1", "{\"a\": \"caf\xe9\"}", "graph.jsonld:1:11: the byte 0xe9 is not UTF-8, perhaps Windows-1252 or Latin-1: save the file in UTF-8"},
		{"UTF-16", "\xff\xfe{\x00", "graph.jsonld: this is UTF-16: save the file in UTF-8"},
		{"a context from the web", `{"@context": "https://schema.example/", "name": "hort"}`, "nothing is fetched: write the context out, or name urn:telltale:context"},
		{"a misspelt arrow", with(`"author": "(L.) Made"`, `"authr": "(L.) Made"`), `graph.jsonld, taxon/hortus-dulcis: there is no arrow "authr"; the nearest is "author"`},
		{"a node without its base", with(`"@id": "telltale:taxon/hortus-dulcis"`, `"@id": "taxon/hortus-dulcis"`),
			`"taxon/hortus-dulcis" is no whole IRI: write telltale:taxon/hortus-dulcis with the published context, or urn:telltale:taxon/hortus-dulcis`},
		{"a text where a number belongs", with(`"year": 1998`, `"year": "late"`), `graph.jsonld, source/hill-flora: the arrow year leads to "late"`},
		{"a fraction where a whole number belongs", with(`"year": 1998`, `"year": 1998.5`), `graph.jsonld, source/hill-flora: the arrow year leads to "1.9985E3"`},
		{"a node without a name", with(`"use": "telltale:taxon/hortus-dulcis/use/000"`, `"use": {"does": "sweets"}`), "which has no name: expected an IRI that begins with urn:telltale:"},
		{"a source that does not exist", with(`"source": ["telltale:source/hill-flora","telltale:source/poison-desk"]`, `"source": "telltale:source/hil-flora"`), `there is no source "hil-flora"`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			in, err := ReadJSONLD(context.Background(), "graph.jsonld", strings.NewReader(tt.text))
			if in != nil || err == nil {
				t.Fatalf("it was taken: %v", err)
			}
			if !strings.Contains(err.Error(), tt.want) || !strings.HasPrefix(err.Error(), "graph.jsonld") {
				t.Errorf("\ngot  %s\nwant %s", err, tt.want)
			}
		})
	}
}

func FuzzReadJSONLD(f *testing.F) {
	var b bytes.Buffer
	if err := WriteJSONLD(&b, tiny()); err != nil {
		f.Fatal(err)
	}
	_, nodes, _ := strings.Cut(b.String(), "\"@graph\":")
	f.Add([]byte(`{"@context": "` + ContextIRI + `", "@graph":` + nodes))
	for _, s := range []string{
		"", "{}", "[]", `{"@context": "urn:telltale:context", "@id": "telltale:taxon/a", "name": "b", "source": {"@id": "_:c"}}`,
		`{"@context": {"@vocab": "urn:telltale:arrow/"}, "@id": "urn:telltale:knowledge", "knows_taxon": {"@list": [1, true, null]}}`,
		`{"@graph": [{"@graph": [{"@id": "urn:a", "@type": "b", "@reverse": {"c:d": {}}}]}]}`,
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		in, err := ReadJSONLD(context.Background(), "graph.jsonld", bytes.NewReader(text))
		comesBack(t, in, err)
	})
}
