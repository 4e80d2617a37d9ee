package rules

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"

	"telltale/graph"
)

// check reads an expression and finds all that is wrong with it, each with the
// place it has in the rule's file.
func (e *Env) check(r *graph.Rule) (*cel.Ast, graph.Problems) {
	c := &checker{env: e, rule: r}
	if strings.TrimSpace(r.When) == "" {
		c.problems.Add(r.Place, "rule %s has no expression", r.ID)
		return nil, c.problems
	}
	if !utf8.ValidString(r.When) {
		c.problems.Add(r.WhenAt, "the expression of rule %s is not UTF-8", r.ID)
		return nil, c.problems
	}
	checked, issues := e.cel.Compile(r.When)
	if issues.Err() != nil {
		for _, x := range issues.Errors() {
			c.note(x.Message, x.Location.Line(), x.Location.Column())
		}
		return nil, c.problems
	}
	if checked.OutputType() != cel.BoolType {
		c.problems.Add(r.WhenAt, "rule %s is a %s, expected a comparison that holds or does not", r.ID, checked.OutputType())
		return nil, c.problems
	}
	c.info = checked.NativeRep().SourceInfo()
	ast.PreOrderVisit(checked.NativeRep().Expr(), ast.NewExprVisitor(c.visit))
	return checked, c.problems
}

type checker struct {
	env      *Env
	rule     *graph.Rule
	info     *ast.SourceInfo
	problems graph.Problems
}

// placeOf gives the place in the file of a line, from 1, and column, from 0, of
// the expression.
func (c *checker) placeOf(line, column int) graph.Place {
	at := c.rule.WhenAt
	if line > 1 {
		at.Line += line - 1
		at.Column = c.rule.Indent + column + 1
		return at
	}
	if at.Column > 0 {
		at.Column += column
	}
	return at
}

func (c *checker) placeOfExpr(x ast.Expr) graph.Place {
	at := c.info.GetStartLocation(x.ID())
	return c.placeOf(at.Line(), at.Column())
}

var (
	undeclared = regexp.MustCompile(`undeclared reference to '([^']+)'`)
	overload   = regexp.MustCompile(`found no matching overload for '([^']+)' applied to '\(([^)]*)\)'`)
	nameAround = regexp.MustCompile(`[A-Za-z_][A-Za-z0-9_.]*`)
)

// note turns an error of CEL into a problem in the words of the trade.
func (c *checker) note(message string, line, column int) {
	at := c.placeOf(line, column)
	if m := undeclared.FindStringSubmatch(message); m != nil {
		name, from := c.nameAt(line, column, m[1])
		c.problems = append(c.problems, graph.Unknown(c.placeOf(line, from), "trait or function", name, c.env.names()))
		return
	}
	if m := overload.FindStringSubmatch(message); m != nil {
		c.problems.Add(at, "rule %s: %s does not go with %s: %s", c.rule.ID, sign(m[1]), kinds(m[2]), c.hint())
		return
	}
	message = strings.ReplaceAll(message, "Syntax error: ", "")
	c.problems.Add(at, "rule %s cannot be read: %s", c.rule.ID, message)
}

// nameAt finds the whole dotted name that stands at a column of the expression,
// and the column it starts at.
func (c *checker) nameAt(line, column int, otherwise string) (string, int) {
	lines := strings.Split(c.rule.When, "\n")
	if line < 1 || line > len(lines) {
		return otherwise, column
	}
	text := lines[line-1]
	offset := len(string([]rune(text)[:min(column, utf8.RuneCountInString(text))]))
	for _, m := range nameAround.FindAllStringIndex(text, -1) {
		if m[0] <= offset && offset <= m[1] {
			return strings.TrimSuffix(text[m[0]:m[1]], "."), utf8.RuneCountInString(text[:m[0]])
		}
	}
	return otherwise, column
}

