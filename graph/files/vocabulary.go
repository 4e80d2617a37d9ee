package files

import (
	"slices"
	"strconv"

	"telltale/graph"
)

// VocabularyFile is data/vocabulary.yaml: the traits, their states, and how they
// are looked at.
type VocabularyFile struct {
	Stages    Map[StageEntry]  `yaml:"stages"`
	Positions Map[TermEntry]   `yaml:"positions"`
	Efforts   Map[EffortEntry] `yaml:"efforts"`
	Traits    Map[TraitEntry]  `yaml:"traits"`
}

// StageEntry says what a stage of growth is and which principal growth stages of
// the BBCH scale it covers.
type StageEntry struct {
	BBCH  Words `yaml:"bbch"`
	Means Word  `yaml:"means"`
}

// TermEntry says what a name means.
type TermEntry struct {
	Means Word `yaml:"means"`
}

// EffortEntry says what a look takes, in looks with the bare eye.
type EffortEntry struct {
	Cost  Word `yaml:"cost"`
	Means Word `yaml:"means"`
	From  Word `yaml:"from"`
}

// TraitEntry defines one trait.
type TraitEntry struct {
	Kind     Word            `yaml:"kind"`
	Unit     Word            `yaml:"unit"`
	Organ    Word            `yaml:"organ"`
	Label    Word            `yaml:"label"`
	Words    Words           `yaml:"words"`
	Question Word            `yaml:"question"`
	Means    Word            `yaml:"means"`
	SeeAt    Words           `yaml:"see_at"`
	Effort   Word            `yaml:"effort"`
	Caution  Word            `yaml:"caution"`
	Group    Word            `yaml:"group"`
	Error    ErrorEntry      `yaml:"error"`
	Excludes Word            `yaml:"excludes"`
	Because  Word            `yaml:"because"`
	Many     Word            `yaml:"many"`
	States   Map[StateEntry] `yaml:"states"`
}

// ErrorEntry says how often observers read a trait wrongly, and who says so.
type ErrorEntry struct {
	Rate Word `yaml:"rate"`
	From Word `yaml:"from"`
}

// StateEntry defines one state of a trait.
type StateEntry struct {
	Means Word  `yaml:"means"`
	Words Words `yaml:"words"`
	Near  Words `yaml:"near"`
}

func (p *page) vocabulary(f *VocabularyFile) *graph.Vocabulary {
	v := &graph.Vocabulary{}
	for _, e := range f.Stages {
		stage, ok := p.stage(e.Key)
		if !ok {
			continue
		}
		def := graph.StageDef{Stage: stage, Means: e.Value.Means.Text}
		for _, w := range e.Value.BBCH {
			n, err := strconv.Atoi(w.Text)
			if err != nil || n < 0 || n > 9 {
				p.add(w, "%q is no principal growth stage: BBCH has 0 to 9", w.Text)
			}
			def.BBCH = append(def.BBCH, n)
		}
		v.Stages = append(v.Stages, def)
	}
	for _, e := range f.Positions {
		v.Positions = append(v.Positions, graph.Term{Name: e.Key.Text, Means: e.Value.Means.Text})
	}
	for _, e := range f.Efforts {
		cost := p.fraction(e.Value.Cost, "cost", 1000)
		v.Efforts = append(v.Efforts, graph.Effort{Name: e.Key.Text, Cost: cost, Means: e.Value.Means.Text, From: e.Value.From.Text})
	}
	for i := range f.Traits {
		if t := p.trait(&f.Traits[i], v); t != nil {
			v.Traits = append(v.Traits, t)
		}
	}
	v.Index()
	p.wordsOnce(f, v)
	return v
}

// wordsOnce finds everyday names that two traits share: a reading under such a
// name could be of either.
func (p *page) wordsOnce(f *VocabularyFile, v *graph.Vocabulary) {
	for _, e := range f.Traits {
		for _, w := range append(e.Value.Words, e.Value.Label) {
			for _, t := range v.TraitsCalled(w.Text) {
				if t.ID != e.Key.Text {
					p.add(w, "%q is a name of %s too: a reading under it could be of either", w.Text, t.ID)
				}
			}
		}
	}
}

