package graph

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

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
	at := func(part string) Place {
		return Place{File: fmt.Sprintf("reading %q", text), Column: columnOf(text, part)}
	}
	left, right, negated, signed := cutSign(text)
	if !signed {
		return v.readWords(text, at(text))
	}
	name, position, positioned := strings.Cut(left, "@")
	name, position = strings.TrimSpace(name), strings.TrimSpace(position)
	traits := v.TraitsCalled(name)
	switch {
	case name == "":
		return Reading{}, &Problem{Place: at(text), Message: "no trait is named before the sign"}
	case len(traits) == 0:
		return Reading{}, Unknown(at(name), "trait", name, v.traitNames(name))
	case len(traits) > 1:
		return Reading{}, &Problem{Place: at(name), Message: fmt.Sprintf("%q can be %s: write which", name, joinIDs(traits))}
	}
	if positioned && !v.HasPosition(position) {
		return Reading{}, Unknown(at(position), "position", position, v.PositionNames())
	}
	r, err := ParseValue(v, traits[0], right, negated)
	if err != nil {
		return Reading{}, placed(err, at(right))
	}
	r.Position = position
	return r, nil
}

// placed gives the problem a place if it has none yet, and makes one of any other
// error.
func placed(err error, at Place) error {
	var p *Problem
	if errors.As(err, &p) {
		if p.Place == (Place{}) {
			p.Place = at
		} else if p.Place.File == "" {
			p.Place.File, p.Place.Column = at.File, at.Column+p.Place.Column-1
		}
		return p
	}
	return &Problem{Place: at, Message: err.Error()}
}

// cutSign parts a reading at = or !=.
func cutSign(text string) (left, right string, negated, ok bool) {
	left, right, ok = strings.Cut(text, "=")
	if !ok {
		return "", "", false, false
	}
	if strings.HasSuffix(left, "!") {
		return strings.TrimSpace(left[:len(left)-1]), strings.TrimSpace(right), true, true
	}
	return strings.TrimSpace(left), strings.TrimSpace(strings.TrimPrefix(right, "=")), false, true
}

