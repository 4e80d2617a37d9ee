package graph

import (
	"fmt"
	"reflect"
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
