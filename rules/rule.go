package rules

import (
	"runtime"
	"slices"
	"sync"

	"github.com/google/cel-go/cel"

	"telltale/graph"
)

// Rule is a rule made ready to be put to observations. It may be used by several
// goroutines at once.
type Rule struct {
	*graph.Rule
	env     *Env
	ast     *cel.Ast
	program cel.Program
	tracing func() (cel.Program, error) // the same, remembering what each part came to
	looks   []*look
}

// Set is the rules of the knowledge, by id.
type Set struct {
	Env   *Env
	Rules []*Rule
}

// NewSet makes all rules of the knowledge ready. The error is a graph.Problems
// that lists all that is wrong with any of them.
func NewSet(k *graph.Knowledge) (*Set, error) {
	env, err := NewEnv(k)
	if err != nil {
		return nil, err
	}
	rules, problems := env.compileAll(k.AllRules())
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return &Set{Env: env, Rules: rules}, nil
}

// compileAll makes rules ready, side by side: reading CEL is most of what the
// program does before it can answer.
func (e *Env) compileAll(list []*graph.Rule) ([]*Rule, graph.Problems) {
	out, wrong := make([]*Rule, len(list)), make([]graph.Problems, len(list))
	var all sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		all.Go(func() {
			for i := w; i < len(list); i += workers {
				out[i], wrong[i] = e.compile(list[i])
			}
		})
	}
	all.Wait()
	return out, slices.Concat(wrong...)
}

// Compile makes one rule ready. The error is a graph.Problems.
func (e *Env) Compile(r *graph.Rule) (*Rule, error) {
	rule, problems := e.compile(r)
	return rule, problems.Err()
}

func (e *Env) compile(r *graph.Rule) (*Rule, graph.Problems) {
	checked, looks, problems := e.check(r)
	if len(problems) > 0 {
		return nil, problems
	}
	program, err := e.program(checked)
	if err != nil {
		problems.Add(r.WhenAt, "rule %s cannot be made ready: %s", r.ID, err)
		return nil, problems
	}
	rule := &Rule{Rule: r, env: e, ast: checked, program: program, looks: looks}
	rule.tracing = sync.OnceValues(func() (cel.Program, error) { return e.program(checked, cel.OptExhaustiveEval) })
	return rule, nil
}

// Traits lists the traits, and of stage, part and month those, that the rule
// looks at, in the order in which it names them.
func (r *Rule) Traits() []string {
	var out []string
	for _, l := range r.looks {
		if l.kind != answer {
			out = append(out, l.name)
		}
	}
	return out
}

// About tells whether the rule holds for a taxon: it names it, or none.
func (r *Rule) About(taxon string) bool { return r.For == "" || r.For == taxon }

// bearsOnGathering tells whether what follows from the rule can keep a plant from
// being gathered.
func (r *Rule) bearsOnGathering() bool { return r.Then == graph.Leave || r.Then == graph.Must }
