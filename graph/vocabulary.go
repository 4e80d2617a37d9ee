package graph

import (
	"slices"
	"sort"
	"strings"
	"unicode"
)

// Vocabulary defines the traits, their states, and how they are looked at.
type Vocabulary struct {
	Stages    []StageDef `graph:"stage_def"`
	Positions []Term     `graph:"position_def"`
	Efforts   []Effort   `graph:"effort_def"`
	Traits    []*Trait   `graph:"trait_def,at=trait"`

	traits map[string]int
	words  map[string][]int
}

// StageDef says what a stage is and which principal growth stages of the BBCH
// scale it covers.
type StageDef struct {
	Stage Stage  `graph:"stage"`
	BBCH  []int  `graph:"bbch"`
	Means string `graph:"means"`
}

// Term is a name with what it means.
type Term struct {
	Name  string `graph:"name"`
	Means string `graph:"means"`
}

// Effort is what a look takes. Cost is relative to a look with the bare eye.
type Effort struct {
	Name  string  `graph:"name"`
	Cost  float64 `graph:"cost"`
	Means string  `graph:"means"`
	From  string  `graph:"from"`
}

// Index makes the vocabulary ready to be asked: near states hold both ways
// afterwards. It has to be called once after the fields are filled.
func (v *Vocabulary) Index() {
	v.traits = make(map[string]int, len(v.Traits))
	v.words = make(map[string][]int)
	for i, t := range v.Traits {
		v.traits[t.ID] = i
		for _, w := range append([]string{t.ID, t.Label}, t.Words...) {
			key := wordKey(w)
			if key != "" && !slices.Contains(v.words[key], i) {
				v.words[key] = append(v.words[key], i)
			}
		}
		t.mirrorNear()
	}
}

func (t *Trait) mirrorNear() {
	for i := range t.States {
		for _, n := range t.States[i].Near {
			if j := t.StateIndex(n); j >= 0 && j != i && !slices.Contains(t.States[j].Near, t.States[i].ID) {
				t.States[j].Near = append(t.States[j].Near, t.States[i].ID)
			}
		}
	}
	for i := range t.States {
		sort.Slice(t.States[i].Near, func(a, b int) bool {
			return t.StateIndex(t.States[i].Near[a]) < t.StateIndex(t.States[i].Near[b])
		})
	}
}

// wordKey folds what does not tell two everyday words apart: capitals, blanks,
// hyphens, underscores and the shape of the apostrophe.
func wordKey(w string) string {
	plain := true
	for i := 0; i < len(w) && plain; i++ {
		c := w[i]
		plain = 'a' <= c && c <= 'z' || c == '.' || '0' <= c && c <= '9'
	}
	if plain { // as most words of a vocabulary are, of which there are thousands
		return w
	}
	words := strings.FieldsFunc(strings.ToLower(w), func(r rune) bool { return r == '_' || r == '-' || unicode.IsSpace(r) })
	return strings.ReplaceAll(strings.Join(words, " "), "’", "'")
}

// Trait finds a trait by its id.
func (v *Vocabulary) Trait(id string) (*Trait, bool) {
	i, ok := v.traits[id]
	if !ok {
		return nil, false
	}
	return v.Traits[i], true
}

// TraitIndex finds a trait's place in Traits, -1 if there is no such trait.
func (v *Vocabulary) TraitIndex(id string) int {
	if i, ok := v.traits[id]; ok {
		return i
	}
	return -1
}

// TraitIDs lists the traits.
func (v *Vocabulary) TraitIDs() []string {
	out := make([]string, len(v.Traits))
	for i, t := range v.Traits {
		out[i] = t.ID
	}
	return out
}

// TraitsCalled finds the traits that go by this id or everyday name.
func (v *Vocabulary) TraitsCalled(name string) []*Trait {
	if t, ok := v.Trait(strings.ToLower(strings.TrimSpace(name))); ok {
		return []*Trait{t}
	}
	var out []*Trait
	for _, i := range v.words[wordKey(name)] {
		out = append(out, v.Traits[i])
	}
	return out
}

// StatesCalled finds the states of a trait that go by this id or everyday word.
// A word can stand for several: "toothed" is serrate, dentate or crenate.
func (t *Trait) StatesCalled(word string) []string {
	key := wordKey(word)
	for i := range t.States {
		if wordKey(t.States[i].ID) == key {
			return []string{t.States[i].ID}
		}
	}
	var out []string
	for i := range t.States {
		for _, w := range t.States[i].Words {
			if wordKey(w) == key {
				out = append(out, t.States[i].ID)
				break
			}
		}
	}
	return out
}

// stateWords lists all that a state of the trait can be called, each word once.
func (t *Trait) stateWords() []string {
	var out []string
	for i := range t.States {
		for _, w := range append([]string{t.States[i].ID}, t.States[i].Words...) {
			if !slices.Contains(out, w) {
				out = append(out, w)
			}
		}
	}
	return out
}

// EffortCost gives the cost of a look, relative to the bare eye.
func (v *Vocabulary) EffortCost(name string) float64 {
	for _, e := range v.Efforts {
		if e.Name == name {
			return e.Cost
		}
	}
	return 1
}

// HasPosition tells whether the vocabulary knows the position.
func (v *Vocabulary) HasPosition(name string) bool {
	return slices.ContainsFunc(v.Positions, func(t Term) bool { return t.Name == name })
}

// PositionNames lists the positions.
func (v *Vocabulary) PositionNames() []string {
	out := make([]string, len(v.Positions))
	for i, p := range v.Positions {
		out[i] = p.Name
	}
	return out
}
