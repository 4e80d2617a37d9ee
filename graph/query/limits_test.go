package query_test

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"telltale/graph/query"
)

// wrong runs a query that cannot be answered, and gives what is said of it.
func wrong(t *testing.T, q query.Query, l query.Limits) string {
	t.Helper()
	a, err := query.Run(context.Background(), quadsOf(t, inMemory(t, world())), q, l)
	if err == nil {
		t.Fatalf("%s: it was answered: %v", q.Text, a.Rows)
	}
	return err.Error()
}

func gizmo(text string) query.Query {
	return query.Query{Language: query.Gizmo, Name: "query", Text: text}
}

// Each of these would run for ever, or until the memory is full.
func TestAQueryThatDoesNotEndIsStopped(t *testing.T) {
	for name, row := range map[string]struct{ text, want string }{
		"a loop":                   {`while (true) {}`, "stopped after 200ms, which is all the time it has (--timeout)"},
		"a loop that catches":      {`while (true) { try { while (true) {} } catch (e) {} }`, "stopped after 200ms"},
		"a loop of questions":      {`while (true) { g.V().out().toArray() }`, "stopped after 200ms"},
		"a loop within a question": {`g.V().forEach(function () { while (true) {} })`, "stopped after 200ms"},
		"all paths of everything":  {`g.V().both().both().both().both().both().both().both().both().count()`, "stopped after 200ms"},
		"a regular expression":     {`/^(a+)+$(?=b)/.test("aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa!")`, "stopped after 200ms"},
	} {
		t.Run(name, func(t *testing.T) {
			if said := wrong(t, gizmo(row.text), query.Limits{Time: 200 * time.Millisecond}); !strings.Contains(said, row.want) {
				t.Errorf("it is said %q, want %q", said, row.want)
			}
		})
	}
}

func TestAQueryThatFillsTheMemoryIsStopped(t *testing.T) {
	said := wrong(t, gizmo(`var all = []; while (true) all.push("hemlock ".repeat(1000))`), query.Limits{Memory: 64 << 20, Time: time.Minute})
	if !strings.Contains(said, "more than 64 MB of memory") {
		t.Errorf("it is said %q", said)
	}
}

func TestNoMoreRowsComeThanWereAskedFor(t *testing.T) {
	for name, text := range map[string]string{
		"paths":                  `g.V().all()`,
		"rows handed over":       `for (var i = 0; i < 50; i++) g.emit(i)`,
		"for ever":               `while (true) g.emit(1)`,
		"a limit of its own":     `g.V().getLimit(1000)`,
		"several questions":      `g.V("taxon").in("<is_a>").all(); g.V("taxon").in("<is_a>").all(); g.V().all()`,
		"from within a question": `g.V().forEach(function (d) { g.emit(d) })`,
	} {
		t.Run(name, func(t *testing.T) {
			a, err := query.Run(context.Background(), quadsOf(t, inMemory(t, world())), gizmo(text), query.Limits{Rows: 7})
			if err != nil {
				t.Fatal(err)
			}
			if len(a.Rows) != 7 || !a.More {
				t.Errorf("%d rows came (more: %v), want 7 and word that there are more", len(a.Rows), a.More)
			}
		})
	}
}

func TestAllRowsComeWhereThereAreNoMore(t *testing.T) {
	quads := quadsOf(t, inMemory(t, world()))
	for _, limit := range []int{4, 5, -1} {
		a, err := query.Run(context.Background(), quads, gizmo(`g.V("taxon").in("<is_a>").all()`), query.Limits{Rows: limit})
		if err != nil || len(a.Rows) != 4 || a.More {
			t.Errorf("limit %d: %v, %v, want four rows and no more", limit, a, err)
		}
	}
}

func TestWhoeverGivesUpIsNotAnswered(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	time.AfterFunc(50*time.Millisecond, stop)
	_, err := query.Run(ctx, quadsOf(t, inMemory(t, world())), gizmo(`while (true) {}`), query.Limits{})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("it is said %v", err)
	}
}

