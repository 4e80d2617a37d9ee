package exchange

import (
	"os"
	"reflect"
	"testing"

	"telltale/graph"
	"telltale/graph/files"
)

// made is a small knowledge in which every field of every file is filled somewhere.
// Its plants are made up.
func made(t testing.TB) *graph.Knowledge {
	t.Helper()
	k, err := files.Load(os.DirFS("testdata/made"))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// shipped is the knowledge that comes with the program.
func shipped(t testing.TB) *graph.Knowledge {
	t.Helper()
	k, err := files.Load(os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// TestMadeFillsEveryField: a field that nothing fills could get lost on the way out
// or back, and no golden file would show it.
func TestMadeFillsEveryField(t *testing.T) {
	filled := map[string]bool{"Knowledge.Corrections": true} // history, which no file holds
	var look func(reflect.Value)
	look = func(v reflect.Value) {
		for v.Kind() == reflect.Pointer {
			v = v.Elem()
		}
		switch v.Kind() {
		case reflect.Slice:
			for i := range v.Len() {
				look(v.Index(i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				f := v.Type().Field(i)
				if f.Tag.Get("graph") == "" {
					continue
				}
				name := v.Type().Name() + "." + f.Name
				filled[name] = filled[name] || !v.Field(i).IsZero()
				look(v.Field(i))
			}
		}
	}
	look(reflect.ValueOf(made(t)))
	for name, ok := range filled {
		if !ok {
			t.Errorf("%s is filled nowhere in testdata/made", name)
		}
	}
}
