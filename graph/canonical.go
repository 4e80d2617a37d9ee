package graph

import (
	"reflect"
	"slices"
)

// Sort puts the lists whose order tells nothing in the order of the alphabet, as
// a graph gives them back. The first common name stays first.
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
		if list, ok := f.Interface().([]string); ok {
			sortList(list, a)
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

func sortList(list []string, a arrow) {
	switch {
	case a.text || len(list) == 0:
	case a.first:
		slices.Sort(list[1:])
	default:
		slices.Sort(list)
	}
}
