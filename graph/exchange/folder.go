package exchange

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"
	"github.com/goccy/go-yaml"

	"telltale/graph"
	"telltale/graph/files"
)

// Files is a data folder in memory: the text of each file by its path, with
// forward slashes.
type Files map[string][]byte

// Folder writes the knowledge as a data folder: vocabulary.yaml, sources.yaml, and
// the folders taxa, studies and rules. It is read back before it is given, and only
// what gives the same knowledge is; the error is a graph.Problems, placed in the
// files that would have been written.
func Folder(k *graph.Knowledge) (Files, error) {
	f := Files{}
	f.put("vocabulary.yaml", vocabularyPage(k.Vocabulary))
	f.put("sources.yaml", sourcesPage(k.Sources))
	var problems graph.Problems
	for _, t := range k.Taxa {
		if at := (graph.Place{File: taxonFile(t.ID)}); !idPattern.MatchString(t.ID) {
			problems.Add(at, "%q is no id of a plant: expected genus-species in small letters", t.ID)
			continue
		}
		f.put(taxonFile(t.ID), taxonPage(t, k.Vocabulary))
	}
	for _, s := range k.Studies {
		name := fileBelow("studies", s.File)
		if _, taken := f[name]; name == "" || taken {
			name = fileBelow("studies", "studies/"+s.Taxon+".yaml")
		}
		if name == "" {
			problems.Add(graph.Place{File: "studies"}, "%q is no id of a plant: expected genus-species in small letters", s.Taxon)
			continue
		}
		f.put(name, studyPage(s, k.Vocabulary))
	}
	for _, group := range ruleFiles(k.Rules) {
		f.put(group.file, rulesPage(group.rules, k.Vocabulary))
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return f, f.check(k)
}

// idPattern is what an id of a plant looks like; it names a file as well.
var idPattern = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// filePattern is a name that a file may be given whatever it came from.
var filePattern = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_-]*\.yaml$`)

// fileBelow is the file if it lies in that folder and is named safely, "" otherwise.
func fileBelow(folder, file string) string {
	if path.Dir(file) == folder && filePattern.MatchString(path.Base(file)) && path.Clean(file) == file {
		return file
	}
	return ""
}

func (f Files) put(name string, page any) {
	text, err := yaml.MarshalWithOptions(page, yaml.IndentSequence(true), yaml.UseLiteralStyleIfMultiline(true))
	if err != nil {
		text = nil // an empty file is refused when the folder is read back
	}
	f[name] = text
}

// check reads the files back and compares.
func (f Files) check(k *graph.Knowledge) error {
	fsys, err := f.FS()
	if err != nil {
		return err
	}
	back, err := files.Load(fsys)
	if err != nil {
		return err
	}
	return unchanged(k, back)
}

// unchanged tells what writing has changed.
func unchanged(k, back *graph.Knowledge) error {
	if d := Difference(k, back); d != "" {
		return &graph.Problem{Message: "this cannot be written as YAML so that it reads back the same: " + d}
	}
	return nil
}

// FS gives the files as a file system.
func (f Files) FS() (fs.FS, error) {
	// An archive is the one file system in memory that the library has.
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range f.Names() {
		one, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		if err != nil {
			return nil, fmt.Errorf("putting %s together: %w", name, err)
		}
		if _, err := one.Write(f[name]); err != nil {
			return nil, fmt.Errorf("putting %s together: %w", name, err)
		}
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
}

// Names lists the files.
func (f Files) Names() []string { return sortedKeys(f) }

type ruleGroup struct {
	file  string
	rules []*graph.Rule
}

// ruleFiles puts rules into the files that they came from, those of no such file
// into rules/imported.yaml.
func ruleFiles(rules []*graph.Rule) []ruleGroup {
	var out []ruleGroup
	for _, r := range rules {
		file := fileBelow("rules", r.Place.File)
		if file == "" {
			file = "rules/imported.yaml"
		}
		i := slices.IndexFunc(out, func(g ruleGroup) bool { return g.file == file })
		if i < 0 {
			i = len(out)
			out = append(out, ruleGroup{file: file})
		}
		out[i].rules = append(out[i].rules, r)
	}
	return out
}

// history are the arrows that say where in a file something stood, or which of
// somebody's own files changed it. They are no knowledge: files written anew have
// other lines, and hold the corrections as their own.
var history = []quad.IRI{"file", "place", "when_place", "indent", "correction"}

// correctionNodes is what the nodes of corrections begin with.
const correctionNodes = "knowledge/correction/"

// Difference tells, in the words of the graph, one thing that the first of two
// knowledges holds and the second does not, or the other way round; "" if they
// hold the same. Where in a file a fact stood does not count.
func Difference(a, b *graph.Knowledge) string {
	left, right := facts(a), facts(b)
	if d := missing(left, right); d != "" {
		return d + " is lost"
	}
	if d := missing(right, left); d != "" {
		return d + " is new"
	}
	return ""
}

func facts(k *graph.Knowledge) []string {
	var out []string
	for _, q := range k.Quads() {
		subject, predicate := q.Subject.(quad.IRI), q.Predicate.(quad.IRI)
		if !slices.Contains(history, predicate) && !strings.HasPrefix(string(subject), correctionNodes) {
			out = append(out, q.NQuad())
		}
	}
	return out
}

func missing(from, in []string) string {
	has := make(map[string]bool, len(in))
	for _, f := range in {
		has[f] = true
	}
	for _, f := range from {
		if !has[f] {
			return f
		}
	}
	return ""
}
