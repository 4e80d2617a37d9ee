package files

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"

	"telltale/graph"
)

// The names of what is read below a data folder.
const (
	vocabularyFile = "vocabulary.yaml"
	sourcesFile    = "sources.yaml"
	taxaFolder     = "taxa"
	studiesFolder  = "studies"
	rulesFolder    = "rules"
)

// Load reads the knowledge under fsys: vocabulary.yaml, sources.yaml, and the
// folders taxa, studies and rules. The error is a graph.Problems that lists
// everything wrong; nothing is returned with it.
func Load(fsys fs.FS) (*graph.Knowledge, error) {
	l := &loader{fsys: fsys, k: &graph.Knowledge{}, known: &known{sources: map[string]bool{}, taxa: map[string]bool{}}}
	l.vocabulary()
	if err := l.problems.Err(); err != nil { // what it lacks would be said to be wrong everywhere else
		return nil, err
	}
	l.sources()
	taxa := l.taxonFiles()
	for _, t := range taxa {
		l.k.Taxa = append(l.k.Taxa, t.page.taxon(t.file, l.known))
	}
	eachFile(l, studiesFolder, func(p *page, f *StudyFile) {
		l.addStudy(p, f)
	})
	eachFile(l, rulesFolder, func(p *page, f *RulesFile) {
		for i := range f.Rules {
			l.addRule(p, f.Rules[i].ID, p.rule(&f.Rules[i], l.known))
		}
	})
	if err := l.problems.Err(); err != nil {
		return nil, err
	}
	l.k.Sort()
	return l.k, nil
}

type loader struct {
	fsys     fs.FS
	k        *graph.Knowledge
	known    *known
	problems graph.Problems
	rules    map[string]graph.Place
	prefix   string // the folder's name, put before the names of its files
}

func (l *loader) page(name string) *page { return newPage(l.pathOf(name), &l.problems) }

func (l *loader) read(name string) ([]byte, bool) {
	text, err := fs.ReadFile(l.fsys, name)
	if err != nil {
		l.problems.Add(graph.Place{File: l.pathOf(name)}, "cannot be read: %s", plain(err))
		return nil, false
	}
	return text, true
}

