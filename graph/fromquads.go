package graph

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/cayleygraph/quad"
)

// columns is a graph read arrow by arrow: for each the values it leads to from
// every node.
type columns map[string]map[string][]quad.Value

// knowledgeFrom is Quads backwards.
func knowledgeFrom(cols columns) (*Knowledge, error) {
	r := &quadReader{cols: cols, k: &Knowledge{Vocabulary: &Vocabulary{}}}
	r.fields(string(Root), reflect.ValueOf(r.k).Elem())
	if r.err != nil {
		return nil, r.err
	}
	if len(r.k.Vocabulary.Traits) == 0 {
		return nil, fmt.Errorf("this graph holds no vocabulary: it was not loaded by Telltale")
	}
	r.k.Index()
	if r.readGiven(); r.err != nil {
		return nil, r.err
	}
	if err := r.k.check(); err != nil {
		return nil, err
	}
	return r.k, nil
}

type quadReader struct {
	cols  columns
	k     *Knowledge
	given []observed
	err   error
}

// observed is an observation of a rule test that waits for the vocabulary.
type observed struct {
	into  *Observation
	lines string
	node  string
}

func (r *quadReader) fail(node, format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf("the graph at %s: %s", node, fmt.Sprintf(format, args...))
	}
}

func (r *quadReader) fields(node string, v reflect.Value) {
	for i := range v.NumField() {
		if a, ok := arrowOf(v.Type().Field(i)); ok {
			r.field(node, a, v.Field(i))
		}
	}
}

func (r *quadReader) field(node string, a arrow, v reflect.Value) {
	values := r.cols[a.name][node]
	switch x := v.Addr().Interface().(type) {
	case *[]string:
		*x = r.strings(node, a, values)
		return
	case *StageSet:
		for _, o := range values {
			*x |= StagesOf(r.stage(node, o))
		}
		return
	case *Observation:
		r.observation(node, a.name, x)
		return
	}
	if v.Kind() == reflect.Pointer {
		r.fields(a.name, v.Elem())
		return
	}
	if v.Kind() == reflect.Slice {
		r.slice(v, values)
		return
	}
	if len(values) > 0 {
		r.set(node, v, values[0])
	}
}

// stage reads a stage. One that is not known must not pass for every stage.
func (r *quadReader) stage(node string, o quad.Value) Stage {
	s, ok := StageNamed(text(o))
	if !ok || s == AnyStage {
		r.fail(node, "%q is no stage", text(o))
	}
	return s
}

func (r *quadReader) slice(v reflect.Value, values []quad.Value) {
	if elem(v.Type()).Kind() != reflect.Struct {
		slices.SortFunc(values, func(a, b quad.Value) int { return cmp.Compare(text(a), text(b)) })
		v.Set(reflect.MakeSlice(v.Type(), len(values), len(values)))
		for i, o := range values {
			r.set("", v.Index(i), o)
		}
		return
	}
	if len(values) == 0 {
		return
	}
	nodes := make([]string, len(values))
	for i, o := range values {
		nodes[i] = text(o)
	}
	slices.SortFunc(nodes, func(a, b string) int {
		if c := cmp.Compare(r.order(a), r.order(b)); c != 0 {
			return c
		}
		return cmp.Compare(a, b)
	})
	v.Set(reflect.MakeSlice(v.Type(), len(nodes), len(nodes)))
	for i, n := range nodes {
		e := v.Index(i)
		if e.Kind() == reflect.Pointer {
			e.Set(reflect.New(e.Type().Elem()))
			e = e.Elem()
		}
		r.fields(n, e)
	}
}

func (r *quadReader) order(node string) int {
	for _, o := range r.cols[arrowOrder][node] {
		if n, ok := o.(quad.Int); ok {
			return int(n)
		}
	}
	return 0
}

