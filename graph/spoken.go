package graph

import "strings"

// readWords reads a reading without a sign: a state's name that only one trait
// has, alone or with the organ, "hollow stem".
func (v *Vocabulary) readWords(w written) (Reading, error) {
	value, unsure := strings.CutSuffix(w.text, "?")
	value = strings.TrimSpace(value)
	if value == "" {
		return Reading{}, w.problem("nothing was read: write TRAIT=STATE, such as leaf.arrangement=opposite")
	}
	var found []Reading
	for _, t := range v.Traits {
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
		p := w.problem("%q is no reading: write TRAIT=STATE, such as leaf.arrangement=opposite", short(w.text))
		p.Nearest = Nearest(value, v.everyWord())
		return Reading{}, p
	}
	var ways []string
	for i := range found {
		ways = append(ways, found[i].Notation(v))
	}
	return Reading{}, w.problem("%q can be %s: write which", w.text, strings.Join(ways, " or "))
}

// spoken gives what is left of the words when the trait's organ is taken off
// either end: "hollow stem", "stem hollow" and "hollow-stemmed" are "hollow" of a
// stem.
func (t *Trait) spoken(words string) []string {
	key := wordKey(words)
	out := []string{key}
	if t.Organ == "" {
		return out
	}
	forms := []string{t.Organ, t.Organ + "s", t.Organ + "ed", t.Organ + t.Organ[len(t.Organ)-1:] + "ed"}
	if t.Organ == "leaf" {
		forms = []string{"leaf", "leaves", "leaved"}
	}
	for _, organ := range forms {
		if rest, ok := strings.CutSuffix(key, " "+organ); ok {
			out = append(out, rest)
		}
		if rest, ok := strings.CutPrefix(key, organ+" "); ok {
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
