package rules

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"

	"telltale/graph"
)

// checker reads one expression. What it lets through is the part of CEL in which
// every word can be checked against the vocabulary and nothing can run away:
// comparisons of readings, and questions about plants, joined by &&, ||, ! and ?:.
type checker struct {
	env      *Env
	rule     *graph.Rule
	info     *ast.SourceInfo
	fac      ast.ExprFactory
	nextID   int64
	tests    int // how many tests of a conditional the walk is in
	looks    []*look
	problems graph.Problems
}

// check reads an expression and finds all that is wrong with it, each with the
// place it has in the rule's file. It tells what the expression looks at too.
func (e *Env) check(r *graph.Rule) (*cel.Ast, []*look, graph.Problems) {
	c := &checker{env: e, rule: r, fac: ast.NewExprFactory()}
	if !c.isText() {
		return nil, nil, c.problems
	}
	parsed, issues := e.cel.Parse(r.When)
	if issues.Err() != nil {
		c.unreadable(issues)
		return nil, nil, c.problems
	}
	c.info = parsed.NativeRep().SourceInfo()
	c.nextID = ast.MaxID(parsed.NativeRep())
	c.condition(parsed.NativeRep().Expr())
	if len(c.problems) > 0 {
		return nil, nil, c.problems
	}
	checked, issues := e.cel.Check(parsed)
	if issues.Err() != nil {
		c.add(r.WhenAt, "%s", issues.Err())
		return nil, nil, c.problems
	}
	c.isBounded(checked)
	return checked, c.looks, c.problems
}

func (c *checker) add(at graph.Place, format string, args ...any) {
	c.problems.Add(at, "rule %s: %s", c.rule.ID, fmt.Sprintf(format, args...))
}

// unknown notes a name that is not among the known ones; nearest overrules what
// is nearest by its letters.
func (c *checker) unknown(at graph.Place, what, found, nearest string, known []string) {
	p := graph.Unknown(at, what, found, known)
	p.Message = "rule " + c.rule.ID + ": " + p.Message
	if nearest != "" {
		p.Nearest = nearest
	}
	c.problems = append(c.problems, p)
}

func (c *checker) isText() bool {
	switch n := utf8.RuneCountInString(c.rule.When); {
	case strings.TrimSpace(c.rule.When) == "":
		c.problems.Add(c.rule.Place, "rule %s has no expression", c.rule.ID)
	case !utf8.ValidString(c.rule.When):
		c.add(c.rule.WhenAt, "the expression is not UTF-8")
	case n > maxExpression:
		c.add(c.rule.WhenAt, "the expression has %d characters, more than the %d a rule may have", n, maxExpression)
	default:
		return true
	}
	return false
}

// isBounded makes sure that no observation can make the rule take long.
func (c *checker) isBounded(checked *cel.Ast) {
	switch cost, err := c.env.cost(checked); {
	case err != nil:
		c.add(c.rule.WhenAt, "%s", err)
	case cost > maxCost:
		c.add(c.rule.WhenAt, "the expression can take %d steps, more than the %d a rule may take", cost, maxCost)
	}
	ways := 1
	for _, l := range c.looks {
		if ways *= l.ways(c.looks); ways > maxWays {
			c.add(c.rule.WhenAt, "too many traits are compared several times over: compare each once, with in [\"…\", \"…\"]")
			return
		}
	}
}

func (c *checker) placeOfExpr(x ast.Expr) graph.Place {
	x = leftmost(x)
	at := c.info.GetStartLocation(x.ID())
	column := at.Column()
	if x.Kind() == ast.CallKind { // a function stands before the bracket that CEL names
		before := strings.TrimRight(textBefore(c.rule.When, at.Line(), column), " \t")
		if name, ok := strings.CutSuffix(before, x.AsCall().FunctionName()); ok {
			column = utf8.RuneCountInString(name)
		}
	}
	return c.placeOf(at.Line(), column)
}

// leftmost finds the part of an expression that is written first: CEL places an
// operator, a call and a dot where their own signs stand.
func leftmost(x ast.Expr) ast.Expr {
	for {
		switch {
		case x.Kind() == ast.SelectKind:
			x = x.AsSelect().Operand()
		case x.Kind() == ast.CallKind && x.AsCall().IsMemberFunction():
			x = x.AsCall().Target()
		case x.Kind() == ast.CallKind && len(x.AsCall().Args()) > 1 && isOperator(x.AsCall().FunctionName()):
			x = x.AsCall().Args()[0]
		default:
			return x
		}
	}
}

func isOperator(function string) bool {
	_, ok := operators.FindReverse(function)
	return ok
}

