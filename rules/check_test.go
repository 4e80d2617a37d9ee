package rules

import (
	"fmt"
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/files"
)

// problemIn reads a rules file that holds one rule, whose expression is written
// with § before the place of what is wrong, and gives the whole error and that
// place.
func problemIn(t *testing.T, f *field, before, marked, after string) (string, string) {
	t.Helper()
	head := "rules:\n  - id: tried\n    then: note\n    from: memory\n" + before
	at, _, ok := strings.Cut(head+marked, "§")
	if !ok {
		t.Fatalf("no § in %s", marked)
	}
	line := strings.Count(at, "\n") + 1
	column := len([]rune(at[strings.LastIndex(at, "\n")+1:])) + 1
	return problemsOf(t, f, head+strings.Replace(marked, "§", "", 1)+after), fmt.Sprintf("rules/tried.yaml:%d:%d: ", line, column)
}

// problemsOf gives what is wrong with the rules of a file.
func problemsOf(t *testing.T, f *field, text string) string {
	t.Helper()
	list, err := files.ParseRules(f.k, "rules/tried.yaml", []byte(text))
	if err != nil {
		t.Fatalf("%s\n%s", text, err)
	}
	set := &Set{Env: f.env}
	for _, r := range list {
		set.Rules = append(set.Rules, &Rule{Rule: r, env: f.env})
	}
	if err := set.readyAll().Err(); err != nil {
		return err.Error()
	}
	return ""
}

