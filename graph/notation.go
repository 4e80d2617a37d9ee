package graph

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// longestReading is how many characters a reading can have. All states of the
// trait that has most fill some 400 (from memory).
const longestReading = 1000

// ParseReading reads one reading as people type it:
//
//	leaf.arrangement=opposite     a state
//	stem.surface!=stinging        looked for and not there
//	leaf.margin=serrate|dentate   one of these
//	plant.odour_crushed=minty?    not sure
//	leaf.length=3.2in             a measure, mm cm m in ft; bare in the trait's unit
//	leaf.shape@upper=lanceolate   read on the upper leaves
//	hollow stem                   everyday words, where only one trait has them
//
// Trait and state may be everyday words on either side of the sign. The problem
// returned names the column within the text and the nearest real name.
func ParseReading(v *Vocabulary, text string) (Reading, error) {
	r, err := v.readLine(written{text, 1})
	if err == nil {
		return r, nil
	}
	p := problemOf(err)
	p.Place.File = fmt.Sprintf("reading %q", short(text))
	if p.Place.Column == 0 {
		p.Place.Column = 1
	}
	return Reading{}, p
}

// ParseValue reads what stands behind the sign of a reading of the trait. A
// trailing question mark makes it unsure; negated says that the sign was !=. The
// column of the problem returned counts from the first character of text.
func ParseValue(v *Vocabulary, t *Trait, text string, negated bool) (Reading, error) {
	return readValue(t, written{text, 1}, negated)
}

// ParseTrait reads what stands before the sign: a trait by its id or an everyday
// word, with the position it was read at if that is told, "leaf.shape@upper".
// The column of the problem returned counts from the first character of text.
func ParseTrait(v *Vocabulary, text string) (t *Trait, position string, err error) {
	return v.readTrait(written{text, 1})
}

func (v *Vocabulary) readLine(line written) (Reading, error) {
	if n := utf8.RuneCountInString(line.text); n > longestReading {
		return Reading{}, line.problem("this has %d characters, more than any reading", n)
	}
	left, right, negated, signed := line.cutSign()
	if !signed {
		return v.readWords(line.trim())
	}
	t, position, err := v.readTrait(left)
	if err != nil {
		return Reading{}, err
	}
	if i := strings.Index(right.text, "="); i >= 0 {
		return Reading{}, right.from(i).problem("a second = stands here: write one reading at a time, TRAIT=STATE")
	}
	r, err := readValue(t, right, negated)
	r.Position = position
	return r, err
}

// problemOf makes a problem of any error.
func problemOf(err error) *Problem {
	var p *Problem
	if errors.As(err, &p) {
		return p
	}
	return &Problem{Message: err.Error()}
}

func (v *Vocabulary) readTrait(w written) (*Trait, string, error) {
	name, position, positioned := w.trim(), written{}, false
	if i := strings.Index(name.text, "@"); i >= 0 {
		name, position, positioned = name.to(i).trim(), name.from(i+1).trim(), true
	}
	traits := v.TraitsCalled(name.text)
	switch {
	case name.text == "":
		return nil, "", name.problem("no trait is named before the sign")
	case len(traits) == 0:
		return nil, "", name.unknown("trait", v.traitNames(name.text))
	case len(traits) > 1:
		return nil, "", name.problem("%q can be %s: write which", name.text, joinIDs(traits))
	case !positioned:
		return traits[0], "", nil
	}
	for _, p := range v.Positions {
		if wordKey(p.Name) == wordKey(position.text) {
			return traits[0], p.Name, nil
		}
	}
	return nil, "", position.unknown("position", v.PositionNames())
}

func joinIDs(traits []*Trait) string {
	var ids []string
	for _, t := range traits {
		ids = append(ids, t.ID)
	}
	return strings.Join(ids, " or ")
}

// traitNames lists what a misspelt trait can have meant: ids if it looks like
// one, everyday names too otherwise.
func (v *Vocabulary) traitNames(name string) []string {
	names := v.TraitIDs()
	if strings.Contains(name, ".") {
		return names
	}
	for _, t := range v.Traits {
		names = append(names, t.Words...)
	}
	return names
}