// condition checks what has to hold or not.
func (c *checker) condition(x ast.Expr) {
	switch x.Kind() {
	case ast.CallKind:
		c.call(x)
	case ast.IdentKind, ast.SelectKind:
		if v := c.named(x, nil); v != nil {
			c.add(c.placeOfExpr(x), "%s alone neither holds nor fails: compare it with %s", v.name, v.takes())
		}
	case ast.LiteralKind:
		if x.AsLiteral().Type() != types.BoolType {
			c.add(c.placeOfExpr(x), "%s alone neither holds nor fails: expected a comparison", written(x))
		}
	default:
		c.add(c.placeOfExpr(x), "expected a comparison: rules hold nothing but comparisons of readings and questions about plants")
	}
}

func (c *checker) call(x ast.Expr) {
	call := x.AsCall()
	function := call.FunctionName()
	switch {
	case call.IsMemberFunction():
		c.unknown(c.placeOfExpr(x), "function", function, "", questions())
	case function == operators.LogicalAnd || function == operators.LogicalOr || function == operators.LogicalNot:
		for _, arg := range call.Args() {
			c.condition(arg)
		}
	case function == operators.Conditional:
		c.tests++
		c.condition(call.Args()[0])
		c.tests--
		c.condition(call.Args()[1])
		c.condition(call.Args()[2])
	case signs[function] != "":
		c.comparison(x)
	case slices.Contains(questions(), function):
		c.question(x)
	case isOperator(function):
		c.add(c.placeOfExpr(x), "%s cannot be used: rules compare readings and reckon nothing", operatorSign(function))
	default:
		c.unknown(c.placeOfExpr(x), "function", function, "", questions())
	}
}

func operatorSign(function string) string {
	if sign, _ := operators.FindReverse(function); sign != "" {
		return sign
	}
	return "[ ]"
}

// question checks a question about a plant and writes it out into its variable.
func (c *checker) question(x ast.Expr) {
	call := x.AsCall()
	function := call.FunctionName()
	var taxon types.String
	ok := len(call.Args()) == 1 && call.Args()[0].Kind() == ast.LiteralKind
	if ok {
		taxon, ok = call.Args()[0].AsLiteral().(types.String)
	}
	if !ok {
		c.add(c.placeOfExpr(x), "%s asks about one plant: give its id in quotes, such as %s(%q)", function, function, c.anyTaxon())
		return
	}
	if !slices.Contains(c.env.taxa, string(taxon)) {
		c.unknown(c.placeOfExpr(call.Args()[0]), "plant", string(taxon), "", c.env.taxa)
		return
	}
	prefix := ruledOutPrefix
	if function == hopedFor {
		prefix = hopedPrefix
	}
	name := prefix + string(taxon)
	c.look(c.env.variables[name])
	if function == isOpen {
		c.nextID++
		x.SetKindCase(c.fac.NewCall(x.ID(), operators.LogicalNot, c.fac.NewIdent(c.nextID, name)))
		return
	}
	x.SetKindCase(c.fac.NewIdent(x.ID(), name))
}

func (c *checker) anyTaxon() string {
	if len(c.env.taxa) > 0 {
		return c.env.taxa[0]
	}
	return "daucus-carota"
}

// named finds the variable that an expression names. If it names none that is
// noted, with a hint if it is a state of the variable beside it without quotes.
func (c *checker) named(x ast.Expr, beside *variable) *variable {
	name, ok := dotted(x)
	if !ok {
		c.add(c.placeOfExpr(x), "expected the name of a trait, or stage, part or month")
		return nil
	}
	if v := c.env.variables[name]; v != nil {
		return v
	}
	at := c.placeOfExpr(x)
	if beside != nil && slices.Contains(beside.words, name) {
		c.add(at, "%s stands without quotes: write %q", name, name)
		return nil
	}
	nearest := ""
	if traits := c.env.vocabulary.TraitsCalled(name); len(traits) == 1 {
		nearest = traits[0].ID
	}
	c.unknown(at, "trait", name, nearest, c.env.names)
	return nil
}

// dotted gives the name that an expression spells, "leaf.margin".
func dotted(x ast.Expr) (string, bool) {
	var parts []string
	for ; x.Kind() == ast.SelectKind && !x.AsSelect().IsTestOnly(); x = x.AsSelect().Operand() {
		parts = append(parts, x.AsSelect().FieldName())
	}
	if x.Kind() != ast.IdentKind {
		return "", false
	}
	parts = append(parts, x.AsIdent())
	slices.Reverse(parts)
	return strings.Join(parts, "."), true
}

// written gives a literal as it reads.
func written(x ast.Expr) string {
	switch v := x.AsLiteral().(type) {
	case types.String:
		return fmt.Sprintf("%q", string(v))
	case types.Null:
		return "null"
	default:
		return fmt.Sprint(v.Value())
	}
}