func TestWhatIsWrongIsToldWithItsPlace(t *testing.T) {
	const (
		traits    = "(known: stem.surface, leaf.margin"
		questions = "(known: hoped_for, is_open, is_ruled_out)"
		surfaces  = "(known: hairless, bristly, woolly)"
		expected  = `expected comparisons, such as stage == "rosette", joined by && and ||`
	)
	tests := []struct{ shows, when, message string }{
		{"misspelt trait", `stage == "rosette" && §stem.surfase == "hairless"`, `there is no trait "stem.surfase"; the nearest is "stem.surface"`},
		{"misspelt trait on the right", `"hairless" == §stem.surfase`, `there is no trait "stem.surfase"; the nearest is "stem.surface"`},
		{"misspelt trait before in", `§leaf.margn in ["serrate"]`, `there is no trait "leaf.margn"; the nearest is "leaf.margin"`},
		{"misspelt circumstance", `§stge == "rosette"`, `there is no trait "stge"; the nearest is "stage"`},
		{"organ of another trait", `§leaf.surface.upper == "hairy"`, `there is no trait "leaf.surface.upper"`},
		{"everyday word for a trait", `§stem_surface == "hairless"`, `there is no trait "stem_surface"; the nearest is "stem.surface"`},
		{"misspelt state after ==", `stem.surface == §"hairles"`, `there is no state of stem.surface "hairles" ` + surfaces + `; the nearest is "hairless"`},
		{"misspelt state before ==", `§"hairles" == stem.surface`, `there is no state of stem.surface "hairles" ` + surfaces + `; the nearest is "hairless"`},
		{"misspelt state after !=", `stem.surface != §"hairles"`, `there is no state of stem.surface "hairles" ` + surfaces + `; the nearest is "hairless"`},
		{"misspelt state in a list", `stem.surface in ["bristly", §"hairles"]`, `there is no state of stem.surface "hairles" ` + surfaces + `; the nearest is "hairless"`},
		{"state of another trait", `stem.surface == §"serrate"`, `there is no state of stem.surface "serrate" ` + surfaces},
		{"state with a capital", `stem.surface == §"Hairless"`, `there is no state of stem.surface "Hairless" ` + surfaces + `; the nearest is "hairless"`},
		{"everyday word for one state", `stem.surface == §"bald"`, `there is no state of stem.surface "bald" ` + surfaces + `; the nearest is "hairless"`},
		{"everyday word for several states", `stem.surface == §"furry"`, `"furry" can be several states of stem.surface: write in ["bristly", "woolly"]`},
		{"state without quotes", `stem.surface == §hairless`, `hairless stands without quotes: write "hairless"`},
		{"state without quotes in a list", `stem.surface in ["woolly", §hairless]`, `hairless stands without quotes: write "hairless"`},
		{"trait in a list", `leaf.upper_surface in [§leaf.lower_surface]`, `a list holds values, and leaf.upper_surface is compared with a state of leaf.upper_surface in quotes, such as "hairless"`},
		{"misspelt in the branch of a conditional", `stage == "rosette" ? stem.surface == §"hairles" : true`, `there is no state of stem.surface "hairles" ` + surfaces + `; the nearest is "hairless"`},
		{"unknown stage", `stage == §"roset"`, `there is no stage "roset" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant); the nearest is "rosette"`},
		{"any is no stage", `stage == §"any"`, `there is no stage "any" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant)`},
		{"unknown part", `part in [§"roots"]`, `there is no part of a plant "roots"; the nearest is "root"`},
		{"no such month", `month == §13`, `month is compared with a month, 1 to 12, not with 13`},
		{"no such month of a trait", `season.flowering in [§0]`, `season.flowering is compared with a month, 1 to 12, not with 0`},

		{"number for a state", `stem.surface == §5`, `stem.surface is compared with a state of stem.surface in quotes, such as "hairless", not with 5`},
		{"state for a measure", `leaf.length > §"long"`, `leaf.length is compared with a length in cm, not with "long"`},
		{"state for a measure, the other way round", `§"long" < leaf.length`, `leaf.length is compared with a length in cm, not with "long"`},
		{"length below nothing", `leaf.length > §-5`, `leaf.length is compared with a length in cm, not with -5`},
		{"unit behind a number", `leaf.length > 5 §cm`, `unexpected "cm": ` + expected},
		{"half a petal", `flower.petals == §4.5`, `flower.petals is compared with a whole number, not with 4.5`},
		{"truth value for a state", `stem.surface == §true`, `stem.surface is compared with a state of stem.surface in quotes, such as "hairless", not with true`},
		{"nothing for a state", `stem.surface == §null`, `stem.surface is compared with a state of stem.surface in quotes, such as "hairless", not with null`},
		{"mixed list", `leaf.length in [5, §"long"]`, `leaf.length is compared with a length in cm, not with "long"`},
		{"state for a stage", `stem.surface == §stage`, `stem.surface and stage do not have the same states: write out which are meant`},
		{"measure with a state", `leaf.length == §stem.surface`, `leaf.length is compared with a length in cm, not with stem.surface, which takes a state of stem.surface in quotes, such as "hairless"`},
		{"measures in different units", `leaf.length > §seed.length`, `leaf.length is measured in cm and seed.length in mm: their numbers cannot be compared`},
		{"measure with a count", `leaf.length > §flower.petals`, `leaf.length is compared with a length in cm, not with flower.petals, which takes a whole number`},
		{"count with a month", `flower.petals > §month`, `flower.petals is compared with a whole number, not with month, which takes a month, 1 to 12`},
		{"trait with itself", `stem.surface == §stem.surface`, `stem.surface is compared with itself`},
		{"states have no order", `§stem.surface > "hairless"`, `stem.surface has no order that > could go by: list what is meant, with in ["…", "…"]`},
		{"stages have no order", `"flowering" > §stage`, `stage has no order that < could go by: list what is meant, with in ["…", "…"]`},
		{"traits have no order", `flower.ray < §flower.disc`, `flower.ray has no order that < could go by`},
		{"values only", `§"hairless" == "woolly"`, `"hairless" and "woolly" are both written out: compare a trait with one of them`},

		{"trait alone", `stage == "rosette" && §stem.surface`, `stem.surface alone neither holds nor fails: compare it with a state of stem.surface in quotes, such as "hairless"`},
		{"measure alone", `!§leaf.length`, `leaf.length alone neither holds nor fails: compare it with a length in cm`},
		{"number alone", `§5`, `5 alone neither holds nor fails: expected a comparison`},
		{"state alone", `§"hairless"`, `"hairless" alone neither holds nor fails: expected a comparison`},
		{"list alone", `§["hairless"]`, `expected a comparison: rules hold nothing but comparisons of readings and questions about plants`},
		{"map", `§{"hairless": true}`, `expected a comparison: rules hold nothing but comparisons of readings and questions about plants`},
		{"comparison compared", `(§stage == "rosette") == true`, `this cannot be compared by ==: expected a trait or a value; comparisons are joined by && and ||`},
		{"value picked by a conditional", `stem.surface == (§stage == "rosette" ? "hairles" : "woolly")`, `this cannot be compared by ==: expected a trait or a value; comparisons are joined by && and ||`},
		{"list without in", `stem.surface == §["hairless"]`, `a list cannot be compared by ==: write in ["…", "…"]`},
		{"in without list", `stem.surface in §"hairless"`, `in looks through a list: write in ["…", "…"]`},
		{"list before in", `§["hairless"] in ["hairless"]`, `expected a trait before in, and the values looked for behind it`},
		{"empty list", `stem.surface in §[]`, `the list holds nothing: nothing is ever in it`},
		{"list of lists", `stem.surface in [§["hairless"]]`, `a list holds values, and stem.surface is compared with a state of stem.surface in quotes, such as "hairless"`},

		{"unknown function", `§is_opn("hemlock")`, `there is no function "is_opn" ` + questions + `; the nearest is "is_open"`},
		{"macro has", `§has(stem.surface)`, `there is no function "has" ` + questions},
		{"macro all", `§["hairless"].all(x, x == stem.surface)`, `there is no function "all" ` + questions},
		{"function of strings", `§stem.surface.matches("(a+)+b")`, `there is no function "matches" ` + questions},
		{"function of lists", `§size(stem.surface) > 3`, `there is no function "size" ` + questions},
		{"conversion", `§string(leaf.length) == "5"`, `there is no function "string" ` + questions},
		{"sum", `§leaf.length + leaf.breadth > 9`, `+ cannot be used: rules compare readings and reckon nothing`},
		{"product", `leaf.length > §2 * leaf.breadth`, `* cannot be used: rules compare readings and reckon nothing`},
		{"minus before a trait", `§-leaf.length < 3`, `- cannot be used: rules compare readings and reckon nothing`},
		{"index", `§stem["surface"] == "hairless"`, `[ ] cannot be used: rules compare readings and reckon nothing`},
		{"unknown plant", `is_open(§"hemlok")`, `there is no plant "hemlok" (known: carrot, hemlock); the nearest is "hemlock"`},
		{"unknown plant hoped for", `hoped_for(§"carot")`, `there is no plant "carot" (known: carrot, hemlock); the nearest is "carrot"`},
		{"unknown plant ruled out", `!is_ruled_out(§"Hemlock ")`, `there is no plant "Hemlock " (known: carrot, hemlock); the nearest is "hemlock"`},
		{"plant that is no name", `§is_open(stem.surface)`, `is_open asks about one plant: give its id in quotes, such as is_open("carrot")`},
		{"no plant", `§is_open()`, `is_open asks about one plant: give its id in quotes, such as is_open("carrot")`},
		{"two plants", `§hoped_for("carrot", "hemlock")`, `hoped_for asks about one plant: give its id in quotes, such as hoped_for("carrot")`},
		{"question without its plant", `§is_open`, `there is no trait "is_open"`},

		{"= for ==", `stem.surface §= "hairless"`, `= compares nothing: write ==`},
		{"and for &&", `stage == "rosette" §and part == "root"`, `"and" joins nothing: write &&`},
		{"or for ||", `stage == "rosette" §or part == "root"`, `"or" joins nothing: write ||`},
		{"not for !", `stage == "rosette" && not §part == "root"`, `"not" turns nothing around: write !(…)`},
		{"& for &&", `stage == "rosette" §& part == "root"`, `"&" joins nothing: write &&`},
		{"| for ||", `stage == "rosette" §| part == "root"`, `"|" joins nothing: write ||`},
		{"quotes of books", `stage == §“rosette”`, `'“' is a quote of books: write "…"`},
		{"quote not closed", `stage == §"rosette`, `unexpected "rosette: a quote is not closed, or an operator such as == or && is missing before it`},
		{"operator missing", `stage §"rosette"`, `unexpected "rosette": a quote is not closed, or an operator such as == or && is missing before it`},
		{"bracket not closed", `(stage == "rosette"§`, `the expression breaks off: something is missing at its end`},
		{"bracket not opened", `stage == "rosette"§)`, `unexpected ")": ` + expected},
		{"value missing", `stage ==§`, `the expression breaks off: something is missing at its end`},
		{"comparison missing", `§&& stage == "rosette"`, `unexpected "&&": ` + expected},
		{"words", `leave §it in the wet`, `unexpected "it": ` + expected},
		{"number beyond all bounds", `leaf.length > §1e999`, `unexpected "1e999": ` + expected},
		{"name that CEL keeps for itself", `§@hoped_for == "carrot"`, `unexpected "@": ` + expected},
	}
	f := newField(t)
	for _, test := range tests {
		t.Run(test.shows, func(t *testing.T) {
			got, place := problemIn(t, f, "    when: |-\n      ", test.when, "\n")
			if want := place + "rule tried: " + test.message; got != want && !sameBut(got, want, traits) {
				t.Errorf("%s\n got %s\nwant %s", test.when, got, want)
			}
		})
	}
}

