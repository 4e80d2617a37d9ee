package rules

import (
	"fmt"
	"slices"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/interpreter"
	"github.com/google/cel-go/parser"

	"telltale/graph"
)

// Result is how a rule came out.
type Result struct {
	Rule     *graph.Rule
	Outcome  string   // graph.Fires, graph.Quiet or graph.Waits
	WaitsFor []string // sorted: the traits, stage, part, month, hoped_for or is_ruled_out that are waited for
	Residual string   // what is left of the expression, in CEL
}

// Try puts the facts before the rule. An error means that the rule could not be
// evaluated.
func (r *Rule) Try(f *Facts) (Result, error) {
	if err := r.ready(); err != nil {
		return Result{}, err
	}
	s := newSituation(r, f)
	open := s.several(f)
	if len(open) == 0 {
		return s.result()
	}
	outcome := ""
	err := s.each(open, func() error {
		x, err := s.outcome()
		if err == nil && outcome != "" && x != outcome {
			x = graph.Waits
		}
		outcome = x
		return err
	})
	if err != nil || outcome != graph.Waits {
		return Result{Rule: r.Rule, Outcome: outcome}, err
	}
	return s.waiting(open)
}

// situation is one way in which things may stand, as a rule sees them. It is what
// CEL asks for the values of variables.
type situation struct {
	rule   *Rule
	values []ref.Val // by look, nil where it is unknown
	unread []*cel.AttributePatternType

	valueRoom  [usualLooks]ref.Val
	unreadRoom [usualLooks]*cel.AttributePatternType
}

// usualLooks is how many variables a rule looks at without a further piece of
// memory being asked for (from memory: rules shipped look at five or fewer).
const usualLooks = 6

func newSituation(r *Rule, f *Facts) *situation {
	s := &situation{rule: r}
	s.values, s.unread = s.valueRoom[:0], s.unreadRoom[:0]
	for _, l := range r.looks {
		s.values = append(s.values, f.value(l.variable, r.bearsOnGathering()))
	}
	return s
}

// ResolveName gives CEL the value of a variable.
func (s *situation) ResolveName(name string) (any, bool) {
	for i, l := range s.rule.looks {
		if l.name == name {
			return s.values[i], s.values[i] != nil
		}
	}
	return nil, false
}

// Parent says that there is nobody else to ask.
func (s *situation) Parent() interpreter.Activation { return nil }

// AsPartialActivation says that some variables are unknown.
func (s *situation) AsPartialActivation() (interpreter.PartialActivation, bool) { return s, true }

// UnknownAttributePatterns gives CEL the variables that are unknown.
func (s *situation) UnknownAttributePatterns() []*cel.AttributePatternType {
	s.unread = s.unread[:0]
	for i, l := range s.rule.looks {
		if s.values[i] == nil {
			s.unread = append(s.unread, l.unread)
		}
	}
	return s.unread
}

// outcome asks CEL how the rule comes out.
func (s *situation) outcome() (string, error) {
	value, _, err := s.rule.program.Eval(s)
	if err != nil {
		return "", s.rule.failed(err)
	}
	switch x := value.(type) {
	case types.Bool:
		if x {
			return graph.Fires, nil
		}
		return graph.Quiet, nil
	case *types.Unknown:
		return graph.Waits, nil
	}
	return "", s.rule.failed(fmt.Errorf("it came to %v", value))
}

// result is the outcome with what is left if the rule waits.
func (s *situation) result() (Result, error) {
	outcome, err := s.outcome()
	if err != nil || outcome != graph.Waits {
		return Result{Rule: s.rule.Rule, Outcome: outcome}, err
	}
	left, text, err := s.residual()
	if err != nil {
		return Result{}, err
	}
	return Result{Rule: s.rule.Rule, Outcome: outcome, WaitsFor: s.rule.waitsFor(left), Residual: text}, nil
}

// residual evaluates once more, remembering what each part came to, and leaves
// out of the expression all that is known.
func (s *situation) residual() (ast.Expr, string, error) {
	program, err := s.rule.tracing()
	if err != nil {
		return nil, "", s.rule.failed(err)
	}
	_, details, err := program.Eval(s)
	if err != nil {
		return nil, "", s.rule.failed(err)
	}
	left := interpreter.PruneAst(s.rule.ast.NativeRep().Expr(), nil, details.State())
	text, err := parser.Unparse(inAuthorsWords(left.Expr()), left.SourceInfo())
	if err != nil {
		return nil, "", s.rule.failed(err)
	}
	return left.Expr(), text, nil
}

// waitsFor lists what an expression looks at.
func (r *Rule) waitsFor(x ast.Expr) []string {
	var out []string
	ast.PreOrderVisit(x, ast.NewExprVisitor(func(y ast.Expr) {
		if v := r.env.variables[identOf(y)]; v != nil {
			out = append(out, v.waitsAs())
		}
	}))
	slices.Sort(out)
	return slices.Compact(out)
}

func (r *Rule) failed(err error) error {
	return &graph.Problem{Place: r.WhenAt, Message: fmt.Sprintf("rule %s cannot be evaluated: %s", r.ID, err)}
}