func (r *quadReader) strings(node string, a arrow, values []quad.Value) []string {
	if len(values) == 0 {
		return nil
	}
	if a.text {
		return strings.Split(text(values[0]), "\n")
	}
	out := make([]string, len(values))
	for i, o := range values {
		out[i] = strings.TrimPrefix(text(o), prefixOf(a))
	}
	slices.Sort(out)
	if a.first {
		for _, o := range r.cols[arrowFirst+a.name][node] {
			i := slices.Index(out, text(o))
			if i > 0 {
				copy(out[1:i+1], out[:i])
				out[0] = text(o)
			}
		}
	}
	return out
}

func prefixOf(a arrow) string {
	if a.node == "" {
		return ""
	}
	return a.node + "/"
}

// text gives a value without the marks that tell what sort it is.
func text(v quad.Value) string {
	switch x := v.(type) {
	case quad.IRI:
		return string(x)
	case quad.String:
		return string(x)
	case quad.Int:
		return strconv.Itoa(int(x))
	}
	return fmt.Sprint(quad.NativeOf(v))
}

func (r *quadReader) set(node string, v reflect.Value, o quad.Value) {
	word := text(o)
	var ok bool
	switch x := v.Addr().Interface().(type) {
	case *Place:
		*x = placeFrom(word)
		return
	case *Range:
		var err error
		if *x, err = ParseRange(word, ""); err != nil {
			r.fail(node, "%s", err)
		}
		return
	case *Stage:
		*x, ok = StageNamed(word)
	case *Kind:
		*x, ok = KindNamed(word)
	case *Frequency:
		*x, ok = FrequencyNamed(word)
	case *Severity:
		*x, ok = SeverityNamed(word)
	default:
		ok = setPlain(v, o, word)
	}
	if !ok {
		r.fail(node, "%q is no %s", word, strings.ToLower(v.Type().Name()))
	}
}

func setPlain(v reflect.Value, o quad.Value, word string) bool {
	switch v.Kind() {
	case reflect.String:
		if iri, ok := o.(quad.IRI); ok {
			_, word, _ = strings.Cut(string(iri), "/")
		}
		v.SetString(word)
	case reflect.Bool:
		b, ok := o.(quad.Bool)
		v.SetBool(bool(b))
		return ok
	case reflect.Float64:
		switch x := o.(type) {
		case quad.Float:
			v.SetFloat(float64(x))
		case quad.Int:
			v.SetFloat(float64(x))
		default:
			return false
		}
	default:
		n, ok := o.(quad.Int)
		v.SetInt(int64(n))
		return ok
	}
	return true
}

func placeFrom(s string) Place {
	var p Place
	parts := strings.Split(s, ":")
	if len(parts) < 3 {
		return Place{File: s}
	}
	p.Column, _ = strconv.Atoi(parts[len(parts)-1])
	p.Line, _ = strconv.Atoi(parts[len(parts)-2])
	p.File = strings.Join(parts[:len(parts)-2], ":")
	return p
}

func (r *quadReader) observation(node, name string, into *Observation) {
	for _, o := range r.cols[name+"_stage"][node] {
		into.Stage = r.stage(node, o)
	}
	for _, o := range r.cols[name+"_month"][node] {
		var err error
		if into.Month, err = ParseMonth(text(o)); err != nil {
			r.fail(node, "%s", err)
		}
	}
	for _, o := range r.cols[name+"_part"][node] {
		into.Part = text(o)
	}
	for _, o := range r.cols[name][node] {
		r.given = append(r.given, observed{into: into, lines: text(o), node: node})
	}
}

// readGiven reads the observations of rule tests, now that the vocabulary is
// there.
func (r *quadReader) readGiven() {
	for _, g := range r.given {
		for _, line := range strings.Split(g.lines, "\n") {
			reading, err := ParseReading(r.k.Vocabulary, line)
			if err != nil {
				r.fail(g.node, "%s", err)
				return
			}
			g.into.Readings = append(g.into.Readings, reading)
		}
	}
}
