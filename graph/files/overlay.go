package files

import (
	"bytes"
	"errors"
	"io/fs"
	"maps"
	"path"
	"slices"

	"telltale/graph"
)

// Over lays somebody's own data, in the layout that Load reads, over what is
// known, and gives the two together; base stays as it was. Every file may be
// missing. name is what the folder is called in problems and corrections.
//
// A taxon file for a plant that is known corrects it: a trait it scores replaces
// all that was stated of that trait, names and range replace those known, and
// toxicity, uses and lookalikes are added, so that no harm can get lost by
// leaving it out. A study replaces the study of that plant, a rule the rule of
// that id, a source the source of that id. A vocabulary may add traits, and states
// to traits that are known.
func Over(base *graph.Knowledge, name string, fsys fs.FS) (*graph.Knowledge, error) {
	if err := isFolder(name, fsys); err != nil {
		return nil, err
	}
	o := &overlay{name: name, base: base}
	o.loader = loader{fsys: fsys, k: copyOf(base), known: knownFrom(base), prefix: name}
	o.known.corrected = map[string]bool{}
	o.vocabulary()
	o.sources()
	o.taxa()
	o.studies()
	o.rules()
	if err := o.problems.Err(); err != nil {
		return nil, err
	}
	o.k.Sort()
	return o.k, nil
}

type overlay struct {
	loader
	name string
	base *graph.Knowledge
}

func isFolder(name string, fsys fs.FS) error {
	_, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return &graph.Problem{Place: graph.Place{File: name}, Message: "this folder of own data cannot be read: " + plain(err).Error()}
	}
	return nil
}

// copyOf copies the lists, and what an overlay changes within them is copied when
// it is changed.
func copyOf(k *graph.Knowledge) *graph.Knowledge {
	out := &graph.Knowledge{
		Sources: slices.Clone(k.Sources), Taxa: slices.Clone(k.Taxa), Studies: slices.Clone(k.Studies), Rules: slices.Clone(k.Rules),
		Corrections: slices.Clone(k.Corrections),
	}
	v := &graph.Vocabulary{Stages: k.Vocabulary.Stages, Positions: slices.Clone(k.Vocabulary.Positions), Efforts: slices.Clone(k.Vocabulary.Efforts)}
	for _, t := range k.Vocabulary.Traits {
		c := *t
		c.States = slices.Clone(t.States)
		for i := range c.States {
			c.States[i].Near = slices.Clone(c.States[i].Near)
		}
		v.Traits = append(v.Traits, &c)
	}
	v.Index()
	out.Vocabulary = v
	return out
}

func (o *overlay) corrects(kind, of, file string, what ...string) {
	o.k.Corrections = append(o.k.Corrections, graph.Correction{Kind: kind, Of: of, What: what, File: file})
}

func (o *overlay) has(file string) bool {
	_, err := fs.Stat(o.fsys, file)
	return !errors.Is(err, fs.ErrNotExist)
}

func (o *overlay) vocabulary() {
	defer func() { o.known.vocabulary = o.k.Vocabulary }()
	if !o.has(vocabularyFile) {
		return
	}
	text, ok := o.read(vocabularyFile)
	if !ok || onlyComments(text) {
		return
	}
	var f VocabularyFile
	p := o.page(vocabularyFile)
	if !p.decode(text, &f) {
		return
	}
	v := o.k.Vocabulary
	for i := range f.Traits {
		if t, known := v.Trait(f.Traits[i].Key.Text); known {
			p.addStates(&f.Traits[i], t)
			o.corrects("trait", t.ID, p.name, "states")
		} else if t := p.trait(&f.Traits[i], v); t != nil {
			v.Traits = append(v.Traits, t)
		}
	}
	v.Index()
}

// addStates adds the states of an entry to a trait that is known.
func (p *page) addStates(e *Entry[TraitEntry], t *graph.Trait) {
	if e.Value.Kind.tok != nil || e.Value.Question.tok != nil {
		p.add(e.Key, "%s is a trait that is known: here only states can be added to it", t.ID)
		return
	}
	for _, s := range e.Value.States {
		if t.StateIndex(s.Key.Text) >= 0 {
			p.add(s.Key, "%s is a state of %s already", s.Key.Text, t.ID)
			continue
		}
		t.States = append(t.States, graph.State{ID: s.Key.Text, Means: s.Value.Means.Text, Words: s.Value.Words.texts(), Near: s.Value.Near.texts()})
	}
	for _, s := range e.Value.States {
		for _, n := range s.Value.Near {
			if t.StateIndex(n.Text) < 0 {
				p.unknown(n, "state of "+t.ID, t.StateIDs())
			}
		}
	}
	if len(t.States) > graph.MaxStates {
		p.add(e.Key, "%s has %d states, more than the %d there is room for", t.ID, len(t.States), graph.MaxStates)
	}
}

func (o *overlay) sources() {
	if !o.has(sourcesFile) {
		return
	}
	text, ok := o.read(sourcesFile)
	if !ok || onlyComments(text) {
		return
	}
	var f Map[SourceEntry]
	p := o.page(sourcesFile)
	if !p.decode(text, &f) {
		return
	}
	for i := range f {
		s := p.source(&f[i])
		if j := slices.IndexFunc(o.k.Sources, func(x *graph.Source) bool { return x.ID == s.ID }); j >= 0 {
			o.k.Sources[j] = s
			o.corrects("source", s.ID, p.name)
			continue
		}
		o.k.Sources = append(o.k.Sources, s)
		o.known.sources[s.ID] = true
		o.known.sourceIDs = append(o.known.sourceIDs, s.ID)
	}
}

