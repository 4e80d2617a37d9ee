package rules

import (
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/cel-go/cel"
	"pgregory.net/rapid"

	"telltale/graph"
)

// chain joins so many comparisons by a sign. Each is of a trait that holds and
// fails now and then, so that none is skipped for sure.
func chain(n int, sign string) string {
	return strings.Join(slices.Repeat([]string{`part=="x"`}, n), sign)
}

func TestAHostileRuleEndsInAnError(t *testing.T) {
	many := func(s string, n int) string { return strings.Repeat(s, n) }
	tests := []struct{ shows, when, message string }{
		{"huge", many(`stage == "rosette" && `, 1<<20) + "true", "more than the 8192 a rule may have"},
		{"huge, of letters of several bytes", `stage == "` + many("ĉ", 1<<20) + `"`, "more than the 8192 a rule may have"},
		{"huge and blank", many(" ", 1<<20) + "true", "more than the 8192 a rule may have"},
		{"brackets nested deeply", many("(", 3000) + "true" + many(")", 3000), "nested more than 64 deep"},
		{"brackets opened and left", many("(", 8000), "nested more than 64 deep"},
		{"brackets closed and never opened", "true" + many(")", 8000), `unexpected ")"`},
		{"lists nested deeply", "stage in " + many("[", 4000) + many("]", 4000), "nested more than 64 deep"},
		{"maps nested deeply", many("{true:", 1000) + "1" + many("}", 1000), "nested more than 64 deep"},
		{"conditionals nested deeply", many("true ? true : ", 500) + "true", "nested more than 64 deep"},
		{"minus upon minus", many("-(", 2000) + "1" + many(")", 2000), "nested more than 64 deep"},
		{"calls nested deeply", many("is_open(", 900) + many(")", 900), "nested more than 64 deep"},
		{"a long chain of comparisons", chain(680, "||"), `there is no part of a plant "x"`},
		{"a long chain of comparisons without fault", strings.ReplaceAll(chain(600, "||"), "x", "oil"), "more than the 1000 a rule may take"},
		{"a long chain of &&", strings.ReplaceAll(chain(600, "&&"), "x", "oil"), "more than the 1000 a rule may take"},
		{"a long list", "month in [" + many("1,", 3000) + "1]", "more than the 1000 a rule may take"},
		{"comparisons of comparisons", many("month in ", 800) + "[1]", "nested more than 64 deep"},
		{"fields of fields", many("a.", 4000) + "a", "nested more than 64 deep"},
		{"comparisons of a few comparisons", many("month in ", 60) + "[1]", "cannot be compared by in"},
		{"fields of a few fields", many("a.", 60) + "a", "there is no trait"},
		{"a list in a list in a list", "[[[1,2],[3]],[]].all(x, x.all(y, y.all(z, z > 0)))", `there is no function "all"`},
		{"a loop over a loop", "[1,2,3].exists(x, [1,2,3].exists(y, x == y))", `there is no function "exists"`},
		{"a list blown up", "([1,2,3] + [1,2,3]) == [1]", "+ cannot be used"},
		{"a string built up", `stage + stage + stage == "rosette"`, "+ cannot be used"},
		{"a regular expression that backtracks", `stage.matches("(((a+)+)+)+b")`, `there is no function "matches"`},
		{"a regular expression of great size", `matches(stage, "(x{999}){999}")`, `there is no function "matches"`},
		{"many problems", many("a==b||", 1300) + "true", "and 2580 more"},
		{"traits compared over and over", tangled(), "too many traits are compared several times over"},
		{"nothing but signs", many("!", 8000), "breaks off"},
		{"zero bytes", "stage == \"\x00\"", "there is no stage"},
	}
	f := newField(t)
	for _, test := range tests {
		t.Run(test.shows, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, err := f.env.Compile(&graph.Rule{ID: "hostile", Then: graph.Leave, When: test.when})
			runtime.ReadMemStats(&after)
			if err == nil || !strings.Contains(err.Error(), test.message) {
				t.Errorf("want an error with %q, got %.300v", test.message, err)
			}
			if used := after.TotalAlloc - before.TotalAlloc; used > mostMemory {
				t.Errorf("it took %d bytes of memory", used)
			}
		})
	}
}

