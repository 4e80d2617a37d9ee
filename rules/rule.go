package rules

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"

	"telltale/graph"
)

// Rule is a rule made ready to be put to observations.
type Rule struct {
	*graph.Rule
	env       *Env
	ast       *cel.Ast
	program   cel.Program
	variables []string
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
	set := &Set{Env: env}
	var problems graph.Problems
	for _, r := range k.AllRules() {
		rule, wrong := env.compile(r)
		problems = append(problems, wrong...)
		if len(wrong) == 0 {
			set.Rules = append(set.Rules, rule)
		}
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return set, nil
}

// Compile makes one rule ready. The error is a graph.Problems.
func (e *Env) Compile(r *graph.Rule) (*Rule, error) {
	rule, problems := e.compile(r)
	return rule, problems.Err()
}

func (e *Env) compile(r *graph.Rule) (*Rule, graph.Problems) {
	checked, problems := e.check(r)
	if len(problems) > 0 {
		return nil, problems
	}
	program, err := e.cel.Program(checked, cel.EvalOptions(cel.OptPartialEval), cel.CostLimit(maxCost))
	if err != nil {
		problems.Add(r.WhenAt, "rule %s cannot be made ready: %s", r.ID, err)
		return nil, problems
	}
	return &Rule{Rule: r, env: e, ast: checked, program: program, variables: variables(checked.NativeRep().Expr())}, nil
}

// Traits lists the traits, and of stage, part and month those, that the rule
// looks at.
func (r *Rule) Traits() []string {
	var out []string
	for _, v := range r.variables {
		if !strings.HasPrefix(v, "_") {
			out = append(out, v)
		}
	}
	return out
}

// About tells whether the rule holds for a taxon: it names it, or none.
func (r *Rule) About(taxon string) bool { return r.For == "" || r.For == taxon }

// Result is how a rule came out.
type Result struct {
	Rule     *graph.Rule
	Outcome  string   // graph.Fires, graph.Quiet or graph.Waits
	WaitsFor []string // the traits, and stage, part, month or hoped_for, that are waited for
	Residual string   // what is left of the expression, in CEL
}

// most is how many combinations of "one of these" a rule is tried on before it is
// said to wait for them all. From memory: five traits of four states each.
const most = 1024

// Facts is what rules are told: the sure readings, the circumstances, what the
// gatherer hopes for and which plants are ruled out.
type Facts struct {
	values   map[string][]any
	ruledOut map[string]bool
}

// NewFacts takes from an observation what is sure. Of a trait read in several
// ways, or as one of several states, every value may be the true one. Hoped is
// the taxon hoped for, "" if that is not told; ruledOut the taxa that sure
// readings rule out.
func NewFacts(v *graph.Vocabulary, o *graph.Observation, hoped string, ruledOut map[string]bool) *Facts {
	f := &Facts{values: map[string][]any{}, ruledOut: ruledOut}
	if o.Stage != graph.AnyStage {
		f.values[stageVar] = []any{o.Stage.String()}
	}
	if o.Part != "" {
		f.values[partVar] = []any{o.Part}
	}
	if o.Month != 0 {
		f.values[monthVar] = []any{int64(o.Month)}
	}
	if hoped != "" {
		f.values[hopedVar] = []any{hoped}
	}
	for i := range o.Readings {
		if r := &o.Readings[i]; !r.Unsure {
			f.add(v, r)
		}
	}
	for name := range f.values {
		slices.SortFunc(f.values[name], func(a, b any) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
	}
	return f
}

func (f *Facts) add(v *graph.Vocabulary, r *graph.Reading) {
	t, ok := v.Trait(r.Trait)
	if !ok {
		return
	}
	put := func(x any) {
		if !slices.Contains(f.values[t.ID], x) {
			f.values[t.ID] = append(f.values[t.ID], x)
		}
	}
	switch t.Kind {
	case graph.StateKind:
		for _, s := range r.States {
			put(s)
		}
	case graph.MeasureKind:
		put(r.Low)
		put(r.High)
	default:
		put(int64(r.Low))
		put(int64(r.High))
	}
}

// Try puts the facts before the rule. An error means that the rule could not be
// evaluated, such as one that costs too much.
func (r *Rule) Try(f *Facts) (Result, error) {
	combinations := 1
	var several []string
	for _, v := range r.variables {
		if n := len(f.values[v]); n > 1 {
			combinations *= n
			several = append(several, v)
			if combinations > most {
				return r.waiting(several), nil
			}
		}
	}
	var first Result
	for i := range combinations {
		one, err := r.tryOne(f, several, i)
		if err != nil {
			return Result{}, err
		}
		if i == 0 {
			first = one
		} else if one.Outcome != first.Outcome || one.Outcome == graph.Waits {
			return r.merge(first, one, several), nil
		}
	}
	return first, nil
}

// merge is the result where the values that may be true do not come to the same.
func (r *Rule) merge(a, b Result, several []string) Result {
	out := r.waiting(several)
	for _, w := range append(a.WaitsFor, b.WaitsFor...) {
		if !slices.Contains(out.WaitsFor, w) {
			out.WaitsFor = append(out.WaitsFor, w)
		}
	}
	return out
}

func (r *Rule) waiting(for_ []string) Result {
	return Result{Rule: r.Rule, Outcome: graph.Waits, WaitsFor: append([]string(nil), for_...), Residual: r.When}
}

// tryOne evaluates one combination of the values that may be true.
func (r *Rule) tryOne(f *Facts, several []string, combination int) (Result, error) {
	known := map[string]any{}
	var unknown []*cel.AttributePatternType
	for _, v := range r.variables {
		values := f.values[v]
		switch {
		case v == ruledOutVar:
			known[v] = f.ruledOut
			for _, taxon := range r.env.knowledge.TaxonIDs() {
				if !f.ruledOut[taxon] && r.decides() {
					unknown = append(unknown, cel.AttributePattern(v).QualString(taxon))
				}
			}
		case len(values) == 0:
			unknown = append(unknown, cel.AttributePattern(v))
		case len(values) == 1:
			known[v] = values[0]
		}
	}
	for _, v := range several {
		n := len(f.values[v])
		known[v] = f.values[v][combination%n]
		combination /= n
	}
	if slices.Contains(r.variables, ruledOutVar) && !r.decides() {
		known[ruledOutVar] = everyTaxon(r.env.knowledge, f.ruledOut)
	}
	return r.eval(known, unknown)
}

// decides tells whether the rule bears on gathering. For such a rule a plant that
// is not ruled out yet is neither open nor closed: it waits. A note or a rule of
// thumb takes things as they stand.
func (r *Rule) decides() bool { return r.Then == graph.Leave || r.Then == graph.Must }

func everyTaxon(k *graph.Knowledge, ruledOut map[string]bool) map[string]bool {
	out := make(map[string]bool, len(k.Taxa))
	for _, id := range k.TaxonIDs() {
		out[id] = ruledOut[id]
	}
	return out
}

func (r *Rule) eval(known map[string]any, unknown []*cel.AttributePatternType) (Result, error) {
	vars, err := cel.PartialVars(known, unknown...)
	if err != nil {
		return Result{}, err
	}
	value, _, err := r.program.Eval(vars)
	if err != nil {
		return Result{}, r.failed(err)
	}
	switch x := value.(type) {
	case types.Bool:
		if x {
			return Result{Rule: r.Rule, Outcome: graph.Fires}, nil
		}
		return Result{Rule: r.Rule, Outcome: graph.Quiet}, nil
	case *types.Unknown:
		return r.residual(vars)
	}
	return Result{}, r.failed(fmt.Errorf("it came to %v", value))
}

func (r *Rule) failed(err error) error {
	if strings.Contains(err.Error(), "cost limit") {
		err = errors.New("it takes more steps than a rule may")
	}
	return &graph.Problem{Place: r.WhenAt, Message: fmt.Sprintf("rule %s cannot be evaluated: %s", r.ID, err)}
}

// residual evaluates once more, keeping track, to learn what is left.
func (r *Rule) residual(vars cel.PartialActivation) (Result, error) {
	program, err := r.env.cel.Program(r.ast, cel.EvalOptions(cel.OptPartialEval, cel.OptTrackState), cel.CostLimit(maxCost))
	if err != nil {
		return Result{}, r.failed(err)
	}
	var value ref.Val
	value, details, err := program.Eval(vars)
	if err != nil {
		return Result{}, r.failed(err)
	}
	if _, ok := value.(*types.Unknown); !ok {
		return Result{}, r.failed(fmt.Errorf("it came to %v", value))
	}
	left, err := r.env.cel.ResidualAst(r.ast, details)
	if err != nil {
		return Result{}, r.failed(err)
	}
	text, err := cel.AstToString(left)
	if err != nil {
		return Result{}, r.failed(err)
	}
	out := Result{Rule: r.Rule, Outcome: graph.Waits, Residual: inOurWords(text)}
	for _, v := range variables(left.NativeRep().Expr()) {
		out.WaitsFor = append(out.WaitsFor, ourName(v))
	}
	return out, nil
}

func ourName(v string) string {
	switch v {
	case hopedVar:
		return "hoped_for"
	case ruledOutVar:
		return "is_ruled_out"
	}
	return v
}

var (
	openText  = regexp.MustCompile(`!_ruled_out\[("[^"]*")\]`)
	ruledText = regexp.MustCompile(`_ruled_out\[("[^"]*")\]`)
	hopedText = regexp.MustCompile(`_hoped_for == ("[^"]*")`)
)

// inOurWords writes the functions of our own back into an expression.
func inOurWords(text string) string {
	text = openText.ReplaceAllString(text, "is_open($1)")
	text = ruledText.ReplaceAllString(text, "is_ruled_out($1)")
	return hopedText.ReplaceAllString(text, "hoped_for($1)")
}