func (o *overlay) taxa() {
	known := maps.Clone(o.known.taxa)
	for _, t := range o.taxonFiles() {
		id := t.file.ID.Text
		o.known.corrected[id] = known[id]
		read := t.page.taxon(t.file, o.known)
		i := slices.IndexFunc(o.k.Taxa, func(x *graph.Taxon) bool { return x.ID == id })
		if i < 0 {
			o.k.Taxa = append(o.k.Taxa, read)
			continue
		}
		merged, what := correct(o.k.Taxa[i], read)
		o.k.Taxa[i] = merged
		o.corrects("taxon", id, t.page.name, what...)
	}
}

// correct lays what was read of a taxon over what is known of it, and tells what
// that changed.
func correct(known, read *graph.Taxon) (*graph.Taxon, []string) {
	out := *known
	var what []string
	text := func(to *string, from, name string) {
		if from != "" && from != *to {
			*to = from
			what = append(what, name)
		}
	}
	list := func(to *[]string, from []string, name string) {
		if len(from) > 0 && !slices.Equal(*to, from) {
			*to = from
			what = append(what, name)
		}
	}
	text(&out.Name, read.Name, "name")
	text(&out.Author, read.Author, "author")
	text(&out.Family, read.Family, "family")
	list(&out.Common, read.Common, "common names")
	list(&out.Synonyms, read.Synonyms, "synonyms")
	list(&out.Range, read.Range, "range")
	if len(read.Sources) > 0 {
		out.Sources = read.Sources
	}
	out.Statements, what = correctStatements(known.Statements, read.Statements, what)
	out.Overrules = slices.Clone(known.Overrules)
	for _, r := range read.Overrules {
		out.Overrules = slices.DeleteFunc(out.Overrules, func(x graph.Overrule) bool { return x.Trait == r.Trait })
		out.Overrules = append(out.Overrules, r)
		what = append(what, "whether "+r.Trait+" is told in full")
	}
	if len(read.Toxicity) > 0 {
		out.Toxicity = append(slices.Clone(known.Toxicity), read.Toxicity...)
		what = append(what, "toxicity")
	}
	if len(read.Uses) > 0 {
		out.Uses = append(slices.Clone(known.Uses), read.Uses...)
		what = append(what, "uses")
	}
	if len(read.Lookalikes) > 0 {
		out.Lookalikes = append(slices.Clone(known.Lookalikes), read.Lookalikes...)
		what = append(what, "lookalikes")
	}
	return &out, what
}

// correctStatements replaces all that is known of the traits that were read.
func correctStatements(known, read []graph.Statement, what []string) ([]graph.Statement, []string) {
	replaced := map[string]bool{}
	for i := range read {
		if t := read[i].Trait; !replaced[t] {
			replaced[t] = true
			what = append(what, t)
		}
	}
	out := slices.DeleteFunc(slices.Clone(known), func(s graph.Statement) bool { return replaced[s.Trait] })
	return append(out, read...), what
}

func (o *overlay) studies() {
	eachFile(&o.loader, studiesFolder, func(p *page, f *StudyFile) {
		s := p.study(f, o.known)
		if i := slices.IndexFunc(o.k.Studies, func(x *graph.Study) bool { return x.Taxon == s.Taxon }); i >= 0 {
			o.k.Studies[i] = s
			o.corrects("study", s.Taxon, p.name)
		} else {
			o.k.Studies = append(o.k.Studies, s)
		}
		for i, r := range s.Leave {
			o.claim(p, f.Leave[i].ID, r)
		}
	})
}

func (o *overlay) rules() {
	eachFile(&o.loader, rulesFolder, func(p *page, f *RulesFile) {
		for i := range f.Rules {
			r := p.rule(&f.Rules[i], o.known)
			if !o.claim(p, f.Rules[i].ID, r) {
				continue
			}
			if j := slices.IndexFunc(o.k.Rules, func(x *graph.Rule) bool { return x.ID == r.ID }); j >= 0 {
				o.k.Rules[j] = r
				o.corrects("rule", r.ID, p.name)
			} else {
				o.k.Rules = append(o.k.Rules, r)
			}
		}
	})
	o.leaveRulesOnce()
}

// leaveRulesOnce finds rules of the same id that stand in a rules file and in a
// study, now that both are laid over each other.
func (o *overlay) leaveRulesOnce() {
	where := map[string]graph.Place{}
	for _, r := range o.k.AllRules() {
		if at, taken := where[r.ID]; taken {
			o.problems.Add(r.Place, "the rule at %s has the id %q too", at, r.ID)
		}
		where[r.ID] = r.Place
	}
}

// pathOf names a file of the folder that is read, as problems call it.
func (l *loader) pathOf(name string) string {
	if l.prefix == "" {
		return name
	}
	return path.Join(l.prefix, name)
}

// onlyComments tells a form that nobody has filled in yet.
func onlyComments(text []byte) bool {
	for _, line := range bytes.Split(text, []byte("\n")) {
		if l := bytes.TrimSpace(line); len(l) > 0 && l[0] != '#' {
			return false
		}
	}
	return true
}
