package rules

import (
	"runtime"
	"sync"

	"github.com/google/cel-go/cel"

	"telltale/graph"
)

// Rule is a rule that can be put to observations. It may be used by several
// goroutines at once.
type Rule struct {
	*graph.Rule
	env *Env

	once    sync.Once // what follows is made when it is first needed
	wrong   graph.Problems
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

// NewSet takes the rules of the knowledge. All are made ready at once, unless they
// were when the knowledge was compiled. The error is a graph.Problems that lists
// all that is wrong with any of them.
func NewSet(k *graph.Knowledge) (*Set, error) {
	env, err := NewEnv(k)
	if err != nil {
		return nil, err
	}
	set := &Set{Env: env}
	for _, r := range k.AllRules() {
		set.Rules = append(set.Rules, &Rule{Rule: r, env: env})
	}
	if k.RulesChecked() { // they are read one by one, when they are first asked
		return set, nil
	}
	if err := set.readyAll().Err(); err != nil {
		return nil, err
	}
	return set, nil
}

// readyAll makes rules ready, side by side: reading CEL is most of what the
// program does before it can answer.
func (s *Set) readyAll() graph.Problems {
	var all sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		all.Go(func() {
			for i := w; i < len(s.Rules); i += workers {
				_ = s.Rules[i].ready() // told below, all together
			}
		})
	}
	all.Wait()
	var out graph.Problems
	for _, r := range s.Rules {
		out = append(out, r.wrong...)
	}
	return out
}

// Compile makes one rule ready. The error is a graph.Problems.
func (e *Env) Compile(r *graph.Rule) (*Rule, error) {
	rule := &Rule{Rule: r, env: e}
	if err := rule.ready(); err != nil {
		return nil, err
	}
	return rule, nil
}

// ready reads and checks the rule, once.
func (r *Rule) ready() error {
	r.once.Do(func() {
		var checked *cel.Ast
		if checked, r.looks, r.wrong = r.env.check(r.Rule); len(r.wrong) > 0 {
			return
		}
		program, err := r.env.program(checked)
		if err != nil {
			r.wrong.Add(r.WhenAt, "rule %s cannot be made ready: %s", r.ID, err)
			return
		}
		r.ast, r.program = checked, program
		r.tracing = sync.OnceValues(func() (cel.Program, error) { return r.env.program(checked, cel.OptExhaustiveEval) })
	})
	return r.wrong.Err()
}

// Traits lists the traits, and of stage, part and month those, that the rule
// looks at, in the order in which it names them.
func (r *Rule) Traits() []string {
	if r.ready() != nil {
		return nil
	}
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
