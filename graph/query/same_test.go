package query_test

import (
	"strings"
	"testing"

	"telltale/graph/store"
)

// paths are queries that use each word of the language, and words together.
var paths = map[string]string{
	"from one node to others":           `g.V("<taxon/carrot>").out("<statement>").out("<trait>").all()`,
	"along several arrows at once":      `g.V("<taxon/carrot>").out(["<name>", "<family>"]).all()`,
	"along every arrow":                 `g.V("<taxon/carrot>").out().all()`,
	"against an arrow":                  `g.V("deadly").in("<severity>").in("<toxicity>").all()`,
	"against every arrow":               `g.V("<part/seed>").in().all()`,
	"both ways":                         `g.V("<taxon/carrot>").both("<family>").all()`,
	"the arrow itself as a tag":         `g.V("<taxon/carrot>").out(["<name>", "<family>"], "arrow").all()`,
	"from everywhere":                   `g.V().has("<is_a>", "taxon").all()`,
	"a value that is a text":            `g.V("taxon").in("<is_a>").has("<name>", "Carrot").all()`,
	"one of several values":             `g.V("taxon").in("<is_a>").has("<name>", "Carrot", "Daisy").all()`,
	"a truth":                           `g.V(true).in("<irritant>").all()`,
	"a number":                          `g.V(0).in("<order>").has("<is_a>", "taxon").all()`,
	"a value that no node has":          `g.V("taxon").in("<is_a>").has("<name>", "Parsnip").all()`,
	"a start that is not there":         `g.V("nowhere").out("<name>").all()`,
	"some value, whichever":             `g.V("taxon").in("<is_a>").has("<use>").all()`,
	"hasR":                              `g.V().hasR("<toxicity>", "<taxon/daisy>").all()`,
	"tags on the way":                   `g.V("taxon").in("<is_a>").tag("plant").out("<toxicity>").tag("harm").out("<severity>").all()`,
	"back to a tag":                     `g.V("taxon").in("<is_a>").tag("plant").out("<toxicity>").has("<severity>", "deadly").back("plant").out("<name>").all()`,
	"save":                              `g.V("taxon").in("<is_a>").save("<name>", "name").save("<family>", "family").all()`,
	"save what only some have":          `g.V("taxon").in("<is_a>").save("<use>", "use").all()`,
	"saveOpt":                           `g.V("taxon").in("<is_a>").saveOpt("<use>", "use").all()`,
	"saveR":                             `g.V("<family/Umbelbush>").saveR("<family>", "plant").all()`,
	"saveOptR":                          `g.V("<family/Umbelbush>", "<part/seed>").saveOptR("<family>", "plant").all()`,
	"intersect":                         `g.V("<family/Umbelbush>").in("<family>").intersect(g.V("deadly").in("<severity>").in("<toxicity>")).all()`,
	"intersect with nothing":            `g.V("<family/Daisyworts>").in("<family>").intersect(g.V("deadly").in("<severity>").in("<toxicity>")).all()`,
	"union":                             `g.V("<taxon/carrot>").out("<name>").union(g.V("<taxon/daisy>").out("<name>")).all()`,
	"except":                            `g.V("taxon").in("<is_a>").except(g.V("deadly").in("<severity>").in("<toxicity>")).all()`,
	"except what is not among them":     `g.V("<family/Daisyworts>").in("<family>").except(g.V("deadly").in("<severity>").in("<toxicity>")).all()`,
	"except all of them":                `g.V("deadly").in("<severity>").in("<toxicity>").except(g.V("taxon").in("<is_a>")).all()`,
	"except after has":                  `g.V("<taxon/dry-bane>").out("<statement>").has("<state>", "wetland").except(g.V("never").in("<frequency>")).all()`,
	"except after several has":          `g.V("<taxon/water-bane>").out("<statement>").has("<trait>", "<trait/plant.habitat>").has("<state>", "wetland", "streamside").except(g.V("never").in("<frequency>")).all()`,
	"unique":                            `g.V("taxon").in("<is_a>").out("<family>").unique().all()`,
	"unique with tags":                  `g.V("taxon").in("<is_a>").tag("plant").out("<family>").unique().all()`,
	"is":                                `g.V("taxon").in("<is_a>").is("<taxon/daisy>").all()`,
	"a filter of texts":                 `g.V("taxon").in("<is_a>").out("<name>").filter(regex("bane$")).all()`,
	"a filter by a pattern":             `g.V("taxon").in("<is_a>").out("<name>").filter(like("%ane")).all()`,
	"a filter by greater":               `g.V("trait").in("<is_a>").out("<error_rate>").filter(gte(0)).all()`,
	"has with a filter":                 `g.V("taxon").in("<is_a>").has("<name>", gt("D")).all()`,
	"a regex over names of nodes":       `g.V("taxon").in("<is_a>").filter(regex("^taxon/d", true)).all()`,
	"a morphism":                        `var names = g.M().out("<family>").in("<family>").out("<name>"); g.V("<taxon/carrot>").follow(names).all()`,
	"a morphism backwards":              `var kin = g.M().out("<toxicity>").out("<severity>"); g.V("deadly").followR(kin).all()`,
	"a chain of any length":             `g.V("<taxon/carrot>").followRecursive("<in_genus>").all()`,
	"a chain both ways":                 `var links = g.M().out("<lookalike>").out("<taken_for>"); g.V("<taxon/water-bane>").followRecursive(links).all()`,
	"arrows into a node":                `g.V("<part/seed>").inPredicates().all()`,
	"arrows out of a node":              `g.V("<taxon/daisy>").outPredicates().all()`,
	"how many":                          `g.emit(g.V("taxon").in("<is_a>").count())`,
	"how many by another way":           `g.emit(g.V("taxon").in("<is_a>").out("<family>").unique().count())`,
	"how many, of none":                 `g.emit(g.V("nowhere").out("<name>").count())`,
	"how many after except":             `g.emit(g.V("<taxon/dry-bane>").out("<statement>").has("<state>", "wetland").except(g.V("never").in("<frequency>")).count())`,
	"how many of several after except":  `g.emit(g.V("taxon").in("<is_a>").except(g.V("deadly").in("<severity>").in("<toxicity>")).count())`,
	"how many after has":                `g.emit(g.V("taxon").in("<is_a>").has("<name>", "Carrot", "Daisy").count())`,
	"how many after intersect":          `g.emit(g.V("<family/Umbelbush>").in("<family>").intersect(g.V("deadly").in("<severity>").in("<toxicity>")).count())`,
	"how many after save":               `g.emit(g.V("taxon").in("<is_a>").save("<use>", "use").count())`,
	"how many after union":              `g.emit(g.V("<taxon/carrot>").out("<name>").union(g.V("<taxon/daisy>").out("<name>")).count())`,
	"how many after a filter":           `g.emit(g.V("taxon").in("<is_a>").out("<name>").filter(regex("bane$")).count())`,
	"a list in JavaScript":              `g.V("taxon").in("<is_a>").toArray().sort().forEach(function (t) { g.emit(t) })`,
	"one value in JavaScript":           `g.emit(g.V("<taxon/carrot>").out("<name>").toValue())`,
	"no value in JavaScript":            `g.emit({none: g.V("nowhere").out("<name>").toValue(), one: 1})`,
	"tags in JavaScript":                `g.V("taxon").in("<is_a>").tag("t").out("<name>").tagArray().map(function (d) { return d.t + d.id }).sort().forEach(function (t) { g.emit(t) })`,
	"one row of tags in JavaScript":     `g.emit(g.V("<taxon/carrot>").tag("t").out("<name>").tagValue())`,
	"each":                              `g.V("<taxon/carrot>").out("<name>").forEach(function (d) { g.emit(d) })`,
	"a limit of one path with one node": `g.V("<taxon/carrot>").out("<name>").limit(3).all()`,
	"skip all":                          `g.V("taxon").in("<is_a>").skip(10).all()`,
	"several questions":                 `g.V("<taxon/carrot>").out("<name>").all(); g.V("<taxon/daisy>").out("<name>").all()`,
	"except, then on":                   `g.V("taxon").in("<is_a>").except(g.V("deadly").in("<severity>").in("<toxicity>")).out("<name>").all()`,
	"except, then has":                  `g.V("taxon").in("<is_a>").except(g.V("<taxon/carrot>")).has("<use>").all()`,
	"tag, except, tag":                  `g.V("taxon").in("<is_a>").tag("a").except(g.V("<taxon/carrot>")).out("<name>").tag("b").all()`,
	"two harms of one plant":            `g.V("taxon").in("<is_a>").tag("t").out("<statement>").has("<frequency>", "always").out("<state>").all()`,
	"has, has, back, has":               `g.V("taxon").in("<is_a>").tag("t").out("<statement>").has("<trait>", "<trait/plant.habitat>").has("<state>", "meadow").back("t").has("<use>").all()`,
	"labels":                            `g.V("<taxon/carrot>").labels().all()`,
}

