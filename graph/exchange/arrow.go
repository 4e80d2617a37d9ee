package exchange

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"telltale/graph"
)

// leads is what an arrow can lead to.
type leads int

const (
	toText    leads = iota // a string
	toInteger              // xsd:integer
	toNumber               // xsd:double
	toTruth                // xsd:boolean
	toNode                 // a node that other arrows lead to as well
	toChild                // a node of its own, which no other arrow leads to
)

// String says what stands at the end of the arrow.
func (l leads) String() string {
	return [...]string{"a text", "a whole number", "a number", "true or false", "a node", "a node"}[l]
}

// arrows lists the arrows that knowledge is written with, and what each leads to,
// from the graph tags of the types. Two fields may share an arrow only if it leads
// to the same.
func arrows() (map[string]leads, error) {
	all := map[string]leads{
		"order": toInteger, "in_genus": toNode, "in_family": toNode, "is_a": toText,
	}
	var clash error
	add := func(name string, to leads) {
		if has, ok := all[name]; ok && has != to {
			clash = fmt.Errorf("the arrow %s leads to %s in one place and to %s in another", name, has, to)
		}
		all[name] = to
	}
	walk(reflect.TypeFor[graph.Knowledge](), add)
	return all, clash
}

func walk(t reflect.Type, add func(string, leads)) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	for i := range t.NumField() {
		f := t.Field(i)
		tag := f.Tag.Get("graph")
		if tag == "" {
			continue
		}
		name, option, _ := strings.Cut(tag, ",")
		add(name, leadsTo(f.Type, option))
		switch {
		case f.Type == reflect.TypeFor[graph.Observation]():
			add(name+"_stage", toText)
			add(name+"_month", toInteger)
			add(name+"_part", toText)
		case option == "first":
			add("first_"+name, toText)
		case leadsTo(f.Type, option) == toChild:
			walk(f.Type, add)
		}
	}
}

// leadsTo tells what an arrow for a field of this type leads to. An option that is
// none of the words of the tags is the kind of node that a string names.
func leadsTo(t reflect.Type, option string) leads {
	names := option != "" && !strings.HasPrefix(option, "at=") && !slices.Contains([]string{"key", "first", "text"}, option)
	switch {
	case names:
		return toNode
	case t == reflect.TypeFor[graph.StageSet](), t == reflect.TypeFor[graph.Observation](), t == reflect.TypeFor[graph.Place](),
		t.Implements(reflect.TypeFor[fmt.Stringer]()):
		return toText
	}
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	switch t.Kind() {
	case reflect.Struct:
		return toChild
	case reflect.String:
		return toText
	case reflect.Bool:
		return toTruth
	case reflect.Float64:
		return toNumber
	default:
		return toInteger
	}
}