// plain takes the path out of a file error, which the problem names already.
func plain(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

func (l *loader) vocabulary() {
	text, ok := l.read(vocabularyFile)
	if !ok {
		return
	}
	var f VocabularyFile
	if p := l.page(vocabularyFile); p.decode(text, &f) {
		l.known.vocabulary = p.vocabulary(&f)
		l.k.Vocabulary = l.known.vocabulary
	}
}

func (l *loader) sources() {
	var f Map[SourceEntry]
	p := l.page(sourcesFile)
	text, ok := l.read(sourcesFile)
	if ok {
		ok = p.decode(text, &f)
	}
	if !ok && len(f) == 0 {
		l.known.sources = nil // so that one slip here is not one for every fact there is
		return
	}
	for i := range f {
		s := p.source(&f[i])
		l.k.Sources = append(l.k.Sources, s)
		l.known.sources[s.ID] = true
		l.known.sourceIDs = append(l.known.sourceIDs, s.ID)
	}
}

// eachFile decodes every YAML file of a folder, in the order of their names.
func eachFile[F any](l *loader, folder string, do func(*page, *F)) {
	names, err := namesIn(l.fsys, folder)
	if err != nil {
		l.problems.Add(graph.Place{File: l.pathOf(folder)}, "cannot be read: %s", plain(err))
		return
	}
	l.strays(folder)
	for _, name := range names {
		text, ok := l.read(name)
		if !ok {
			continue
		}
		f := new(F)
		if p := l.page(name); p.decode(text, f) {
			do(p, f)
		}
	}
}

// strays notes files that somebody meant to be read and that are not, for their
// ending.
func (l *loader) strays(folder string) {
	entries, _ := fs.ReadDir(l.fsys, folder) // namesIn tells what is wrong
	for _, e := range entries {
		switch ext := path.Ext(e.Name()); strings.ToLower(ext) {
		case ".yml", ".yaml", ".json":
			if ext != ".yaml" && !e.IsDir() {
				l.problems.Add(graph.Place{File: l.pathOf(path.Join(folder, e.Name()))}, "this file is not read for its ending: name it %s.yaml", strings.TrimSuffix(e.Name(), ext))
			}
		}
	}
}

// namesIn lists the YAML files of a folder by name; a folder that is not there
// has none.
func namesIn(fsys fs.FS, folder string) ([]string, error) {
	entries, err := fs.ReadDir(fsys, folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		if !e.IsDir() && path.Ext(e.Name()) == ".yaml" {
			out = append(out, path.Join(folder, e.Name()))
		}
	}
	return out, nil
}

// Names lists the files that Load reads under fsys.
func Names(fsys fs.FS) ([]string, error) {
	out := []string{vocabularyFile, sourcesFile}
	for _, folder := range []string{taxaFolder, studiesFolder, rulesFolder} {
		names, err := namesIn(fsys, folder)
		if err != nil {
			return nil, err
		}
		out = append(out, names...)
	}
	return out, nil
}

type taxonPage struct {
	page *page
	file *TaxonFile
}

// taxonFiles reads the taxon files, before anything that names a taxon is looked
// at. A taxon is known by the name of its file even if the file is broken, so that
// one slip is not one for every file that names the plant.
func (l *loader) taxonFiles() []taxonPage {
	names, _ := namesIn(l.fsys, taxaFolder) // eachFile tells what is wrong
	for _, name := range names {
		l.learn(strings.TrimSuffix(path.Base(name), ".yaml"))
	}
	var out []taxonPage
	seen := registry{}
	families := map[string]*TaxonFile{}
	eachFile(l, taxaFolder, func(p *page, f *TaxonFile) {
		id := f.ID.Text
		if !seen.claim(p, f.ID, "id") {
			return
		}
		if want := path.Base(p.name); id != "" && want != id+".yaml" {
			p.add(f.ID, "the file of %q is named %s, expected %s.yaml", id, want, id)
		}
		seen.claim(p, f.Name, "name")
		genus, _, _ := strings.Cut(f.Name.Text, " ")
		if other, ok := families[genus]; ok && other.Family.Text != f.Family.Text && other.Family.Text != "" && f.Family.Text != "" {
			p.add(f.Family, "%s is of the %s, and %s of the same genus of the %s", id, f.Family.Text, other.ID.Text, other.Family.Text)
		}
		families[genus] = f
		l.learn(id)
		out = append(out, taxonPage{p, f})
	})
	slices.Sort(l.known.taxonIDs)
	return out
}

func (l *loader) learn(taxon string) {
	if !l.known.taxa[taxon] {
		l.known.taxa[taxon] = true
		l.known.taxonIDs = append(l.known.taxonIDs, taxon)
	}
}

// registry keeps what only one plant can have, with the file that has it.
type registry map[string]string

// claim notes that another plant has it already, and tells whether none has.
func (r registry) claim(p *page, w Word, what string) bool {
	key := what + " " + w.Text
	if other, taken := r[key]; taken && w.Text != "" {
		p.add(w, "%s has the %s %q too: two plants cannot share one", other, what, w.Text)
		return false
	}
	r[key] = p.name
	return true
}

func (l *loader) addStudy(p *page, f *StudyFile) {
	s := p.study(f, l.known)
	if slices.ContainsFunc(l.k.Studies, func(o *graph.Study) bool { return o.Taxon == s.Taxon }) {
		p.add(f.Taxon, "%s is worked up in another study already", s.Taxon)
		return
	}
	for i, r := range s.Leave {
		l.claim(p, f.Leave[i].ID, r)
	}
	l.k.Studies = append(l.k.Studies, s)
}

func (l *loader) addRule(p *page, id Word, r *graph.Rule) {
	if l.claim(p, id, r) {
		l.k.Rules = append(l.k.Rules, r)
	}
}

// claim takes the id of a rule, which only one rule can have.
func (l *loader) claim(p *page, id Word, r *graph.Rule) bool {
	if l.rules == nil {
		l.rules = map[string]graph.Place{}
	}
	if other, taken := l.rules[r.ID]; taken {
		p.add(id, "the rule at %s has the id %q too", other, r.ID)
		return false
	}
	l.rules[r.ID] = r.Place
	return true
}

// ParseTaxon reads one taxon file against what is known already; name is what
// problems call it.
func ParseTaxon(k *graph.Knowledge, name string, text []byte) (*graph.Taxon, error) {
	var problems graph.Problems
	p := newPage(name, &problems)
	var f TaxonFile
	if !p.decode(text, &f) {
		return nil, problems.Err()
	}
	look := knownFrom(k)
	look.taxa[f.ID.Text] = true
	t := p.taxon(&f, look)
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return t, nil
}

// ParseRules reads one rules file against what is known already; name is what
// problems call it.
func ParseRules(k *graph.Knowledge, name string, text []byte) ([]*graph.Rule, error) {
	var problems graph.Problems
	p := newPage(name, &problems)
	var f RulesFile
	if !p.decode(text, &f) {
		return nil, problems.Err()
	}
	look := knownFrom(k)
	var out []*graph.Rule
	for i := range f.Rules {
		out = append(out, p.rule(&f.Rules[i], look))
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

func knownFrom(k *graph.Knowledge) *known {
	out := &known{vocabulary: k.Vocabulary, sources: map[string]bool{}, taxa: map[string]bool{}, taxonIDs: k.TaxonIDs()}
	for _, id := range out.taxonIDs {
		out.taxa[id] = true
	}
	for _, s := range k.Sources {
		out.sources[s.ID] = true
		out.sourceIDs = append(out.sourceIDs, s.ID)
	}
	return out
}