func TestWhatIsWrongWithAQueryIsSaidWhereItStands(t *testing.T) {
	for _, row := range []struct{ name, text, want string }{
		{"no JavaScript", "g.V(", "query:1:5: Unexpected end of input"},
		{"no JavaScript on a later line", "g.V().all()\nvar = 3", "query:2:5: Unexpected token ="},
		{"an unknown word of paths", `g.V().hass("<is_a>", "taxon").all()`, `query:1:11: there is no "hass" in the language of queries; the nearest is "has"`},
		{"an unknown name", "\nq.V().all()", `query:2:1: there is no "q" in the language of queries; the nearest is "g"`},
		{"a misspelt arrow", `g.V("deadly").in("<severitty>").all()`, `query:1:20: there is no arrow "severitty"; the nearest is "severity"`},
		{"a misspelt plant", "g.V('<taxon/carott>').all()", `query:1:7: there is no taxon "taxon/carott" (known: taxon/carrot, taxon/daisy, taxon/dry-bane, taxon/water-bane); the nearest is "taxon/carrot"`},
		{"a misspelt part", `g.V("<part/rot>").all()`, `query:1:7: there is no part "part/rot"; the nearest is "part/root"`},
		{"a path that nobody walks", `g.V("taxon").in("<is_a>")`, "it ends with a path that nobody walks: write .all() after it"},
		{"an error thrown", "\n\n  throw new Error('no carrots')", "query:3:9: Error: no carrots"},
		{"an arrow that is no arrow", `g.V().out({}).all()`, "this cannot be asked"},
		{"a function that calls itself", `function f() { f() } f()`, "query: its functions call each other too deep"},
		{"an object that contains itself", "var a = {}; a.a = a\ng.emit(a)", "query:2:7: this cannot be a row (unsupported value: encountered a cycle"},
		{"a function handed over", "g.emit({f: function () {}})", "query:1:7: this cannot be a row (unsupported type: func"},
		{"no query at all", ``, "it asks nothing"},
		{"only blanks", "  \n ", "it asks nothing"},
	} {
		t.Run(row.name, func(t *testing.T) {
			if said := wrong(t, gizmo(row.text), query.Limits{}); !strings.Contains(said, row.want) {
				t.Errorf("it is said %q, want %q", said, row.want)
			}
		})
	}
}

func TestWhatIsWrongWithATreeOrPatternIsSaid(t *testing.T) {
	for _, row := range []struct{ name, language, text, want string }{
		{"no GraphQL", query.GraphQL, "{ nodes(", "query"},
		{"writing in GraphQL", query.GraphQL, `mutation { nodes { id } }`, "unsupported operation: mutation"},
		{"a misspelt arrow in a tree", query.GraphQL, "{\n  nodes(id: \"<taxon/carrot>\") { toxicity { severitty } }\n}", `query:2:44: there is no arrow "severitty"; the nearest is "severity"`},
		{"a misspelt arrow to look for", query.GraphQL, `{ nodes(famly: "<family/Umbelbush>") { name } }`, `the nearest is "family"`},
		{"a misspelt plant in a tree", query.GraphQL, `{ nodes(id: "<taxon/carott>") { name } }`, `the nearest is "taxon/carrot"`},
		{"no JSON", query.MQL, "[{", "query"},
		{"a misspelt arrow in a pattern", query.MQL, `[{"<famly>": null}]`, `query:1:5: there is no arrow "famly"; the nearest is "family"`},
		{"another language", "sql", "SELECT 1", `there is no query language "sql" (known: gizmo, graphql, mql)`},
		{"too long", query.Gizmo, strings.Repeat("//", 40_000), "is too long"},
	} {
		t.Run(row.name, func(t *testing.T) {
			q := query.Query{Language: row.language, Name: "query", Text: row.text}
			if said := wrong(t, q, query.Limits{}); !strings.Contains(said, row.want) {
				t.Errorf("it is said %q, want %q", said, row.want)
			}
		})
	}
}

// No query ends the program, whatever stands in it.
func FuzzAQueryIsAnsweredOrRefused(f *testing.F) {
	for _, text := range paths {
		f.Add(query.Gizmo, text)
	}
	for _, e := range query.Examples() {
		f.Add(e.Language, e.Text)
	}
	for _, text := range []string{
		`g.M().all()`, `g.V().out({}).all()`, `g.V().out("<a>", 5).all()`, `iri({})`, `g.V().has(null).all()`, `g.V().back("x").all()`, `g.V().follow(null).all()`,
		`g.V().followRecursive(g.M()).all()`, `g.V().labelContext({}).all()`, `g.V().filter(1).all()`, `g.V().limit(-1).skip(-1).all()`, `g.V(regex("["))`, `throw null`,
		`g.emit(g)`, `g.emit(function () {})`, `var a = {}; a.a = a; g.emit(a)`, `g.emit([[[1]]])`, `g.emit(NaN)`, `g.emit(new Date(0))`, `g.emit(Symbol("x"))`,
	} {
		f.Add(query.Gizmo, text)
	}
	f.Add(query.GraphQL, `{ nodes(first: 2) { * } }`)
	f.Add(query.GraphQL, `{ a: nodes(id: <taxon/carrot>) { id, family { id } } b: nodes(first: 1) { id } }`)
	f.Add(query.MQL, `[{"id": null, "<is_a>": "taxon", "!<name>": []}]`)
	f.Add(query.MQL, `{"id": [{}]}`)
	g := inMemory(f, world())
	f.Fuzz(func(t *testing.T, language, text string) {
		a, err := query.Run(context.Background(), quadsOf(t, g), query.Query{Language: language, Name: "query", Text: text}, query.Limits{Time: 100 * time.Millisecond, Rows: 20, Memory: 256 << 20})
		if err == nil {
			for _, line := range lines(a) {
				_ = line
			}
		}
	})
}
