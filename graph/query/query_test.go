package query_test

import (
	"testing"

	"telltale/graph/query"
	"telltale/graph/store"
)

func TestTheExamplesAnswerWhatTheySay(t *testing.T) {
	everyGraph(t, world(), func(t *testing.T, g *store.Graph) {
		for name, want := range map[string][]string{
			"deadly-umbels-of-wet-places": {
				"taxon/water-bane | water bane | streamside; wetland | source/memory",
			},
			"use-and-harm-of-one-part": {
				"taxon/carrot | part/seed | medicine | wind | mild | ingestion | hiccups | source/memory | source/memory",
				"taxon/daisy | part/leaf | food | salad | irritant | skin | a rash | source/memory | source/memory",
			},
			"relatives-of-poisons": {
				"taxon/carrot | family/Umbelbush | mild | taxon/dry-bane; taxon/water-bane",
				"taxon/dry-bane | family/Umbelbush | deadly | taxon/water-bane",
				"taxon/water-bane | family/Umbelbush | deadly | taxon/dry-bane",
			},
			"taken-for-a-poison": {
				"taxon/carrot | taxon/dry-bane | memory |  | source/memory",
				"taxon/carrot | taxon/water-bane | memory | leafy_shoot; rosette | source/memory",
			},
		} {
			t.Run(name, func(t *testing.T) {
				e, err := query.ExampleNamed(name)
				if err != nil {
					t.Fatal(err)
				}
				sameLines(t, askIn(t, g, e.Query), want)
			})
		}
	})
}

func TestTreesAndPatternsAnswer(t *testing.T) {
	everyGraph(t, world(), func(t *testing.T, g *store.Graph) {
		for _, row := range []struct {
			name, language, text string
			want                 []string
		}{
			{"a tree", query.GraphQL, `{ nodes(id: "<taxon/carrot>") { name family toxicity { severity part } } }`,
				[]string{`Carrot | family/Umbelbush | {"part":"part/seed","severity":"mild"}`}},
			{"a tree for each", query.GraphQL, `{ nodes(is_a: "taxon") { name severity: in_genus { in_family } } }`, []string{
				`Carrot | {"in_family":"family/Umbelbush"}`, `Daisy | {"in_family":"family/Daisyworts"}`,
				`Dry bane | {"in_family":"family/Umbelbush"}`, `Water bane | {"in_family":"family/Umbelbush"}`}},
			{"backwards, and what may be missing", query.GraphQL, `{ nodes(id: "<family/Daisyworts>") { plant: ~family { name, synonym @opt } } }`,
				[]string{`{"name":"Daisy"}`}},
			{"two trees", query.GraphQL, `{ a: nodes(id: "<taxon/carrot>") { name } b: nodes(id: "<taxon/daisy>") { name } }`, []string{"a | Carrot", "b | Daisy"}},
			{"none", query.GraphQL, `{ nodes(id: "<part/seed>") { name } }`, nil},
			{"all arrows", query.GraphQL, `{ nodes(id: "<genus/Daisy>") { * } }`, []string{"genus/Daisy | family/Daisyworts | genus"}},
			{"a pattern", query.MQL, `[{"<is_a>": "taxon", "<family>": "<family/Umbelbush>", "<name>": null}]`, []string{
				"taxon | family/Umbelbush | Carrot", "taxon | family/Umbelbush | Dry bane", "taxon | family/Umbelbush | Water bane"}},
			{"a pattern that nothing fits", query.MQL, `[{"<is_a>": "taxon", "<family>": "<part/seed>", "<name>": null}]`, nil},
		} {
			t.Run(row.name, func(t *testing.T) {
				sameLines(t, askIn(t, g, query.Query{Language: row.language, Name: "query", Text: row.text}), row.want)
			})
		}
	})
}

// What a query hands over keeps its order; paths have none of their own.
func TestRowsStandInAnOrder(t *testing.T) {
	g := inMemory(t, world())
	sameLines(t, ask(t, g, `["c", "a", "b"].forEach(function (x) { g.emit(x) })`), []string{"c", "a", "b"})
	sameLines(t, ask(t, g, `g.V("<taxon/daisy>", "<taxon/carrot>").out("<name>").all()`), []string{"Carrot", "Daisy"})
	sameLines(t, ask(t, g, `g.V(10, 9, 2).is(10, 9, 2).all()`), []string{"2"}) // only 2 is in the graph
}

// A script that hands over no rows answers with what it ends with.
func TestWhatAScriptEndsWithIsAnAnswer(t *testing.T) {
	g := inMemory(t, world())
	for text, want := range map[string][]string{
		`g.V("taxon").in("<is_a>").count()`:                     {"4"},
		`g.V("<taxon/carrot>").out("<name>").toValue()`:         {"Carrot"},
		`g.V("taxon").in("<is_a>").toArray().sort().slice(0,2)`: {"taxon/carrot", "taxon/daisy"},
		`g.emit(1); 2`:         {"1"},
		`g.V("nowhere").all()`: nil,
		`var n = 3`:            nil,
		`(function () {})`:     nil,
	} {
		sameLines(t, ask(t, g, text), want)
	}
}

func TestValuesAreWrittenPlainly(t *testing.T) {
	g := inMemory(t, world())
	for text, want := range map[string]string{
		`g.emit("<taxon/carrot>")`:                         "taxon/carrot",
		`g.emit("a < b > c")`:                              "a < b > c",
		`g.emit(["<part/root>", "<part/leaf>"])`:           "part/root; part/leaf",
		`g.emit({of: {deep: [1, 2.5]}})`:                   `{"deep":[1,2.5]}`,
		`g.emit(true)`:                                     "true",
		`g.emit(1 / 3)`:                                    "0.3333333333333333",
		`g.emit([])`:                                       "",
		`g.emit({a: null, b: "<source/memory>"})`:          " | source/memory",
		`g.V(true).in("<irritant>").out("<effect>").all()`: "a rash",
	} {
		sameLines(t, ask(t, g, text), []string{want})
	}
}
