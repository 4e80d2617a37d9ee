package query

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"regexp"
	"strings"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/query"
	"github.com/cayleygraph/cayley/query/gizmo"
	"github.com/dop251/goja"

	"telltale/graph"
)

// deepestCall is how deep functions of a query may call each other; a query that
// calls itself for ever ends there (common practice, no source).
const deepestCall = 5000

// askGizmo runs JavaScript over a graph, one row for each path or emitted object.
func askGizmo(ctx context.Context, quads cayley.QuadStore, q Query, rows *collector) error {
	program, err := goja.Compile(q.Name, q.Text, false)
	if err != nil {
		return scriptProblem(q, err)
	}
	session := gizmo.NewSession(quads)
	vm, out, err := machine(session)
	if err != nil {
		return err
	}
	vm.SetMaxCallStackSize(deepestCall)
	handle, err := session.Execute(ctx, "", query.Options{Collation: query.Raw, Limit: -1})
	if err != nil {
		return err
	}
	stop := func() {
		vm.Interrupt("enough")
		_ = handle.Close()
	}
	defer context.AfterFunc(ctx, stop)()
	var last any
	done := make(chan error, 1)
	go func() {
		done <- caught(func() (err error) {
			last, err = run(vm, program, q)
			return err
		})
	}()
	for {
		select {
		case r := <-out:
			row, err := gizmoRow(quads, r)
			if err != nil {
				stop()
				<-done
				return err
			}
			if r.Tags == nil {
				rows.said = true
			}
			if !rows.take(row) {
				stop()
				<-done
				return nil
			}
		case err := <-done:
			if err == nil && len(rows.answer.Rows) == 0 {
				takeLast(last, rows)
			}
			return err
		}
	}
}

// takeLast makes rows of what a script ends with, such as the number of a count(),
// where it handed over no others.
func takeLast(last any, rows *collector) {
	if last == nil {
		return
	}
	rows.said = true
	list, several := plain(last).([]any)
	if !several {
		list = []any{plain(last)}
	}
	for _, v := range list {
		if !rows.take(rowOf(v)) {
			return
		}
	}
}

// rowOf makes a row of a value that a script handed over.
func rowOf(v any) Row {
	if object, ok := v.(map[string]any); ok {
		return object
	}
	return Row{"value": v}
}

// machine gives the JavaScript machine of a session and makes the channel on which
// it hands over results. Cayley would run the query in a goroutine of its own,
// where a query that it panics at, such as g.V().out({}), ends the program.
func machine(s *gizmo.Session) (vm *goja.Runtime, out chan *gizmo.Result, err error) {
	fields := reflect.ValueOf(s).Elem()
	v, o := fields.FieldByName("vm"), fields.FieldByName("out")
	if !v.IsValid() || !o.IsValid() || v.Type() != reflect.TypeOf(vm) || o.Type() != reflect.TypeOf(out) {
		return nil, nil, errors.New("this version of Cayley keeps its sessions in another way than the one that this was written for")
	}
	out = make(chan *gizmo.Result)
	*(*chan *gizmo.Result)(o.Addr().UnsafePointer()) = out
	return *(**goja.Runtime)(v.Addr().UnsafePointer()), out, nil
}

// run runs a script and gives what it ends with, nil for nothing.
func run(vm *goja.Runtime, program *goja.Program, q Query) (any, error) {
	last, err := vm.RunProgram(program)
	if err != nil {
		return nil, scriptProblem(q, err)
	}
	value := last.Export()
	switch fmt.Sprintf("%T", value) {
	case "*gizmo.pathObject":
		return nil, fmt.Errorf("%s: it ends with a path that nobody walks: write .all() after it", q.Name)
	case "*gizmo.graphObject":
		return nil, fmt.Errorf("%s: it asks nothing", q.Name)
	}
	if _, isFunction := goja.AssertFunction(last); isFunction {
		return nil, nil
	}
	return value, nil
}

func gizmoRow(quads cayley.QuadStore, r *gizmo.Result) (Row, error) {
	if r.Tags == nil {
		return rowOf(plain(r.Val)), nil
	}
	row := Row{}
	for tag, node := range r.Tags {
		name, err := quads.NameOf(node)
		if err != nil {
			return nil, err
		}
		if name != nil {
			row[unbracketed(tag)] = plain(name)
		}
	}
	return row, nil
}

// Where goja says that something went wrong.
var (
	syntaxAt = regexp.MustCompile(`Line (\d+):(\d+) (.*)`)
	thrownAt = regexp.MustCompile(`(.*?) at (?:.* \()?[^ ()]*?:(\d+):(\d+)\(\d+\)`)
	noMember = regexp.MustCompile(`Object has no member '(\w+)'`)
	noName   = regexp.MustCompile(`(\w+) is not defined`)
)

// scriptProblem says where in a query something is wrong, and what.
func scriptProblem(q Query, err error) error {
	var interrupted *goja.InterruptedError
	if errors.As(err, &interrupted) {
		return nil // by the one who says why
	}
	var deep *goja.StackOverflowError
	if errors.As(err, &deep) {
		return fmt.Errorf("%s: its functions call each other too deep, more than %d times", q.Name, deepestCall)
	}
	var thrown *goja.Exception
	if errors.As(err, &thrown) {
		if own, ok := thrown.Value().Export().(error); ok && !strings.Contains(thrown.Error(), own.Error()) {
			err = own
		}
	}
	text, _, _ := strings.Cut(err.Error(), "\n")
	p := &graph.Problem{Place: graph.Place{File: q.Name}, Message: text}
	for _, pattern := range []*regexp.Regexp{syntaxAt, thrownAt} {
		if m := pattern.FindStringSubmatch(text); m != nil {
			p.Place.Line, p.Place.Column, p.Message = place(pattern, m)
		}
	}
	p.Message = strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(p.Message, "SyntaxError: "), "TypeError: "), "GoError: ")
	for _, pattern := range []*regexp.Regexp{noMember, noName} {
		if m := pattern.FindStringSubmatch(p.Message); m != nil {
			p.Message = fmt.Sprintf("there is no %q in the language of queries", m[1])
			p.Nearest = graph.Nearest(m[1], words())
		}
	}
	return p
}

func place(pattern *regexp.Regexp, m []string) (line, column int, message string) {
	at, message := m[2:], m[1]
	if pattern == syntaxAt {
		at, message = m[1:], m[3]
	}
	_, _ = fmt.Sscan(at[0], &line)
	_, _ = fmt.Sscan(at[1], &column)
	return line, column, message
}

// words lists what a path can be told to do, and what there is besides.
func words() []string {
	return []string{
		"g", "graph", "V", "M", "emit", "IRI",
		"all", "and", "as", "back", "both", "count", "except", "filter", "follow", "followR", "followRecursive", "forEach", "getLimit", "has", "hasR", "in",
		"inPredicates", "intersect", "is", "limit", "map", "or", "order", "out", "outPredicates", "save", "saveInPredicates", "saveOpt", "saveOptR",
		"saveOutPredicates", "saveR", "skip", "tag", "tagArray", "tagValue", "toArray", "toValue", "union", "unique",
		"iri", "str", "lt", "lte", "gt", "gte", "regex", "like",
	}
}