// Memory is the reference: the others give what it gives.
func TestEveryStoreGivesTheSameAnswers(t *testing.T) {
	reference := inMemory(t, world())
	everyGraph(t, world(), func(t *testing.T, g *store.Graph) {
		for name, text := range paths {
			t.Run(name, func(t *testing.T) { sameLines(t, ask(t, g, text), ask(t, reference, text)) })
		}
	})
}

// What the reference gives is what was asked for.
func TestPathsLeadWhereTheyShould(t *testing.T) {
	for name, want := range map[string]string{
		"from one node to others":       "trait/inflorescence.type, trait/plant.habitat",
		"against an arrow":              "taxon/dry-bane, taxon/water-bane",
		"except":                        "taxon/carrot, taxon/daisy",
		"except after has":              "",
		"except after several has":      "taxon/water-bane/statement/000, taxon/water-bane/statement/001",
		"intersect":                     "taxon/dry-bane, taxon/water-bane",
		"intersect with nothing":        "",
		"one of several values":         "taxon/carrot, taxon/daisy",
		"a filter of texts":             "Dry bane, Water bane",
		"back to a tag":                 "Dry bane | taxon/dry-bane, Water bane | taxon/water-bane",
		"a chain both ways":             "taxon/carrot, taxon/dry-bane",
		"how many":                      "4",
		"how many, of none":             "0",
		"how many after except":         "0",
		"how many after has":            "2",
		"how many after intersect":      "2",
		"except what is not among them": "taxon/daisy",
		"except all of them":            "",
		"saveOpt":                       "taxon/carrot | taxon/carrot/use/000, taxon/carrot | taxon/carrot/use/001, taxon/daisy | taxon/daisy/use/000, taxon/dry-bane | , taxon/water-bane | ",
	} {
		t.Run(name, func(t *testing.T) {
			if got := strings.Join(ask(t, inMemory(t, world()), paths[name]), ", "); got != want {
				t.Errorf("%s\n\tgives %s\n\twant  %s", paths[name], got, want)
			}
		})
	}
}
