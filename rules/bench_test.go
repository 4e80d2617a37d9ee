package rules

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/cel-go/cel"

	"telltale/graph"
	"telltale/graph/graphtest"
)

const benched = `stage == "rosette" && stem.surface in ["hairless", "woolly"] && leaf.length > 5.0 && leaf.margin == "serrate"`

// BenchmarkTry puts one rule to partial observations, beside cel-go alone on the
// same expression: its evaluation of variables some of which are unknown, and
// where the rule waits its own way to the residual. The ratio is Try's time to
// that of cel-go.
func BenchmarkTry(b *testing.B) {
	for _, bench := range []struct {
		name  string
		known map[string]any
		seen  []string
		waits bool
	}{
		{"quiet", map[string]any{"stage": "rosette", "stem.surface": "bristly"}, []string{"stem.surface=bristly"}, false},
		{"waits", map[string]any{"stage": "rosette", "stem.surface": "hairless"}, []string{"stem.surface=hairless"}, true},
	} {
		b.Run(bench.name, func(b *testing.B) {
			k := meadow()
			env, err := NewEnv(k)
			if err != nil {
				b.Fatal(err)
			}
			r, err := env.Compile(&graph.Rule{ID: "benched", Then: graph.Leave, When: benched})
			if err != nil {
				b.Fatal(err)
			}
			obs := graphtest.Seen(k, "rosette", bench.seen...)
			facts := NewFacts(k.Vocabulary, &obs, "", nil)
			bare := bareCEL(b, bench.known, bench.waits)
			b.ReportAllocs()
			var ours, theirs time.Duration
			for b.Loop() {
				start := time.Now()
				got, err := r.Try(facts)
				between := time.Now()
				if err != nil || (got.Outcome == graph.Waits) != bench.waits {
					b.Fatal(got.Outcome, err)
				}
				bare()
				ours, theirs = ours+between.Sub(start), theirs+time.Since(between)
			}
			b.ReportMetric(float64(ours)/float64(theirs), "ratio")
		})
	}
}

// bareCEL gives the evaluation of the benched expression by cel-go alone, as its
// documentation has it.
func bareCEL(b *testing.B, known map[string]any, waits bool) func() {
	env, err := cel.NewEnv(
		cel.Variable("stage", cel.StringType), cel.Variable("stem.surface", cel.StringType),
		cel.Variable("leaf.length", cel.DoubleType), cel.Variable("leaf.margin", cel.StringType),
	)
	if err != nil {
		b.Fatal(err)
	}
	checked, issues := env.Compile(benched)
	if issues.Err() != nil {
		b.Fatal(issues.Err())
	}
	option := cel.OptPartialEval
	if waits {
		option |= cel.OptTrackState
	}
	program, err := env.Program(checked, cel.EvalOptions(option))
	if err != nil {
		b.Fatal(err)
	}
	return func() {
		vars, err := cel.PartialVars(known, cel.AttributePattern("leaf.length"), cel.AttributePattern("leaf.margin"))
		if err != nil {
			b.Fatal(err)
		}
		_, details, err := program.Eval(vars)
		if err != nil {
			b.Fatal(err)
		}
		if !waits {
			return
		}
		left, err := env.ResidualAst(checked, details)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := cel.AstToString(left); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTenThousandRules puts ten thousand rules to one partial observation.
func BenchmarkTenThousandRules(b *testing.B) {
	k := meadow()
	env, err := NewEnv(k)
	if err != nil {
		b.Fatal(err)
	}
	surfaces, margins := drawnStates["stem.surface"], drawnStates["leaf.margin"]
	var list []*Rule
	for i := range 10_000 {
		when := fmt.Sprintf(`stage == %q && stem.surface == %q && (leaf.length > %d || leaf.margin == %q)`,
			graph.StageNames()[i%6], surfaces[i%3], i%20, margins[i%4])
		r, err := env.Compile(&graph.Rule{ID: fmt.Sprint(i), Then: graph.Leave, When: when})
		if err != nil {
			b.Fatal(err)
		}
		list = append(list, r)
	}
	obs := graphtest.Seen(k, "rosette", "stem.surface=bristly|woolly")
	facts := NewFacts(k.Vocabulary, &obs, "", nil)
	all := func() {
		for _, r := range list {
			if _, err := r.Try(facts); err != nil {
				b.Fatal(err)
			}
		}
	}
	all() // what a rule keeps once it has waited is made here
	b.ReportAllocs()
	for b.Loop() {
		all()
	}
	b.ReportMetric(float64(b.Elapsed())/float64(b.N)/10_000, "ns/rule")
}

// BenchmarkNewSet makes the rules ready that come with the program.
func BenchmarkNewSet(b *testing.B) {
	k := shipped(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewSet(k); err != nil {
			b.Fatal(err)
		}
	}
}
