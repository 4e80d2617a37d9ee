package rules

import (
	"fmt"
	"slices"
	"strings"

	"pgregory.net/rapid"

	"telltale/graph"
)

// formula is a rule drawn for a test, with its meaning told a second time, apart
// from CEL: what it comes to where some variables have a value and the others are
// unknown.
type formula struct {
	text  string
	comes func(values) string
	names []string // the variables it looks at, as they are waited for
}

// values are what variables have; what is not there is unknown.
type values map[string]any

// The words and numbers that formulas and readings are drawn from.
var (
	drawnStates  = map[string][]string{"stem.surface": {"hairless", "bristly", "woolly"}, "leaf.margin": {"entire", "serrate", "crenate", "dentate"}, "leaf.upper_surface": {"hairless", "hairy", "glossy"}, "leaf.lower_surface": {"glossy", "hairless", "hairy"}, "stage": {"rosette", "flowering"}, "part": {"root", "leaf"}}
	drawnNumbers = []string{"leaf.length", "leaf.breadth", "flower.petals", "month"}
	drawnPlants  = []string{"carrot", "hemlock"}
)

func pick[T any](t *rapid.T, list ...T) T { return rapid.SampledFrom(list).Draw(t, "pick") }

func sortedNames[V any](m map[string]V) []string {
	var out []string
	for name := range m {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// drawFormula draws what a rule can be, joined so many times over.
func drawFormula(t *rapid.T, depth int) formula {
	if depth == 0 {
		return drawPart(t)
	}
	a := drawFormula(t, depth-1)
	switch pick(t, "part", "!", "&&", "||", "&&", "||", "?:") {
	case "part":
		return drawPart(t)
	case "!":
		return formula{"!(" + a.text + ")", func(v values) string { return kleeneNot[a.comes(v)] }, a.names}
	case "&&":
		return joined(a, "&&", drawFormula(t, depth-1), kleeneAnd)
	case "||":
		return joined(a, "||", drawFormula(t, depth-1), kleeneOr)
	}
	b, c := drawFormula(t, depth-1), drawFormula(t, depth-1)
	return formula{"(" + a.text + " ? " + b.text + " : " + c.text + ")", func(v values) string {
		switch a.comes(v) {
		case graph.Fires:
			return b.comes(v)
		case graph.Quiet:
			return c.comes(v)
		}
		return graph.Waits
	}, slices.Concat(a.names, b.names, c.names)}
}

// drawRule draws a rule. What weighs so many traits against one another that the
// environment refuses it is drawn again.
func drawRule(t *rapid.T, env *Env, then string, depth int) (formula, *Rule) {
	x := drawFormula(t, depth)
	r, err := env.Compile(&graph.Rule{ID: "drawn", Then: then, When: x.text})
	if err != nil && strings.Contains(err.Error(), "too many traits") {
		t.Skip()
	}
	if err != nil {
		t.Fatalf("%s\n%s", x.text, err)
	}
	return x, r
}

func joined(a formula, sign string, b formula, table map[[2]string]string) formula {
	return formula{"(" + a.text + " " + sign + " " + b.text + ")", func(v values) string {
		return table[[2]string{a.comes(v), b.comes(v)}]
	}, slices.Concat(a.names, b.names)}
}

func drawPart(t *rapid.T) formula {
	switch pick(t, "state", "state", "state", "state", "number", "number", "number", "states alike", "numbers alike", "question") {
	case "state":
		return drawStatePart(t)
	case "number":
		name, n := pick(t, drawnNumbers...), pick(t, 2, 3, 5)
		sign := pick(t, "<", "<=", ">", ">=", "==", "!=")
		text := fmt.Sprintf("%s %s %d", name, sign, n)
		if rapid.Bool().Draw(t, "turned round") {
			text = fmt.Sprintf("%d %s %s", n, flipped(sign), name)
		}
		return oneOf(text, name, func(x any) bool { return compared(x.(float64), sign, float64(n)) })
	case "states alike":
		return alike("leaf.upper_surface", pick(t, "==", "!="), "leaf.lower_surface")
	case "numbers alike":
		return alike("leaf.length", pick(t, "<", "<=", ">", ">=", "==", "!="), "leaf.breadth")
	}
	plant := pick(t, drawnPlants...)
	switch pick(t, hopedFor, isOpen, isRuledOut) {
	case hopedFor:
		return question(hopedFor, plant, hopedFor, true)
	case isOpen:
		return question(isOpen, plant, isRuledOut, false)
	default:
		return question(isRuledOut, plant, isRuledOut, true)
	}
}

func drawStatePart(t *rapid.T) formula {
	name := pick(t, sortedNames(drawnStates)...)
	a, b := pick(t, drawnStates[name]...), pick(t, drawnStates[name]...)
	switch pick(t, "==", "!=", "in") {
	case "==":
		return oneOf(fmt.Sprintf("%s == %q", name, a), name, func(x any) bool { return x == a })
	case "!=":
		return oneOf(fmt.Sprintf("%q != %s", a, name), name, func(x any) bool { return x != a })
	}
	return oneOf(fmt.Sprintf("%s in [%q, %q]", name, a, b), name, func(x any) bool { return x == a || x == b })
}

// oneOf is a formula about one variable.
func oneOf(text, name string, is func(any) bool) formula {
	return formula{text, func(v values) string {
		x, known := v[name]
		return came(known, func() bool { return is(x) })
	}, []string{name}}
}

func alike(a, sign, b string) formula {
	return formula{a + " " + sign + " " + b, func(v values) string {
		x, known := v[a]
		y, both := v[b]
		return came(known && both, func() bool {
			if x, ok := x.(float64); ok {
				return compared(x, sign, y.(float64))
			}
			return (x == y) == (sign == "==")
		})
	}, []string{a, b}}
}

// question is a formula about a plant: the variable is called "is_ruled_out hemlock".
func question(function, plant, asks string, is bool) formula {
	name := asks + " " + plant
	return formula{fmt.Sprintf("%s(%q)", function, plant), func(v values) string {
		x, known := v[name]
		return came(known, func() bool { return x.(bool) == is })
	}, []string{asks}}
}

func came(known bool, holds func() bool) string {
	switch {
	case !known:
		return graph.Waits
	case holds():
		return graph.Fires
	}
	return graph.Quiet
}

func compared(x float64, sign string, y float64) bool {
	switch sign {
	case "<":
		return x < y
	case "<=":
		return x <= y
	case ">":
		return x > y
	case ">=":
		return x >= y
	case "==":
		return x == y
	}
	return x != y
}

// seen is an observation drawn for a test, with what else rules are told.
type seen struct {
	obs      graph.Observation
	hoped    string
	ruledOut map[string]bool
}

func (s *seen) facts(k *graph.Knowledge) *Facts {
	return NewFacts(k.Vocabulary, &s.obs, s.hoped, s.ruledOut)
}

func (s *seen) words(k *graph.Knowledge) string {
	out := []string{"stage=" + s.obs.Stage.String(), "part=" + s.obs.Part, fmt.Sprint("month=", s.obs.Month), "hoped_for=" + s.hoped}
	for i := range s.obs.Readings {
		out = append(out, s.obs.Readings[i].Notation(k.Vocabulary))
	}
	for _, id := range sortedNames(s.ruledOut) {
		out = append(out, "is_ruled_out="+id)
	}
	return strings.Join(out, " ")
}

// drawSeen draws an observation with up to so many readings of each trait.
func drawSeen(t *rapid.T, k *graph.Knowledge, most int) *seen {
	s := &seen{ruledOut: map[string]bool{}, hoped: pick(t, "", "carrot", "hemlock")}
	s.obs.Stage = pick(t, graph.AnyStage, graph.Rosette, graph.Flowering)
	s.obs.Part = pick(t, "", "root", "leaf")
	s.obs.Month = pick(t, 0, 2, 3, 4, 5)
	for _, trait := range k.Vocabulary.Traits {
		if trait.ID == "seed.length" || trait.ID == "season.flowering" {
			continue
		}
		for range rapid.IntRange(0, most).Draw(t, "readings") {
			s.obs.Readings = append(s.obs.Readings, drawReading(t, trait))
		}
	}
	for _, id := range drawnPlants {
		if rapid.Bool().Draw(t, "ruled out") {
			s.ruledOut[id] = true
		}
	}
	return s
}

func drawReading(t *rapid.T, trait *graph.Trait) graph.Reading {
	r := graph.Reading{Trait: trait.ID, Unsure: rapid.IntRange(0, 4).Draw(t, "unsure") == 0}
	if trait.Kind == graph.StateKind {
		n := rapid.IntRange(1, len(trait.States)).Draw(t, "states")
		r.States = rapid.Permutation(trait.StateIDs()).Draw(t, "which")[:n]
		if rapid.Bool().Draw(t, "not") && n < len(trait.States) {
			r.Not, r.States = r.States, slices.DeleteFunc(trait.StateIDs(), func(s string) bool { return slices.Contains(r.States, s) })
		}
		return r
	}
	r.Low = float64(rapid.IntRange(1, 6).Draw(t, "low"))
	r.High = r.Low
	if rapid.Bool().Draw(t, "span") {
		r.High = float64(rapid.IntRange(int(r.Low), 7).Draw(t, "high"))
	}
	return r
}

// grid is how finely spans are gone through: the numbers of formulas are whole,
// and two measures compared with one another have room between them.
const grid = 0.25

// everyWay lists all that may be true together: each variable that a formula
// looks at has, in turn, every value that sure readings leave it.
func (s *seen) everyWay(k *graph.Knowledge, names []string) []values {
	out := []values{{}}
	for _, name := range slices.Compact(slices.Sorted(slices.Values(names))) {
		possible := s.possible(k, name)
		if len(possible) == 0 {
			continue
		}
		var next []values
		for _, v := range out {
			for _, x := range possible {
				w := values{name: x}
				for n, y := range v {
					w[n] = y
				}
				next = append(next, w)
			}
		}
		out = next
	}
	for _, v := range out {
		for _, id := range drawnPlants {
			if s.ruledOut[id] {
				v[isRuledOut+" "+id] = true
			}
			if s.hoped != "" {
				v[hopedFor+" "+id] = s.hoped == id
			}
		}
	}
	return out
}

// possible lists the values that sure readings leave a variable, none if it is
// unknown.
func (s *seen) possible(k *graph.Knowledge, name string) []any {
	var out []any
	switch {
	case name == "stage" && s.obs.Stage != graph.AnyStage:
		return []any{s.obs.Stage.String()}
	case name == "part" && s.obs.Part != "":
		return []any{s.obs.Part}
	case name == "month" && s.obs.Month != 0:
		return []any{float64(s.obs.Month)}
	}
	for _, r := range s.obs.Readings {
		if r.Trait != name || r.Unsure {
			continue
		}
		for _, x := range r.States {
			out = append(out, x)
		}
		trait, _ := k.Vocabulary.Trait(name)
		step := map[graph.Kind]float64{graph.MeasureKind: grid, graph.CountKind: 1}[trait.Kind]
		for x := r.Low; step > 0 && x <= r.High; x += step {
			out = append(out, x)
		}
	}
	return out
}

// cameToAll is what a formula comes to if every way comes to it, and waits
// otherwise.
func (f *formula) cameToAll(ways []values) string {
	first := f.comes(ways[0])
	for _, v := range ways[1:] {
		if f.comes(v) != first {
			return graph.Waits
		}
	}
	return first
}
