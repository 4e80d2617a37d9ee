package graphtest

import (
	"slices"
	"strconv"
	"strings"

	"telltale/graph"
)

// States is a trait with the states named, and what else the lines say of it:
//
//	bristly ~ woolly          the two are taken for one another
//	group hairs               its evidence group; a group of its own otherwise
//	error 0.2                 how often it is misread; 0.05 otherwise
//	seen at rosette fruiting  the stages at which it can be seen; all otherwise
//	effort cut                what the look takes; the bare eye otherwise
//	never excludes            as habitat does not
//	many                      several states can hold at once
//	caution it stings         where looking can hurt
//	furry means woolly        an everyday word for one or more states
func States(id, states string, lines ...string) Piece {
	t := newTrait(id, graph.StateKind)
	for _, s := range strings.Fields(states) {
		t.States = append(t.States, graph.State{ID: s, Means: "it is " + strings.ReplaceAll(s, "_", " ")})
	}
	return trait(t, lines)
}

// Measure is a trait measured in cm or mm. All measures together are one
// evidence group.
func Measure(id, unit string, lines ...string) Piece {
	t := newTrait(id, graph.MeasureKind)
	t.Unit = unit
	return trait(t, lines)
}

// Count is a trait that is counted.
func Count(id string, lines ...string) Piece { return trait(newTrait(id, graph.CountKind), lines) }

// Months is a trait given in months. It never excludes.
func Months(id string, lines ...string) Piece {
	t := newTrait(id, graph.MonthsKind)
	t.Excludes, t.Because = false, "seasons shift"
	return trait(t, lines)
}

func newTrait(id string, kind graph.Kind) *graph.Trait {
	organ, _, _ := strings.Cut(id, ".")
	words := strings.NewReplacer(".", " ", "_", " ").Replace(id)
	return &graph.Trait{
		ID: id, Kind: kind, Organ: organ, Label: words, Question: "What of the " + words + "?", Means: "Look at the " + words + ".",
		Effort: "eye", Group: id, Excludes: true, ErrorRate: 0.05, ErrorFrom: graph.Memory,
	}
}

func trait(t *graph.Trait, lines []string) Piece {
	for _, line := range lines {
		describe(t, line)
	}
	return func(k *graph.Knowledge) { k.Vocabulary.Traits = append(k.Vocabulary.Traits, t) }
}

func describe(t *graph.Trait, line string) {
	words := strings.Fields(line)
	switch {
	case len(words) == 3 && words[1] == "~":
		i := state(t, words[0], line)
		t.States[i].Near = append(t.States[i].Near, t.States[state(t, words[2], line)].ID)
	case len(words) >= 3 && words[1] == "means":
		for _, s := range words[2:] {
			i := state(t, s, line)
			t.States[i].Words = append(t.States[i].Words, words[0])
		}
	case words[0] == "group":
		t.Group = words[1]
	case words[0] == "error":
		rate, err := strconv.ParseFloat(words[1], 64)
		check(err)
		t.ErrorRate = rate
	case strings.HasPrefix(line, "seen at "):
		t.SeeAt = stagesNamed(words[2:])
	case words[0] == "effort":
		t.Effort = words[1]
	case line == "never excludes":
		t.Excludes, t.Because = false, "it says nothing for sure"
	case line == "many":
		t.Many = true
	case words[0] == "caution":
		t.Caution = strings.Join(words[1:], " ")
	default:
		unread("trait", line)
	}
}

func state(t *graph.Trait, name, line string) int {
	i := t.StateIndex(name)
	if i < 0 {
		unread("trait with the states "+strings.Join(t.StateIDs(), ", "), line)
	}
	return i
}

// traitNamed finds a trait of the graph that is being made. It may not be
// indexed yet.
func traitNamed(k *graph.Knowledge, id, line string) *graph.Trait {
	i := slices.IndexFunc(k.Vocabulary.Traits, func(t *graph.Trait) bool { return t.ID == id })
	if i < 0 {
		unread("graph without the trait "+id, line)
	}
	return k.Vocabulary.Traits[i]
}
