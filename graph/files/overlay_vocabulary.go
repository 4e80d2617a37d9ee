package files

import "telltale/graph"

// vocabulary adds traits, and states to traits that are known.
func (o *overlay) vocabulary() {
	defer func() { o.known.vocabulary = o.k.Vocabulary }()
	text, p, ok := o.own(vocabularyFile)
	if !ok {
		return
	}
	var f VocabularyFile
	if !p.decode(text, &f) {
		return
	}
	v := o.k.Vocabulary
	for i := range f.Traits {
		if t, known := v.Trait(f.Traits[i].Key.Text); known {
			p.addStates(&f.Traits[i], t)
			o.corrects("trait", t.ID, p.name, f.Traits[i].Value.States.names()...)
		} else if t := p.trait(&f.Traits[i], v); t != nil {
			v.Traits = append(v.Traits, t)
			o.adds("trait", t.ID, p.name)
		}
	}
	v.Index()
	p.wordsOnce(&f, v)
}

func (m Map[T]) names() []string {
	var out []string
	for _, e := range m {
		out = append(out, e.Key.Text)
	}
	return out
}

// addStates adds the states of an entry to a trait that is known. The plants known
// were scored without them: where a new state is read, they must not be excluded
// for what nobody could say of them.
func (p *page) addStates(e *Entry[TraitEntry], t *graph.Trait) {
	if e.Value.Kind.tok != nil || e.Value.Question.tok != nil {
		p.add(e.Key, "%s is a trait that is known: here only states can be added to it", t.ID)
		return
	}
	fresh := *e
	fresh.Value.States = nil
	for _, s := range e.Value.States {
		if t.StateIndex(s.Key.Text) >= 0 {
			p.add(s.Key, "%s is a state of %s already", s.Key.Text, t.ID)
			continue
		}
		fresh.Value.States = append(fresh.Value.States, s)
		if !nearOne(s.Value.Near, t) {
			p.add(s.Key, "the plants that are known were scored without %s: near has to name the states of %s that they would have been given for it", s.Key.Text, t.ID)
		}
	}
	p.states(&fresh, t)
}

// nearOne tells whether a state that is known already is among those named.
func nearOne(near Words, t *graph.Trait) bool {
	for _, n := range near {
		if t.StateIndex(n.Text) >= 0 {
			return true
		}
	}
	return false
}
