package graph

import (
	"reflect"
	"slices"
	"strings"
)

// Sort puts the lists whose order tells nothing in the order of the alphabet,
// each value once, as a graph gives them back. The first common name stays
// first, and sentences keep their order, each on one line.
func (k *Knowledge) Sort() {
	sortLists(reflect.ValueOf(k).Elem())
	k.Index()
}

func sortLists(v reflect.Value) {
	for i := range v.NumField() {
		a, ok := arrowOf(v.Type().Field(i))
		if !ok {
			continue
		}
		f := v.Field(i)
		switch list := f.Addr().Interface().(type) {
		case *[]string:
			*list = canonical(*list, a)
			continue
		case *[]int:
			slices.Sort(*list)
			*list = slices.Compact(*list)
			continue
		}
		switch {
		case f.Kind() == reflect.Pointer && f.Type().Elem().Kind() == reflect.Struct:
			sortLists(f.Elem())
		case f.Kind() == reflect.Slice && elem(f.Type()).Kind() == reflect.Struct:
			for j := range f.Len() {
				sortLists(reflect.Indirect(f.Index(j)))
			}
		}
	}
}

func canonical(list []string, a arrow) []string {
	if a.text {
		for i, s := range list {
			list[i] = strings.ReplaceAll(s, "\n", " ")
		}
		return list
	}
	list = slices.DeleteFunc(list, func(s string) bool { return s == "" })
	if !a.first || len(list) == 0 {
		slices.Sort(list)
		return slices.Compact(list)
	}
	first := list[0]
	rest := slices.DeleteFunc(list[1:], func(s string) bool { return s == first })
	slices.Sort(rest)
	return append(list[:1], slices.Compact(rest)...)
}
