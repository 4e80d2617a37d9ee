package rules

import (
	"fmt"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"

	"telltale/graph"
)

// The bounds on a rule, so that one written by a stranger ends in an error and
// not in a stalled program. From memory: the longest rule shipped has some 300
// characters and costs some tens of steps.
const (
	maxExpression = 8 << 10
	maxNesting    = 64
	maxCost       = 100_000
)

// The variables that are no traits.
const (
	stageVar = "stage"
	partVar  = "part"
	monthVar = "month"
	// what the functions of our own look into
	hopedVar    = "_hoped_for"
	ruledOutVar = "_ruled_out"
)

// Env is the CEL environment made from a vocabulary and the plants that rules can
// name. It may be used by several goroutines at once.
type Env struct {
	cel        *cel.Env
	vocabulary *graph.Vocabulary
	knowledge  *graph.Knowledge
}

// NewEnv makes the environment in which all rules of the knowledge are read.
func NewEnv(k *graph.Knowledge) (*Env, error) {
	options := []cel.EnvOption{
		cel.ClearMacros(),
		cel.Macros(hopedMacro, openMacro, ruledOutMacro),
		cel.ParserExpressionSizeLimit(maxExpression),
		cel.ParserRecursionLimit(maxNesting),
		cel.Variable(stageVar, cel.StringType),
		cel.Variable(partVar, cel.StringType),
		cel.Variable(monthVar, cel.IntType),
		cel.Variable(hopedVar, cel.StringType),
		cel.Variable(ruledOutVar, cel.MapType(cel.StringType, cel.BoolType)),
		cel.CrossTypeNumericComparisons(true),
	}
	for _, t := range k.Vocabulary.Traits {
		options = append(options, cel.Variable(t.ID, celType(t)))
	}
	env, err := cel.NewEnv(options...)
	if err != nil {
		return nil, fmt.Errorf("making the language of rules from the vocabulary: %w", err)
	}
	return &Env{cel: env, vocabulary: k.Vocabulary, knowledge: k}, nil
}

func celType(t *graph.Trait) *cel.Type {
	switch t.Kind {
	case graph.MeasureKind:
		return cel.DoubleType
	case graph.CountKind, graph.MonthsKind:
		return cel.IntType
	}
	return cel.StringType
}

// The functions of our own are written out into plain CEL as they are read, so
// that they too can wait:
//
//	hoped_for("daucus-carota")       the gatherer hopes for this plant
//	is_ruled_out("conium-maculatum") true once sure readings rule it out; until then it waits
//	is_open("conium-maculatum")      false once it is ruled out; until then it waits
var (
	hopedMacro = cel.GlobalMacro("hoped_for", 1, func(f cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *common.Error) {
		return f.NewCall(operators.Equals, f.NewIdent(hopedVar), args[0]), nil
	})
	ruledOutMacro = cel.GlobalMacro("is_ruled_out", 1, func(f cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *common.Error) {
		return f.NewCall(operators.Index, f.NewIdent(ruledOutVar), args[0]), nil
	})
	openMacro = cel.GlobalMacro("is_open", 1, func(f cel.MacroExprFactory, _ ast.Expr, args []ast.Expr) (ast.Expr, *common.Error) {
		return f.NewCall(operators.LogicalNot, f.NewCall(operators.Index, f.NewIdent(ruledOutVar), args[0])), nil
	})
)

// names lists what an expression can name.
func (e *Env) names() []string {
	return append(e.vocabulary.TraitIDs(), stageVar, partVar, monthVar, "hoped_for", "is_open", "is_ruled_out")
}

// variables lists the traits, and stage, part and month, that an expression
// looks at.
func variables(expr ast.Expr) []string {
	seen := map[string]bool{}
	var out []string
	ast.PreOrderVisit(expr, ast.NewExprVisitor(func(x ast.Expr) {
		name := ""
		if x.Kind() == ast.IdentKind {
			name = x.AsIdent()
		}
		if name != "" && !seen[name] {
			seen[name] = true
			out = append(out, name)
		}
	}))
	return out
}