// sameBut tells whether two errors are the same but for a list that begins so.
func sameBut(got, want, list string) bool {
	i := strings.Index(got, " "+list)
	if i < 0 {
		return false
	}
	j := strings.Index(got[i:], ")")
	return j > 0 && got[:i]+got[i+j+1:] == want
}

func TestPlacesAreRightHoweverTheExpressionIsWritten(t *testing.T) {
	const message = `rule tried: there is no state of stem.surface "hairles" (known: hairless, bristly, woolly); the nearest is "hairless"`
	tests := []struct{ shows, before, marked, after string }{
		{"plain", `    when: `, `stem.surface == §"hairles"`, "\n"},
		{"plain, behind blanks", `    when:    `, `stem.surface == §"hairles"`, "\n"},
		{"plain, with a remark behind it", `    when: `, `stem.surface == §"hairles"`, "  # it has no hairs\n"},
		{"plain, on the next line", "    when:\n      ", `stem.surface == §"hairles"`, "\n"},
		{"plain, over several lines", `    when: `, "stage == \"rosette\" &&\n      part == \"root\" &&\n        stem.surface == §\"hairles\"", "\n"},
		{"in single quotes", `    when: '`, `stem.surface == §"hairles"`, "'\n"},
		{"in double quotes", `    when: "`, `stem.surface == §'hairles'`, "\"\n"},
		{"in double quotes with the quotes escaped", `    when: "`, `stem.surface == §\"hairles\"`, "\"\n"},
		{"in double quotes over several lines", `    when: "`, "stage == 'rosette' &&\n      stem.surface == §'hairles'", "\"\n"},
		{"block that keeps its lines", "    when: |\n      ", "stage == \"rosette\" &&\n        part == \"root\" &&\n      stem.surface == §\"hairles\"", "\n"},
		{"block whose first line stands further in", "    when: |2\n        ", "stage == \"rosette\" &&\n      stem.surface == §\"hairles\"", "\n"},
		{"block with a remark", "    when: | # stem.surface\n      ", "stage == \"rosette\" &&\n      stem.surface == §\"hairles\"", "\n"},
		{"block with a remark of CEL", "    when: |\n      ", "// in the first year\n      stage == \"rosette\" && // stem.surface\n      stem.surface == §\"hairles\"", "\n"},
		{"block that begins with an empty line", "    when: |\n\n      ", "stage == \"rosette\" &&\n\n      stem.surface == §\"hairles\"", "\n"},
		{"block whose lines are joined", "    when: >-\n      ", "stage == \"rosette\" &&\n      part == \"root\" &&\n      stem.surface == §\"hairles\"", "\n"},
		{"the same words stand above", "    because: stem.surface == \"hairles\"\n    when: ", `stem.surface == §"hairles"`, "\n"},
	}
	f := newField(t)
	for _, test := range tests {
		t.Run(test.shows, func(t *testing.T) {
			got, place := problemIn(t, f, test.before, test.marked, test.after)
			if want := place + message; got != want {
				t.Errorf("%s%s\n got %s\nwant %s", test.before, test.marked, got, want)
			}
		})
	}
}