// mostMemory is what the reading of the worst of 8192 characters may take in all,
// freed or not, in bytes: some thousand times their size (measured: a tenth of it).
const mostMemory = 64 << 20

// tangled compares six traits with all their states several times over.
func tangled() string {
	var parts []string
	for _, name := range sortedNames(drawnStates) {
		for _, s := range drawnStates[name] {
			parts = append(parts, fmt.Sprintf("%s == %q", name, s))
		}
	}
	for _, name := range []string{"leaf.length", "leaf.breadth", "flower.petals"} {
		parts = append(parts, fmt.Sprintf("%s > 2 && %s < 5 && %s != 4", name, name, name))
	}
	return strings.Join(parts, " || ")
}

// What a rule costs on any plant is no more than was reckoned before, so that a
// rule that is let through needs no watching.
func TestNoRuleCostsMoreThanWasReckoned(t *testing.T) {
	f := newField(t)
	rapid.Check(t, func(t *rapid.T) {
		x, r := drawRule(t, f.env, graph.Leave, rapid.IntRange(0, 4).Draw(t, "depth"))
		most, err := f.env.cost(r.ast)
		if err != nil {
			t.Fatal(err)
		}
		program, err := f.env.cel.Program(r.ast, cel.EvalOptions(cel.OptPartialEval, cel.OptTrackCost))
		if err != nil {
			t.Fatal(err)
		}
		s := newSituation(r, drawSeen(t, f.k, 1).facts(f.k))
		_, details, err := program.Eval(s)
		if err != nil {
			t.Fatal(err)
		}
		if got := *details.ActualCost(); got > most {
			t.Fatalf("%s took %d steps, and %d were reckoned", x.text, got, most)
		}
	})
}

// However often traits are read, no more ways are tried than a rule may have, and
// one that would have more waits.
func TestReadingATraitOverAndOverStallsNothing(t *testing.T) {
	f := newField(t)
	r := f.rule(graph.Leave, `leaf.length > leaf.breadth || leaf.length <= leaf.breadth`)
	var readings []string
	for i := range 200 {
		readings = append(readings, fmt.Sprintf("leaf.length=%d-%dcm leaf.breadth=%d-%dcm", i, i+1, i, i+2))
	}
	if got := f.try(r, strings.Join(readings, " ")); got.Outcome != graph.Waits || !slices.Equal(got.WaitsFor, []string{"leaf.breadth", "leaf.length"}) {
		t.Errorf("it %s for %v", got.Outcome, got.WaitsFor)
	}
}

func FuzzRule(f *testing.F) {
	for _, when := range []string{
		"", "true", `stage == "rosette"`, `stem.surface in ["hairless", "woolly"] && !(leaf.length > 5)`, `is_open("hemlock") ? month < 5 : hoped_for("carrot")`,
		`leaf.length >= leaf.breadth || flower.petals != 5u`, "stage ==\n \"roset", `@ruled_out:hemlock`, `"\xff" == stage`, `{1:[.a.b[0]]}.c(d)`, "// no\n", `month == 0x5`, `a?b:c?d:e`, `5 .surface`,
	} {
		f.Add(when, "stem.surface=hairless|woolly leaf.length=3-7cm", true)
	}
	k := meadow()
	env, err := NewEnv(k)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, when, seen string, bears bool) {
		then := map[bool]string{true: graph.Leave, false: graph.Note}[bears]
		r, err := env.Compile(&graph.Rule{ID: "fuzzed", Then: then, When: when})
		if err != nil {
			return
		}
		var obs graph.Observation
		for _, text := range strings.Fields(seen) {
			if reading, err := graph.ParseReading(k.Vocabulary, text); err == nil {
				obs.Readings = append(obs.Readings, reading)
			}
		}
		got, err := r.Try(NewFacts(k.Vocabulary, &obs, "", nil))
		if err != nil {
			t.Fatalf("%q of %v: %s", when, obs, err)
		}
		if got.Outcome != graph.Waits {
			return
		}
		if _, err := env.Compile(&graph.Rule{ID: "left", Then: then, When: got.Residual}); err != nil || len(got.WaitsFor) == 0 {
			t.Fatalf("%q of %v leaves %q, which waits for %v: %v", when, obs, got.Residual, got.WaitsFor, err)
		}
	})
}