func (p *page) trait(e *Entry[TraitEntry], v *graph.Vocabulary) *graph.Trait {
	x := &e.Value
	t := &graph.Trait{
		ID: e.Key.Text, Unit: x.Unit.Text, Organ: x.Organ.Text, Label: x.Label.Text, Words: x.Words.texts(),
		Question: x.Question.Text, Means: x.Means.Text, Effort: x.Effort.Text, Caution: x.Caution.Text,
		Group: x.Group.Text, Because: x.Because.Text, ErrorFrom: x.Error.From.Text,
	}
	p.named(e.Key, traitID, "trait", "organ.what in small letters, digits and underscores")
	var ok bool
	if t.Kind, ok = graph.KindNamed(x.Kind.Text); !ok {
		p.unknownOr(x.Kind, e.Key, "kind", graph.KindNames())
		return nil
	}
	t.Excludes = p.truth(x.Excludes, t.Kind != graph.MonthsKind)
	t.Many = p.truth(x.Many, false)
	t.SeeAt = p.stages(x.SeeAt)
	t.ErrorRate = p.fraction(x.Error.Rate, "error rate", 1)
	if t.Kind == graph.MeasureKind && t.Unit != "cm" && t.Unit != "mm" {
		p.unknownOr(x.Unit, e.Key, "unit for a measure", []string{"cm", "mm"})
	}
	if t.Group == "" {
		t.Group = t.ID
	}
	if t.Label == "" {
		t.Label = t.ID
	}
	if t.Question == "" {
		p.add(e.Key, "%s has no question to ask", t.ID)
	}
	efforts := effortNames(v)
	if !slices.Contains(efforts, t.Effort) {
		p.unknownOr(x.Effort, e.Key, "effort", efforts)
	}
	p.states(e, t)
	return t
}

func effortNames(v *graph.Vocabulary) []string {
	var out []string
	for _, e := range v.Efforts {
		out = append(out, e.Name)
	}
	return out
}

func (p *page) states(e *Entry[TraitEntry], t *graph.Trait) {
	for _, s := range e.Value.States {
		p.named(s.Key, stateID, "state", "small letters, digits and underscores")
		t.States = append(t.States, graph.State{ID: s.Key.Text, Means: s.Value.Means.Text, Words: s.Value.Words.texts(), Near: s.Value.Near.texts()})
	}
	if (t.Kind == graph.StateKind) != (len(t.States) > 0) {
		p.add(e.Key, "%s is a trait of kind %s with %d states", t.ID, t.Kind, len(t.States))
	}
	if len(t.States) > graph.MaxStates {
		p.add(e.Key, "%s has %d states, more than the %d there is room for", t.ID, len(t.States), graph.MaxStates)
	}
	for _, s := range e.Value.States {
		for _, n := range s.Value.Near {
			if t.StateIndex(n.Text) < 0 {
				p.unknown(n, "state of "+t.ID, t.StateIDs())
			}
		}
		for _, w := range s.Value.Words {
			if called := t.StatesCalled(w.Text); len(called) == 1 && called[0] != s.Key.Text {
				p.add(w, "%q is a state of %s itself and cannot be another word for %s", w.Text, t.ID, s.Key.Text)
			}
		}
	}
}

// unknownOr notes an unknown name, or that none is given.
func (p *page) unknownOr(w, key Word, what string, known []string) {
	if w.Text == "" {
		p.add(key, "%s has no %s", key.Text, what)
		return
	}
	p.unknown(w, what, known)
}

// fraction reads a number between 0 and most; nothing written is 0.
func (p *page) fraction(w Word, what string, most float64) float64 {
	if w.Text == "" {
		return 0
	}
	x, err := strconv.ParseFloat(w.Text, 64)
	if err != nil || !(x >= 0 && x <= most) {
		p.add(w, "%q is no %s: expected a number from 0 to %g", w.Text, what, most)
		return 0
	}
	return x
}

func (p *page) truth(w Word, otherwise bool) bool {
	switch w.Text {
	case "":
		return otherwise
	case "true":
		return true
	case "false":
		return false
	}
	p.add(w, "expected true or false, not %q", w.Text)
	return otherwise
}

func (p *page) stages(ws Words) graph.StageSet {
	var set graph.StageSet
	for _, w := range ws {
		if s, ok := p.stage(w); ok {
			set |= graph.StagesOf(s)
		}
	}
	return set
}

// stage finds one of the six stages. What holds at every stage names none.
func (p *page) stage(w Word) (graph.Stage, bool) {
	s, ok := graph.StageNamed(w.Text)
	if !ok || s == graph.AnyStage {
		p.unknown(w, "stage", graph.StageNames())
		return s, false
	}
	return s, true
}