var signs = map[string]string{
	operators.Equals: "==", operators.NotEquals: "!=", operators.Less: "<", operators.LessEquals: "<=",
	operators.Greater: ">", operators.GreaterEquals: ">=", operators.In: "in", operators.LogicalAnd: "&&",
	operators.LogicalOr: "||", operators.LogicalNot: "!", operators.Conditional: "?:", operators.Index: "[]",
	operators.OldIn: "in", operators.NotStrictlyFalse: "", operators.Negate: "-",
}

func sign(function string) string {
	if s, ok := signs[function]; ok {
		return s
	}
	return function
}

func kinds(types string) string {
	return strings.NewReplacer("string", "a state", "double", "a measure", "int", "a whole number", "bool", "a truth value", ",", " and").Replace(types)
}

// hint tells of each trait in the expression what it is compared with.
func (c *checker) hint() string {
	var out []string
	seen := map[string]bool{}
	for _, name := range nameAround.FindAllString(c.rule.When, -1) {
		if t, ok := c.env.vocabulary.Trait(name); ok && !seen[name] {
			seen[name] = true
			switch t.Kind {
			case graph.StateKind:
				out = append(out, name+` is compared with a state in quotes, such as "`+t.States[0].ID+`"`)
			case graph.MeasureKind:
				out = append(out, name+" with a number of "+t.Unit)
			default:
				out = append(out, name+" with a whole number")
			}
		}
	}
	if len(out) == 0 {
		return "a trait is compared with a value of its own kind"
	}
	return strings.Join(out, ", ")
}

// visit checks one part of a checked expression: that only comparisons are made,
// and only with states, stages, parts and plants that exist.
func (c *checker) visit(x ast.Expr) {
	switch x.Kind() {
	case ast.CallKind:
		c.call(x)
	case ast.MapKind, ast.StructKind, ast.ComprehensionKind:
		c.problems.Add(c.placeOfExpr(x), "rule %s: only comparisons of readings can be made in a rule", c.rule.ID)
	}
}

func (c *checker) call(x ast.Expr) {
	call := x.AsCall()
	args := call.Args()
	if _, ok := signs[call.FunctionName()]; !ok || call.IsMemberFunction() {
		p := graph.Unknown(c.placeOfExpr(x), "function", call.FunctionName(), []string{"hoped_for", "is_open", "is_ruled_out"})
		c.problems = append(c.problems, p)
		return
	}
	if len(args) != 2 {
		return
	}
	switch call.FunctionName() {
	case operators.Equals, operators.NotEquals:
		c.compared(args[0], args[1])
		c.compared(args[1], args[0])
	case operators.Index:
		c.compared(args[0], args[1])
	case operators.In:
		if args[1].Kind() == ast.ListKind {
			for _, e := range args[1].AsList().Elements() {
				c.compared(args[0], e)
			}
		}
	}
}

// compared checks a value that stands against a variable.
func (c *checker) compared(variable, value ast.Expr) {
	if variable.Kind() != ast.IdentKind || value.Kind() != ast.LiteralKind {
		return
	}
	word, ok := value.AsLiteral().Value().(string)
	if !ok {
		return
	}
	at := c.placeOfExpr(value)
	switch name := variable.AsIdent(); name {
	case stageVar:
		if s, ok := graph.StageNamed(word); !ok || s == graph.AnyStage {
			c.problems.AddUnknown(at, "stage", word, graph.StageNames())
		}
	case partVar:
		c.oneOf(at, "part of a plant", word, graph.Parts())
	case hopedVar, ruledOutVar:
		c.oneOf(at, "plant", word, c.env.knowledge.TaxonIDs())
	default:
		if t, ok := c.env.vocabulary.Trait(name); ok && t.Kind == graph.StateKind && t.StateIndex(word) < 0 {
			p := graph.UnknownState(t, word, at)
			p.Message = fmt.Sprintf("rule %s: %s", c.rule.ID, p.Message)
			c.problems = append(c.problems, p)
		}
	}
}

func (c *checker) oneOf(at graph.Place, what, word string, known []string) {
	for _, k := range known {
		if k == word {
			return
		}
	}
	c.problems.AddUnknown(at, what, word, known)
}