func readValue(t *Trait, w written, negated bool) (Reading, error) {
	r := Reading{Trait: t.ID}
	if n := utf8.RuneCountInString(w.text); n > longestReading {
		return r, w.problem("this has %d characters, more than any reading of %s", n, t.ID)
	}
	value := w.trim()
	if !negated && strings.HasPrefix(value.text, "!=") {
		value, negated = value.from(2).trim(), true
	}
	if unsure, ok := strings.CutSuffix(value.text, "?"); ok {
		value, r.Unsure = value.to(len(unsure)).trim(), true
	}
	if value.text == "" {
		return r, value.problem("nothing was read of %s: give %s, or leave the reading out", t.ID, t.expects())
	}
	if t.Kind == StateKind {
		return r, r.readStates(t, value, negated)
	}
	if negated {
		return r, value.problem("%s takes %s: it cannot be read as what it is not", t.ID, t.expects())
	}
	return r, r.readNumber(t, value)
}

// expects says in words what a reading of the trait looks like.
func (t *Trait) expects() string {
	switch t.Kind {
	case MeasureKind:
		return "a length such as 12 " + t.Unit
	case CountKind:
		return "a whole number"
	case MonthsKind:
		return "a month, 1 to 12 or its name"
	default:
		return "one of " + strings.Join(t.StateIDs(), ", ")
	}
}

func (r *Reading) readNumber(t *Trait, value written) error {
	var err error
	switch t.Kind {
	case MonthsKind:
		var month int
		month, err = ParseMonth(value.text)
		r.Low, r.High = float64(month), float64(month)
	default:
		r.Low, r.High, err = parseSpan(value.text, t.Unit)
		if err == nil && t.Kind == CountKind && !(whole(r.Low) && whole(r.High)) {
			err = fmt.Errorf("%q is no whole number", value.text)
		}
	}
	if err == nil {
		return nil
	}
	p := problemOf(err)
	p.Place.Column = value.column
	p.Message = fmt.Sprintf("%s takes %s: %s", t.ID, t.expects(), p.Message)
	return p
}

func (r *Reading) readStates(t *Trait, value written, negated bool) error {
	named, err := t.readNames(value)
	if err != nil {
		return err
	}
	r.States = t.inOrder(func(s string) bool { return slices.Contains(named, s) != negated })
	if !negated {
		return nil
	}
	r.Not = t.inOrder(func(s string) bool { return slices.Contains(named, s) })
	if len(r.States) == 0 {
		return value.problem("this leaves no state that %s can have", t.ID)
	}
	return nil
}

// readNames reads states parted by |.
func (t *Trait) readNames(value written) ([]string, error) {
	var named []string
	for rest, more := value, true; more; {
		word := rest.trim()
		i := strings.Index(rest.text, "|")
		if more = i >= 0; more {
			word, rest = rest.to(i).trim(), rest.from(i+1)
		}
		if word.text == "" {
			return nil, word.problem("an empty state beside | in %q", value.text)
		}
		states := t.StatesCalled(word.text)
		if len(states) == 0 {
			return nil, UnknownState(t, word.text, Place{Column: word.column})
		}
		named = append(named, states...)
	}
	return named, nil
}

// UnknownState is the problem of a state that the trait does not have. It tells a
// misspelt state from a number given for a state, and from an everyday word where
// only the state itself will do.
func UnknownState(t *Trait, word string, at Place) *Problem {
	if states := t.StatesCalled(word); len(states) > 0 {
		return &Problem{Place: at, Message: fmt.Sprintf("%q is an everyday word for the state of %s: write %s", word, t.ID, strings.Join(states, " or "))}
	}
	if _, _, err := parseSpan(word, "cm"); err == nil {
		return &Problem{Place: at, Message: fmt.Sprintf("%s takes a state, not the measure %q: expected %s", t.ID, word, t.expects())}
	}
	p := Unknown(at, "state of "+t.ID, word, t.stateWords())
	if !strings.Contains(p.Message, "(known") {
		p.Message += ": expected " + t.expects()
	}
	return p
}

func (t *Trait) inOrder(keep func(string) bool) []string {
	var out []string
	for i := range t.States {
		if keep(t.States[i].ID) {
			out = append(out, t.States[i].ID)
		}
	}
	return out
}
