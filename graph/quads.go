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

// How knowledge becomes a graph. Every taxon, source, trait, study and rule is a
// node named by its kind and id (taxon/daucus-carota); every statement, use,
// toxicity and lookalike link is a node of its own below its taxon
// (taxon/daucus-carota/statement/017). The arrows are the names in the graph
// tags of the fields:
//
//	graph:"note"            a value
//	graph:"source,source"   a node: source/<value>
//	graph:"common_name,first"  values, of which the first comes first again
//	graph:"say,text"        sentences, kept in their order as one text
//	graph:"rule_id,key"     the id that names the node itself
//	graph:"knows_taxon,at=taxon"  nodes named taxon/<key>
//
// Nodes that stand in a list carry their place in it (order). A genus is a node
// too: taxon -in_genus-> genus -in_family-> family.

// The arrows that no field stands for.
const (
	arrowOrder    = "order"
	arrowFirst    = "first_"
	arrowGenus    = "in_genus"
	arrowInFamily = "in_family"
	arrowType     = "is_a"
)

// Root is the node that everything known hangs from.
const Root = quad.IRI("knowledge")

// Node names the node of something by its kind and id.
func Node(kind, id string) quad.IRI { return quad.IRI(kind + "/" + id) }

// Quads writes the knowledge as a graph.
func (k *Knowledge) Quads() []quad.Quad {
	w := &quadWriter{}
	w.fields(Root, reflect.ValueOf(k).Elem(), nil)
	genera := map[string]bool{}
	for _, t := range k.Taxa {
		genus := t.Genus()
		w.add(Node("taxon", t.ID), arrowGenus, Node("genus", genus))
		if !genera[genus] {
			genera[genus] = true
			w.add(Node("genus", genus), arrowInFamily, Node("family", t.Family))
			w.add(Node("genus", genus), arrowType, quad.String("genus"))
		}
	}
	return w.quads
}

type quadWriter struct{ quads []quad.Quad }

func (w *quadWriter) add(s quad.IRI, arrow string, o quad.Value) {
	w.quads = append(w.quads, quad.Quad{Subject: s, Predicate: quad.IRI(arrow), Object: o})
}

// arrow is what a graph tag says of a field.
type arrow struct {
	name  string
	node  string // values are nodes of this kind
	at    string // children are named by this kind and their key
	first bool
	text  bool
	key   bool
}

func arrowOf(f reflect.StructField) (arrow, bool) {
	tag := f.Tag.Get("graph")
	if tag == "" {
		return arrow{}, false
	}
	name, option, _ := strings.Cut(tag, ",")
	a := arrow{name: name}
	switch {
	case option == "key":
		a.key = true
	case option == "first":
		a.first = true
	case option == "text":
		a.text = true
	case strings.HasPrefix(option, "at="):
		a.at = option[len("at="):]
	default:
		a.node = option
	}
	return a, true
}

func (w *quadWriter) fields(node quad.IRI, v reflect.Value, voc *Vocabulary) {
	if k, ok := v.Addr().Interface().(*Knowledge); ok {
		voc = k.Vocabulary
	}
	for i := range v.NumField() {
		a, ok := arrowOf(v.Type().Field(i))
		if ok {
			w.field(node, a, v.Field(i), voc)
		}
	}
}

func (w *quadWriter) field(node quad.IRI, a arrow, v reflect.Value, voc *Vocabulary) {
	switch x := v.Interface().(type) {
	case []string:
		w.strings(node, a, x)
		return
	case StageSet:
		for _, s := range x.List() {
			w.add(node, a.name, quad.String(s.String()))
		}
		return
	case Observation:
		w.observation(node, a.name, x, voc)
		return
	}
	if v.Kind() == reflect.Slice && elem(v.Type()).Kind() == reflect.Struct {
		for i := range v.Len() {
			w.child(node, a, i, reflect.Indirect(v.Index(i)), voc)
		}
		return
	}
	if v.Kind() == reflect.Pointer {
		child := Node(a.name, "")[:len(a.name)]
		w.add(node, a.name, child)
		w.fields(child, v.Elem(), voc)
		return
	}
	if v.Kind() == reflect.Slice {
		for i := range v.Len() {
			w.add(node, a.name, valueOf(v.Index(i), a))
		}
		return
	}
	if !v.IsZero() {
		w.add(node, a.name, valueOf(v, a))
	}
}

func elem(t reflect.Type) reflect.Type {
	t = t.Elem()
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t
}

func (w *quadWriter) child(node quad.IRI, a arrow, i int, v reflect.Value, voc *Vocabulary) {
	child := quad.IRI(fmt.Sprintf("%s/%s/%03d", string(node), a.name, i))
	if key := keyOf(v); key != "" {
		if a.at != "" {
			child = Node(a.at, key)
		} else {
			child = quad.IRI(string(node) + "/" + key)
		}
	}
	w.add(node, a.name, child)
	w.add(child, arrowOrder, quad.Int(i))
	w.add(child, arrowType, quad.String(strings.ToLower(v.Type().Name())))
	w.fields(child, v, voc)
}

// keyOf gives the id that names the node of a value, "" where it has none.
func keyOf(v reflect.Value) string {
	for i := range v.NumField() {
		if a, ok := arrowOf(v.Type().Field(i)); ok && a.key {
			return v.Field(i).String()
		}
	}
	return ""
}

func (w *quadWriter) strings(node quad.IRI, a arrow, list []string) {
	if a.text {
		if len(list) > 0 {
			w.add(node, a.name, quad.String(strings.Join(list, "\n")))
		}
		return
	}
	for i, s := range list {
		if i == 0 && a.first {
			w.add(node, arrowFirst+a.name, quad.String(s))
		}
		w.add(node, a.name, stringValue(s, a))
	}
}

func stringValue(s string, a arrow) quad.Value {
	if a.node != "" {
		return Node(a.node, s)
	}
	return quad.String(s)
}

// valueOf writes a single value. Names of closed lists are written as words.
func valueOf(v reflect.Value, a arrow) quad.Value {
	switch x := v.Interface().(type) {
	case Place:
		return quad.String(fmt.Sprintf("%s:%d:%d", x.File, x.Line, x.Column))
	case fmt.Stringer: // Stage, Kind, Frequency, Severity, Range
		return quad.String(x.String())
	}
	switch v.Kind() {
	case reflect.String:
		return stringValue(v.String(), a)
	case reflect.Bool:
		return quad.Bool(v.Bool())
	case reflect.Float64:
		return quad.Float(v.Float())
	default:
		return quad.Int(v.Int())
	}
}

func (w *quadWriter) observation(node quad.IRI, name string, o Observation, voc *Vocabulary) {
	if o.Stage != AnyStage {
		w.add(node, name+"_stage", quad.String(o.Stage.String()))
	}
	if o.Month != 0 {
		w.add(node, name+"_month", quad.Int(o.Month))
	}
	if o.Part != "" {
		w.add(node, name+"_part", quad.String(o.Part))
	}
	var lines []string
	for i := range o.Readings {
		lines = append(lines, o.Readings[i].Notation(voc))
	}
	w.strings(node, arrow{name: name, text: true}, lines)
}

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
	word, ok := text(o), true
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
