package rules

import (
	"math"
	"slices"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// signs are the operators that compare.
var signs = map[string]string{
	operators.Equals: "==", operators.NotEquals: "!=", operators.In: "in",
	operators.Less: "<", operators.LessEquals: "<=", operators.Greater: ">", operators.GreaterEquals: ">=",
}

// flipped gives the sign as it reads from the other side: 5 < x is x > 5.
func flipped(sign string) string {
	if other, ok := map[string]string{"<": ">", "<=": ">=", ">": "<", ">=": "<="}[sign]; ok {
		return other
	}
	return sign
}

// comparison is one comparison of a variable with what is written in the rule, or
// with another variable.
type comparison struct {
	sign   string
	values []ref.Val // one, or with "in" several
	with   *look
}

// holds tells whether a comparison by a sign holds of a value and others: of one,
// or with "in" of any.
func holds(x ref.Val, sign string, others []ref.Val) bool {
	switch sign {
	case "==", "in":
		return slices.Contains(others, x)
	case "!=":
		return !slices.Contains(others, x)
	}
	switch d := number(x) - number(others[0]); sign {
	case "<":
		return d < 0
	case "<=":
		return d <= 0
	case ">":
		return d > 0
	default:
		return d >= 0
	}
}

// comparison checks a comparison, and notes what is compared with what.
func (c *checker) comparison(x ast.Expr) {
	call := x.AsCall()
	sign := signs[call.FunctionName()]
	left, right := call.Args()[0], call.Args()[1]
	if !c.canStand(left, sign) || !c.canStand(right, sign) {
		return
	}
	switch {
	case sign == "in":
		c.membership(left, right)
	case isName(left) && isName(right):
		c.alike(x, sign)
	case isName(left):
		c.against(left, sign, right)
	case isName(right):
		c.against(right, flipped(sign), left)
	default:
		c.add(c.placeOfExpr(x), "%s and %s are both written out: compare a trait with one of them", written(left), written(right))
	}
}

func isName(x ast.Expr) bool { return x.Kind() == ast.IdentKind || x.Kind() == ast.SelectKind }

// canStand refuses what cannot stand on either side of a sign: comparisons,
// reckoning, lists anywhere but behind in.
func (c *checker) canStand(x ast.Expr, sign string) bool {
	if isName(x) || x.Kind() == ast.LiteralKind || x.Kind() == ast.ListKind && sign == "in" {
		return true
	}
	switch {
	case x.Kind() == ast.ListKind:
		c.add(c.placeOfExpr(x), "a list cannot be compared by %s: write in [\"…\", \"…\"]", sign)
	case x.Kind() == ast.CallKind && !isCondition(x):
		c.call(x) // says what is wrong with it
	default:
		c.add(c.placeOfExpr(x), "this cannot be compared by %s: expected a trait or a value; comparisons are joined by && and ||", sign)
	}
	return false
}

// isCondition tells whether a call is one that holds or not.
func isCondition(x ast.Expr) bool {
	call := x.AsCall()
	switch function := call.FunctionName(); function {
	case operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot, operators.Conditional:
		return true
	default:
		return !call.IsMemberFunction() && (signs[function] != "" || slices.Contains(questions(), function))
	}
}

// against checks a variable compared with a value.
func (c *checker) against(name ast.Expr, sign string, value ast.Expr) {
	v := c.named(name, nil)
	if v == nil || !c.fits(v, value) {
		return
	}
	if v.kind == word && sign != "==" && sign != "!=" {
		c.add(c.placeOfExpr(name), "%s has no order that %s could go by: list what is meant, with in [\"…\", \"…\"]", v.name, sign)
		return
	}
	c.look(v).add(comparison{sign: sign, values: []ref.Val{value.AsLiteral()}}, c.tests > 0)
}

// membership checks a variable looked up in a list.
func (c *checker) membership(name, list ast.Expr) {
	if list.Kind() != ast.ListKind {
		c.add(c.placeOfExpr(list), "in looks through a list: write in [\"…\", \"…\"]")
		return
	}
	if !isName(name) {
		c.add(c.placeOfExpr(name), "expected a trait before in, and the values looked for behind it")
		return
	}
	v := c.named(name, nil)
	if v == nil {
		return
	}
	elements := list.AsList().Elements()
	if len(elements) == 0 {
		c.add(c.placeOfExpr(list), "the list holds nothing: nothing is ever in it")
		return
	}
	var values []ref.Val
	for _, x := range elements {
		switch {
		case isName(x):
			c.unquoted(x, v)
		case x.Kind() != ast.LiteralKind:
			c.add(c.placeOfExpr(x), "a list holds values, and %s is compared with %s", v.name, v.takes())
		case !c.fits(v, x):
		default:
			values = append(values, x.AsLiteral())
		}
	}
	if len(values) == len(elements) {
		c.look(v).add(comparison{sign: "in", values: values}, c.tests > 0)
	}
}

// unquoted notes a name where a value of the variable should stand.
func (c *checker) unquoted(x ast.Expr, v *variable) {
	if c.named(x, v) != nil {
		c.add(c.placeOfExpr(x), "a list holds values, and %s is compared with %s", v.name, v.takes())
	}
}

// alike checks two variables compared with one another.
func (c *checker) alike(x ast.Expr, sign string) {
	args := x.AsCall().Args()
	v := c.named(args[0], c.peek(args[1]))
	w := c.named(args[1], v)
	at := c.placeOfExpr(args[1])
	switch {
	case v == nil || w == nil:
	case v == w:
		c.add(at, "%s is compared with itself", v.name)
	case v.kind != w.kind || v.isMonth() != w.isMonth():
		c.add(at, "%s is compared with %s, not with %s, which takes %s", v.name, v.takes(), w.name, w.takes())
	case v.kind == length && v.trait.Unit != w.trait.Unit:
		c.add(at, "%s is measured in %s and %s in %s: their numbers cannot be compared", v.name, v.trait.Unit, w.name, w.trait.Unit)
	case v.kind == word && sign != "==" && sign != "!=":
		c.add(at, "%s has no order that %s could go by", v.name, sign)
	case v.kind == word && !slices.Equal(slices.Sorted(slices.Values(v.words)), slices.Sorted(slices.Values(w.words))):
		c.add(at, "%s and %s do not have the same states: write out which are meant", v.name, w.name)
	default:
		a, b := c.look(v), c.look(w)
		a.add(comparison{sign: sign, with: b}, c.tests > 0)
		b.add(comparison{sign: flipped(sign), with: a}, c.tests > 0)
	}
}

// peek finds the variable that an expression names, noting nothing.
func (c *checker) peek(x ast.Expr) *variable {
	name, _ := dotted(x)
	return c.env.variables[name]
}

// fits checks that a literal is a value that the variable can have. A number is
// brought to the sort that the variable takes: 5 to 5.0 for a measure.
func (c *checker) fits(v *variable, x ast.Expr) bool {
	var value ref.Val
	switch lit := x.AsLiteral().(type) {
	case types.String:
		if v.kind == word {
			return c.isWordOf(v, string(lit), x)
		}
	case types.Int:
		value = v.ofNumber(float64(lit))
	case types.Uint:
		value = v.ofNumber(float64(lit))
	case types.Double:
		value = v.ofNumber(float64(lit))
	}
	if value == nil {
		c.add(c.placeOfExpr(x), "%s is compared with %s, not with %s", v.name, v.takes(), written(x))
		return false
	}
	x.SetKindCase(c.fac.NewLiteral(x.ID(), value))
	return true
}

// ofNumber makes a number a value of the variable, nil if it can have no such.
func (v *variable) ofNumber(x float64) ref.Val {
	fits := v.kind == length || v.kind == whole && x == math.Trunc(x) && x <= mostCounted
	if !fits || x < 0 || v.isMonth() && (x < 1 || x > 12) {
		return nil
	}
	return v.valued(x)
}

// mostCounted is more than anybody counts, and all whole numbers up to it are
// exact in either way that CEL holds them.
const mostCounted = 1 << 32

// valued puts a number as the variable takes it.
func (v *variable) valued(x float64) ref.Val {
	if v.kind == whole {
		return types.Int(x)
	}
	return types.Double(x)
}

func (c *checker) isWordOf(v *variable, found string, x ast.Expr) bool {
	if slices.Contains(v.words, found) {
		return true
	}
	if v.trait != nil {
		if states := v.trait.StatesCalled(found); len(states) > 1 {
			c.add(c.placeOfExpr(x), "%q can be several states of %s: write in %s", found, v.name, quotedList(states))
			return false
		} else if len(states) == 1 {
			c.unknown(c.placeOfExpr(x), v.means, found, states[0], v.words)
			return false
		}
	}
	c.unknown(c.placeOfExpr(x), v.means, found, "", v.words)
	return false
}
