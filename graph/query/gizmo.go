package query

import (
	"context"
	"encoding/json"
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
	if err := ownEmit(ctx, vm, out); err != nil {
		return err
	}
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
				<-done //nolint:errcheck // it was told to stop
				return err
			}
			if r.Tags == nil {
				rows.said = true
			}
			if !rows.take(row) {
				stop()
				<-done //nolint:errcheck // it was told to stop
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

// ownEmit puts a function of our own in the place of g.emit. Cayley's follows an
// object that contains itself until the program ends.
func ownEmit(ctx context.Context, vm *goja.Runtime, out chan<- *gizmo.Result) error {
	emit := func(call goja.FunctionCall) goja.Value {
		value := call.Argument(0).Export()
		if value == nil {
			return goja.Null()
		}
		if err := writable(value); err != nil {
			panic(vm.NewGoError(err))
		}
		select {
		case out <- &gizmo.Result{Val: value}:
		case <-ctx.Done():
		}
		return goja.Null()
	}
	g := vm.CreateObject(vm.Get("g").ToObject(vm))
	for _, name := range []string{"emit", "Emit"} {
		if err := g.Set(name, emit); err != nil {
			return err
		}
	}
	return errors.Join(vm.Set("g", g), vm.Set("graph", g))
}

// writable tells whether a value of JavaScript can be a row: whatever JSON has.
func writable(value any) error {
	if _, err := json.Marshal(value); err != nil {
		return fmt.Errorf("this cannot be a row (%s): expected texts, numbers, truth values, and lists and objects of these", strings.TrimPrefix(err.Error(), "json: "))
	}
	return nil
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
	if _, isFunction := goja.AssertFunction(last); isFunction || writable(value) != nil {
		return nil, nil //nolint:nilerr // what cannot be written is no answer
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

// Where goja says that something went wrong, and what it has no word for.
var (
	syntaxAt = regexp.MustCompile(`Line (\d+):(\d+) (.*)`)
	noMember = regexp.MustCompile(`Object has no member '(\w+)'`)
	noName   = regexp.MustCompile(`(\w+) is not defined`)
)

// scriptProblem says where in a query something is wrong, and what.
func scriptProblem(q Query, err error) error {
	var interrupted *goja.InterruptedError
	var deep *goja.StackOverflowError
	var thrown *goja.Exception
	p := &graph.Problem{Place: graph.Place{File: q.Name}}
	switch {
	case errors.As(err, &interrupted):
		return nil // who stopped it says why
	case errors.As(err, &deep):
		return fmt.Errorf("%s: its functions call each other too deep, more than %d times", q.Name, deepestCall)
	case errors.As(err, &thrown):
		p.Place.Line, p.Place.Column = thrownAt(thrown)
		p.Message = thrown.Value().String()
	default:
		p.Message = err.Error()
		if m := syntaxAt.FindStringSubmatch(p.Message); m != nil {
			_, _ = fmt.Sscan(m[1], &p.Place.Line)
			_, _ = fmt.Sscan(m[2], &p.Place.Column)
			p.Message = m[3]
		}
	}
	for _, kind := range []string{"SyntaxError: ", "TypeError: ", "GoError: ", "ReferenceError: "} {
		p.Message = strings.TrimPrefix(p.Message, kind)
	}
	p.Message, _, _ = strings.Cut(p.Message, "\n")
	for _, pattern := range []*regexp.Regexp{noMember, noName} {
		if m := pattern.FindStringSubmatch(p.Message); m != nil {
			p.Message = fmt.Sprintf("there is no %q in the language of queries", m[1])
			p.Nearest = graph.Nearest(m[1], words())
		}
	}
	return p
}

// thrownAt finds the line and column of the query that threw, past functions of
// Cayley's and ours.
func thrownAt(e *goja.Exception) (line, column int) {
	for _, frame := range e.Stack() {
		if at := frame.Position(); at.Line > 0 {
			return at.Line, at.Column
		}
	}
	return 0, 0
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
