package graph

import (
	"reflect"
	"slices"
	"strconv"
)

// check tells which names lead nowhere: a graph may have been filled or changed by
// others. A statement of a trait that nobody defined, or one that does not say
// how often, must not be reasoned with. Problems are placed by the node.
func (k *Knowledge) check() error {
	c := &checker{k: k, names: map[string][]string{"trait": k.Vocabulary.TraitIDs(), "taxon": k.TaxonIDs(), "source": {Memory}, "part": Parts()}}
	for _, s := range k.Sources {
		c.names["source"] = append(c.names["source"], s.ID)
	}
	c.fields(string(Root), reflect.ValueOf(k).Elem())
	return c.problems.Err()
}

type checker struct {
	k        *Knowledge
	names    map[string][]string // what there is, by the kind of node
	problems Problems
}

func (c *checker) fields(node string, v reflect.Value) {
	c.special(node, v.Addr().Interface())
	for i := range v.NumField() {
		a, ok := arrowOf(v.Type().Field(i))
		if !ok {
			continue
		}
		f := v.Field(i)
		switch {
		case f.Kind() == reflect.Pointer:
			c.fields(node, f.Elem())
		case f.Kind() == reflect.Slice && elem(f.Type()).Kind() == reflect.Struct:
			for j := range f.Len() {
				e := reflect.Indirect(f.Index(j))
				name := keyOf(e)
				if name == "" {
					name = a.name + " " + strconv.Itoa(j+1)
				}
				c.fields(node+"/"+name, e)
			}
		case a.node != "" && f.Kind() == reflect.String && f.String() != "":
			c.known(node, a.node, f.String())
		case a.node != "" && f.Kind() == reflect.Slice:
			for _, name := range f.Interface().([]string) {
				c.known(node, a.node, name)
			}
		}
	}
}

func (c *checker) known(node, kind, name string) {
	if list, closed := c.names[kind]; closed && !slices.Contains(list, name) {
		c.problems.AddUnknown(Place{File: node}, kind, name, list)
	}
}

// special checks what the names of a field alone do not tell.
func (c *checker) special(node string, v any) {
	switch x := v.(type) {
	case *Trait:
		if x.Kind == 0 {
			c.problems.Add(Place{File: node}, "this trait has no kind")
		}
	case *Statement:
		c.statement(node, x)
	case *Check:
		if t, ok := c.k.Vocabulary.Trait(x.Trait); ok {
			c.states(node, t, x.States)
		}
	}
}

func (c *checker) statement(node string, s *Statement) {
	t, ok := c.k.Vocabulary.Trait(s.Trait)
	switch {
	case s.Trait == "":
		c.problems.Add(Place{File: node}, "this statement is of no trait")
	case s.Frequency == 0:
		c.problems.Add(Place{File: node}, "this statement does not say how often")
	case s.Position != "" && !c.k.Vocabulary.HasPosition(s.Position):
		c.problems.AddUnknown(Place{File: node}, "position", s.Position, c.k.Vocabulary.PositionNames())
	case ok && t.Kind == StateKind:
		c.states(node, t, []string{s.State})
	case ok:
		if err := s.Range.Check(t.Kind); err != nil {
			c.problems.Add(Place{File: node}, "%s: %s", t.ID, err)
		}
	}
}

func (c *checker) states(node string, t *Trait, states []string) {
	for _, s := range states {
		if t.StateIndex(s) < 0 {
			c.problems = append(c.problems, UnknownState(t, s, Place{File: node}))
		}
	}
}
