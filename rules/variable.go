package rules

import (
	"fmt"
	"strings"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"

	"telltale/graph"
)

// The functions that bring the reasoner into rules. Each asks one thing about one
// plant, and is written out, as it is read, into a variable that can be unknown
// like any other.
const (
	hopedFor   = "hoped_for"    // the gatherer hopes for this plant
	isRuledOut = "is_ruled_out" // sure readings rule it out
	isOpen     = "is_open"      // they do not
)

func questions() []string { return []string{hopedFor, isOpen, isRuledOut} }

// No author can write these names: @ opens none in CEL.
const (
	hopedPrefix    = "@hoped_for:"
	ruledOutPrefix = "@ruled_out:"
)

// valueKind is what sort of value a variable takes.
type valueKind uint8

const (
	word   valueKind = iota + 1 // a state, a stage, a part
	length                      // a measure in the trait's unit
	whole                       // a count or a month
	answer                      // the answer to a question about a plant
)

// variable is what an expression can look at: a trait, stage, part or month, or
// the answer to a question about a plant.
type variable struct {
	name   string
	kind   valueKind
	words  []string     // what a word can be
	means  string       // what one of the words is called, "stage"
	trait  *graph.Trait // nil for what is no trait
	taxon  string       // whom an answer is about
	asks   string       // hopedFor or isRuledOut
	unread *cel.AttributePatternType
}

// The variables that are neither traits nor answers: what an observation tells
// besides its readings.
const (
	stageName = "stage"
	partName  = "part"
	monthName = "month"
)

func circumstances() []*variable {
	return []*variable{
		{name: stageName, kind: word, words: graph.StageNames(), means: "stage"},
		{name: partName, kind: word, words: graph.Parts(), means: "part of a plant"},
		{name: monthName, kind: whole},
	}
}

func traitVariable(t *graph.Trait) *variable {
	v := &variable{name: t.ID, trait: t}
	switch t.Kind {
	case graph.MeasureKind:
		v.kind = length
	case graph.CountKind, graph.MonthsKind:
		v.kind = whole
	default:
		v.kind, v.words, v.means = word, t.StateIDs(), "state of "+t.ID
	}
	return v
}

func (v *variable) celType() *cel.Type {
	return map[valueKind]*cel.Type{word: cel.StringType, length: cel.DoubleType, whole: cel.IntType, answer: cel.BoolType}[v.kind]
}

// isMonth tells whether the numbers of the variable are months, 1 to 12.
func (v *variable) isMonth() bool {
	return v.name == monthName || v.trait != nil && v.trait.Kind == graph.MonthsKind
}

// takes says in words what the variable is compared with.
func (v *variable) takes() string {
	switch {
	case v.kind == word:
		return fmt.Sprintf("a %s in quotes, such as %q", v.means, v.words[0])
	case v.kind == length:
		return "a length in " + v.trait.Unit
	case v.isMonth():
		return "a month, 1 to 12"
	}
	return "a whole number"
}

// waitsAs is the name under which the variable is waited for.
func (v *variable) waitsAs() string {
	if v.kind == answer {
		return v.asks
	}
	return v.name
}

// inAuthorsWords writes the questions back into a copy of an expression.
func inAuthorsWords(x ast.Expr) ast.Expr {
	fac := ast.NewExprFactory()
	x = fac.CopyExpr(x)
	ask := func(y ast.Expr, function, taxon string) {
		y.SetKindCase(fac.NewCall(y.ID(), function, fac.NewLiteral(0, types.String(taxon))))
	}
	ast.PreOrderVisit(x, ast.NewExprVisitor(func(y ast.Expr) {
		negated := y.Kind() == ast.CallKind && y.AsCall().FunctionName() == operators.LogicalNot
		if negated {
			if taxon, ok := strings.CutPrefix(identOf(y.AsCall().Args()[0]), ruledOutPrefix); ok {
				ask(y, isOpen, taxon)
			}
		} else if taxon, ok := strings.CutPrefix(identOf(y), ruledOutPrefix); ok {
			ask(y, isRuledOut, taxon)
		} else if taxon, ok := strings.CutPrefix(identOf(y), hopedPrefix); ok {
			ask(y, hopedFor, taxon)
		}
	}))
	return x
}

// identOf is the name that an expression consists of, "" if it is no name.
func identOf(x ast.Expr) string {
	if x.Kind() == ast.IdentKind {
		return x.AsIdent()
	}
	return ""
}

// quotedList writes words as a rule lists them.
func quotedList(words []string) string {
	var out []string
	for _, w := range words {
		out = append(out, fmt.Sprintf("%q", w))
	}
	return "[" + strings.Join(out, ", ") + "]"
}