// columnOf counts the characters before part in text, from 1.
func columnOf(text, part string) int {
	i := strings.Index(text, part)
	if i < 0 {
		return 1
	}
	return len([]rune(text[:i])) + 1
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

// ParseValue reads what stands behind the sign of a reading of the trait. A
// trailing question mark makes it unsure; negated says that the sign was !=.
func ParseValue(v *Vocabulary, t *Trait, text string, negated bool) (Reading, error) {
	r := Reading{Trait: t.ID}
	value := strings.TrimSpace(text)
	if strings.HasPrefix(value, "!=") {
		value, negated = strings.TrimSpace(value[2:]), true
	}
	if strings.HasSuffix(value, "?") {
		value, r.Unsure = strings.TrimSpace(strings.TrimSuffix(value, "?")), true
	}
	if value == "" {
		return r, fmt.Errorf("nothing was read of %s: give %s, or leave the reading out", t.ID, t.expects())
	}
	if t.Kind == StateKind {
		return r, r.readStates(t, text, value, negated)
	}
	if negated {
		return r, fmt.Errorf("%s is a %s: it cannot be read as what it is not", t.ID, t.Kind)
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
		return "a month, 1 to 12"
	default:
		return "one of " + strings.Join(t.StateIDs(), ", ")
	}
}

func (r *Reading) readNumber(t *Trait, value string) error {
	var err error
	switch t.Kind {
	case MonthsKind:
		var month int
		if month, err = ParseMonth(value); err == nil {
			r.Low, r.High = float64(month), float64(month)
		}
	default:
		r.Low, r.High, err = parseSpan(value, t.Unit)
		if err == nil && t.Kind == CountKind && (r.Low != float64(int(r.Low)) || r.High != float64(int(r.High))) {
			err = fmt.Errorf("%q is no whole number", value)
		}
	}
	if err == nil {
		return nil
	}
	var p *Problem
	if errors.As(err, &p) {
		p.Message = fmt.Sprintf("%s is a %s, expected %s: %s", t.ID, t.Kind, t.expects(), p.Message)
		return p
	}
	return fmt.Errorf("%s is a %s, expected %s: %w", t.ID, t.Kind, t.expects(), err)
}

func (r *Reading) readStates(t *Trait, text, value string, negated bool) error {
	var named []string
	for _, word := range strings.Split(value, "|") {
		word = strings.TrimSpace(word)
		if word == "" {
			return fmt.Errorf("an empty state between | in %q", value)
		}
		states := t.StatesCalled(word)
		if len(states) == 0 {
			return unknownState(t, word, Place{Column: columnOf(text, word)})
		}
		named = append(named, states...)
	}
	if negated {
		r.Not = t.inOrder(func(s string) bool { return slices.Contains(named, s) })
		r.States = t.inOrder(func(s string) bool { return !slices.Contains(named, s) })
		if len(r.States) == 0 {
			return fmt.Errorf("%q leaves %s no state at all", "!="+value, t.ID)
		}
		return nil
	}
	r.States = t.inOrder(func(s string) bool { return slices.Contains(named, s) })
	return nil
}

// unknownState tells a misspelt state from a number given for a state trait.
func unknownState(t *Trait, word string, at Place) *Problem {
	if _, _, err := parseSpan(word, "cm"); err == nil {
		return &Problem{Place: at, Message: fmt.Sprintf("%s takes a state, not the measure %q: expected %s", t.ID, word, t.expects())}
	}
	p := Unknown(at, "state of "+t.ID, word, t.stateWords())
	if !strings.Contains(p.Message, "(known") {
		p.Message += ": expected " + t.expects()
	}
	return p
}

// UnknownState is the problem of a state that the trait does not have.
func UnknownState(t *Trait, word string, at Place) *Problem { return unknownState(t, word, at) }

func (t *Trait) inOrder(keep func(string) bool) []string {
	var out []string
	for i := range t.States {
		if keep(t.States[i].ID) {
			out = append(out, t.States[i].ID)
		}
	}
	return out
}

// readWords reads a reading without a sign: a state's name that only one trait
// has, alone or with the organ, "hollow stem".
func (v *Vocabulary) readWords(text string, at Place) (Reading, error) {
	value, unsure := strings.CutSuffix(strings.TrimSpace(text), "?")
	value = strings.TrimSpace(value)
	var found []Reading
	for _, t := range v.Traits {
		if t.Kind != StateKind {
			continue
		}
		for _, word := range t.spoken(value) {
			if states := t.StatesCalled(word); len(states) > 0 {
				found = append(found, Reading{Trait: t.ID, States: states, Unsure: unsure})
				break
			}
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		p := &Problem{Place: at, Message: fmt.Sprintf("%q is no reading: write TRAIT=STATE, such as leaf.arrangement=opposite", text)}
		p.Nearest = Nearest(value, v.everyWord())
		return Reading{}, p
	}
	var ways []string
	for i := range found {
		ways = append(ways, found[i].Notation(v))
	}
	return Reading{}, &Problem{Place: at, Message: fmt.Sprintf("%q can be %s: write which", text, strings.Join(ways, " or "))}
}

// spoken gives what is left of the words when the trait's organ is taken off
// either end: "hollow stem" and "stem hollow" are "hollow" of a stem.
func (t *Trait) spoken(words string) []string {
	key := wordKey(words)
	out := []string{key}
	for _, organ := range []string{t.Organ, t.Organ + "s", t.Organ + "ed"} {
		if rest, ok := strings.CutSuffix(key, " "+organ); ok {
			out = append(out, rest)
		}
		if rest, ok := strings.CutPrefix(key, organ+" "); ok {
			out = append(out, rest)
		}
	}
	if t.Organ == "leaf" {
		if rest, ok := strings.CutSuffix(key, " leaves"); ok {
			out = append(out, rest)
		}
	}
	return out
}

func (v *Vocabulary) everyWord() []string {
	out := v.TraitIDs()
	for _, t := range v.Traits {
		out = append(out, t.stateWords()...)
	}
	return out
}