func TestAllProblemsOfAllRulesAreToldAtOnce(t *testing.T) {
	f := newField(t)
	got := problemsOf(t, f, `rules:
  - {id: b, then: leave, from: memory, when: stem.surface == "hairles" || stage == "roset"}
  - {id: right, then: leave, from: memory, when: stem.surface == "hairless"}
  - {id: a, because: ĉe, then: note, from: memory, when: leaf.lenght > 5}
  - id: c
    then: note
    from: memory
    when: stage =
`)
	want := `rules/tried.yaml:2:62: rule b: there is no state of stem.surface "hairles" (known: hairless, bristly, woolly); the nearest is "hairless"
rules/tried.yaml:2:84: rule b: there is no stage "roset" (known: seedling, rosette, leafy_shoot, flowering, fruiting, dormant); the nearest is "rosette"
rules/tried.yaml:4:58: rule a: there is no trait "leaf.lenght"; the nearest is "leaf.length"
rules/tried.yaml:8:17: rule c: = compares nothing: write ==`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}

	k := meadow()
	for _, when := range []string{`stem.surface == "hairles"`, `leaf.lenght > 5`} {
		k.Rules = append(k.Rules, &graph.Rule{ID: when, Then: graph.Leave, When: when})
	}
	if set, err := NewSet(k); set != nil || err == nil || strings.Count(err.Error(), "\n") != 1 {
		t.Errorf("a set of two wrong rules gives %v and\n%v", set, err)
	}
}

func TestARuleWithoutExpressionIsToldAtItsID(t *testing.T) {
	f := newField(t)
	at := graph.Place{File: "rules/tried.yaml", Line: 7, Column: 9}
	for _, when := range []string{"", " \n\t"} {
		_, err := f.env.Compile(&graph.Rule{ID: "tried", Place: at, When: when})
		if want := "rules/tried.yaml:7:9: rule tried has no expression"; err == nil || err.Error() != want {
			t.Errorf("%q: got %v, want %s", when, err, want)
		}
	}
	_, err := f.env.Compile(&graph.Rule{ID: "tried", When: "stage == \"\xff\""})
	if err == nil || !strings.Contains(err.Error(), "not UTF-8") {
		t.Errorf("got %v", err)
	}
}
