package files

import (
	"bytes"
	"errors"
	"io/fs"
	"path"
	"slices"

	"telltale/graph"
)

// Over lays somebody's own data, in the layout that Load reads, over what is
// known, and gives the two together; base stays as it was. Every file may be
// missing, but not all of them. name is what the folder is called in problems and
// corrections.
//
// A taxon file for a plant that is known corrects it: a trait it scores replaces
// all that was stated of that trait, names and range replace those known, and
// toxicity, uses and lookalikes are added, so that no harm can get lost by
// leaving it out. A plant that is new has to say what eating it does. A study
// replaces the study of that plant, a rule the rule of that id, a source the source
// of that id. A vocabulary may add traits, and states to traits that are known.
//
// The error is a graph.Problems that lists everything wrong; nothing is returned
// with it.
func Over(base *graph.Knowledge, name string, fsys fs.FS) (*graph.Knowledge, error) {
	o := &overlay{base: base}
	o.loader = loader{fsys: fsys, k: copyOf(base), known: knownFrom(base), prefix: name}
	o.known.corrected = map[string]bool{}
	o.folder()
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
	base *graph.Knowledge
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

// corrects notes what was changed; with nothing named, all of it.
func (o *overlay) corrects(kind, of, file string, what ...string) {
	o.k.Corrections = append(o.k.Corrections, graph.Correction{Kind: kind, Of: of, What: what, File: file})
}

// adds notes what was not known before.
func (o *overlay) adds(kind, of, file string) { o.corrects(kind, of, file, graph.Added) }

func (o *overlay) sources() {
	text, p, ok := o.own(sourcesFile)
	if !ok {
		return
	}
	var f Map[SourceEntry]
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

// own reads a file that stands beside the folders. It is false where there is none,
// or nobody has filled it in.
func (o *overlay) own(name string) ([]byte, *page, bool) {
	if _, err := fs.Stat(o.fsys, name); errors.Is(err, fs.ErrNotExist) {
		return nil, nil, false
	}
	text, ok := o.read(name)
	return text, o.page(name), ok && !onlyComments(text)
}

// onlyComments tells a form that nobody has filled in yet.
func onlyComments(text []byte) bool {
	for line := range bytes.SplitSeq(text, []byte("\n")) {
		if l := bytes.TrimSpace(line); len(l) > 0 && l[0] != '#' {
			return false
		}
	}
	return true
}

func (o *overlay) studies() {
	eachFile(&o.loader, studiesFolder, func(p *page, f *StudyFile) {
		s := p.study(f, o.known)
		if i := slices.IndexFunc(o.k.Studies, func(x *graph.Study) bool { return x.Taxon == s.Taxon }); i >= 0 {
			o.corrects("study", s.Taxon, p.name, leftOut(o.k.Studies[i], s)...)
			o.k.Studies[i] = s
		} else {
			o.k.Studies = append(o.k.Studies, s)
			o.adds("study", s.Taxon, p.name)
		}
		for i, r := range s.Leave {
			o.claim(p, f.Leave[i].ID, r)
		}
	})
}

// leftOut names the leave rules of a study that the one in its place has not.
func leftOut(old, fresh *graph.Study) []string {
	var out []string
	for _, r := range old.Leave {
		if !slices.ContainsFunc(fresh.Leave, func(x *graph.Rule) bool { return x.ID == r.ID }) {
			out = append(out, "without the rule "+r.ID)
		}
	}
	return out
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
				o.adds("rule", r.ID, p.name)
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
		at, taken := where[r.ID]
		where[r.ID] = r.Place
		switch {
		case taken && o.loader.rules[r.ID] == at: // the own one of the two is to be put right
			o.problems.Add(at, "the rule at %s has the id %q too", r.Place, r.ID)
		case taken:
			o.problems.Add(r.Place, "the rule at %s has the id %q too", at, r.ID)
		}
	}
}

// pathOf names a file of the folder that is read, as problems call it.
func (l *loader) pathOf(name string) string {
	if l.prefix == "" {
		return name
	}
	return path.Join(l.prefix, name)
}
