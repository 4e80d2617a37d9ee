package rules

import (
	"fmt"

	"github.com/google/cel-go/cel"
	celcheck "github.com/google/cel-go/checker"

	"telltale/graph"
)

// The bounds on a rule, so that one written by a stranger ends in an error and
// not in a stalled program. From memory: the longest rule shipped has some 300
// characters, nests three deep and costs some tens of steps.
const (
	maxExpression = 8 << 10 // characters
	maxNesting    = 64      // brackets in brackets
	maxCost       = 1000    // steps of CEL, reckoned for the worst readings
	maxWays       = 4096    // ways in which "one of these" can be read, all of which are tried
)

// Env is the CEL environment made from a vocabulary and the plants that rules can
// name. It may be used by several goroutines at once.
type Env struct {
	cel        *cel.Env
	vocabulary *graph.Vocabulary
	taxa       []string
	variables  map[string]*variable
	names      []string // of the variables that authors write
}

// NewEnv makes the environment in which all rules of the knowledge are read.
func NewEnv(k *graph.Knowledge) (*Env, error) {
	e := &Env{vocabulary: k.Vocabulary, taxa: k.TaxonIDs(), variables: map[string]*variable{}}
	for _, v := range circumstances() {
		e.declare(v)
	}
	for _, t := range k.Vocabulary.Traits {
		e.declare(traitVariable(t))
	}
	e.names = append(k.Vocabulary.TraitIDs(), stageName, partName, monthName)
	for _, id := range e.taxa {
		e.declare(&variable{name: hopedPrefix + id, kind: answer, taxon: id, asks: hopedFor})
		e.declare(&variable{name: ruledOutPrefix + id, kind: answer, taxon: id, asks: isRuledOut})
	}
	options := []cel.EnvOption{
		cel.ClearMacros(),
		cel.ParserExpressionSizeLimit(maxExpression),
		cel.ParserRecursionLimit(maxNesting),
	}
	for name, v := range e.variables {
		options = append(options, cel.Variable(name, v.celType()))
	}
	var err error
	if e.cel, err = cel.NewEnv(options...); err != nil {
		return nil, fmt.Errorf("making the language of rules from the vocabulary: %w", err)
	}
	return e, nil
}

func (e *Env) declare(v *variable) {
	v.unread = cel.AttributePattern(v.name)
	e.variables[v.name] = v
}

// program makes an expression ready to be evaluated where some of what it looks
// at is unknown.
func (e *Env) program(checked *cel.Ast, more ...cel.EvalOption) (cel.Program, error) {
	return e.cel.Program(checked, cel.EvalOptions(append(more, cel.OptPartialEval, cel.OptOptimize)...))
}

// cost reckons how many steps of CEL an expression takes at the most. Rules hold
// no loops, so that it is known before any plant is looked at.
func (e *Env) cost(checked *cel.Ast) (uint64, error) {
	estimate, err := e.cel.EstimateCost(checked, wordSizes{})
	return estimate.Max, err
}

// longestWord is more than the characters of any state, stage, part or plant id
// (from memory: the longest shipped has some thirty).
const longestWord = 64

// wordSizes tells the cost estimate how long the values of variables are.
type wordSizes struct{}

func (wordSizes) EstimateSize(celcheck.AstNode) *celcheck.SizeEstimate {
	return &celcheck.SizeEstimate{Max: longestWord}
}

func (wordSizes) EstimateCallCost(string, string, *celcheck.AstNode, []celcheck.AstNode) *celcheck.CallEstimate {
	return nil
}
