package author

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"telltale/graph"
	"telltale/graph/names"
	"telltale/graph/schema"
)

// Layout is what is laid out for a herb and the lookalikes that go with it.
type Layout struct {
	Dir        string
	Herb       *graph.Taxon
	New        []*graph.Taxon // plants that are not known yet, the herb among them if it is not
	Lookalikes []*graph.Taxon // what the herb is confused with
	Marks      []Mark
	Knowledge  *graph.Knowledge
}

// LaidOut is what became of a layout: the files that were written, those that were
// there and were left as they are, and the lookalikes that are linked nowhere
// because of that.
type LaidOut struct {
	Written, Left []string
	Unlinked      []*graph.Taxon
}

// Write lays the files out. A file that is there is left as it is.
func (l *Layout) Write() (*LaidOut, error) {
	list, err := l.files()
	if err != nil {
		return nil, err
	}
	out := &LaidOut{}
	for _, f := range list {
		fresh, err := writeNew(filepath.Join(l.Dir, filepath.FromSlash(f.name)), f.text)
		switch {
		case err != nil:
			return nil, err
		case fresh:
			out.Written = append(out.Written, f.name)
		default:
			out.Left = append(out.Left, f.name)
			if f.name == taxonFile(l.Herb) {
				out.Unlinked = l.unlinked()
			}
		}
	}
	return out, nil
}

type file struct{ name, text string }

// files lists what there is to be laid out, in the order in which it is filled in.
func (l *Layout) files() ([]file, error) {
	var out []file
	links := l.links()
	if !slices.Contains(l.New, l.Herb) && len(links) > 0 {
		out = append(out, file{taxonFile(l.Herb), CorrectionForm(l.Herb, links)})
	}
	for _, t := range l.New {
		own := links
		if t != l.Herb {
			own = nil
		}
		out = append(out, file{taxonFile(t), TaxonForm(l.Knowledge.Vocabulary, l.described(t), own)})
	}
	out = append(out, file{"sources.yaml", SourcesForm()},
		file{"studies/" + l.Herb.ID + ".yaml", StudyForm(l.Herb, l.Marks)}, file{"rules/" + l.Herb.ID + ".yaml", RulesForm(l.Herb)})
	schemas, err := schema.All(l.Knowledge)
	for _, s := range schemas {
		out = append(out, file{path.Join("schema", s.Name), string(s.Text)})
	}
	return out, err
}

func taxonFile(t *graph.Taxon) string { return "taxa/" + t.ID + ".yaml" }

// described gives a new plant the family of its genus, where that is known.
func (l *Layout) described(t *graph.Taxon) *graph.Taxon {
	out := *t
	for _, x := range l.Knowledge.Taxa {
		if x.Genus() == t.Genus() {
			out.Family = x.Family
		}
	}
	return &out
}

func (l *Layout) links() []Link {
	var out []Link
	for _, t := range l.unlinked() {
		out = append(out, Link{Taxon: t.ID})
	}
	return out
}

// unlinked lists the lookalikes that nobody has linked to the herb yet.
func (l *Layout) unlinked() []*graph.Taxon {
	linked := l.Knowledge.LinksOf(l.Herb.ID)
	return slices.DeleteFunc(slices.Clone(l.Lookalikes), func(t *graph.Taxon) bool {
		return t.ID == l.Herb.ID || slices.ContainsFunc(linked, func(x graph.Link) bool { return x.Other == t.ID })
	})
}

// writeNew writes a file that is not there yet, whole or not at all.
func writeNew(name, text string) (bool, error) {
	if _, err := os.Stat(name); !errors.Is(err, fs.ErrNotExist) {
		return false, err
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return false, fmt.Errorf("making the folder: %w", err)
	}
	part := name + ".part"
	if err := os.WriteFile(part, []byte(text), 0o644); err != nil {
		return false, fmt.Errorf("laying out %s: %w", name, err)
	}
	return true, os.Rename(part, name)
}

var (
	notInID = regexp.MustCompile(`[^a-z0-9]+`)
	genus   = regexp.MustCompile(`^×?[A-Z][a-z]+(-[a-z]+)?$`)
)

// NewTaxon makes a plant that is not known yet from its scientific name, which may
// have its authors behind it. Without the capital it could be a common name.
func NewTaxon(name string) (*graph.Taxon, error) {
	n, err := names.Parse(name)
	first := strings.Fields(name + " ?")[0]
	if err != nil || !genus.MatchString(first) || n.Species == "" || n.IsFormula() || n.Qualifier != names.Certain || n.Remark != "" {
		return nil, fmt.Errorf("%q is no plant that is known here: to work up a new one give its scientific name with a capital, such as \"Rumex sanguineus\"; telltale taxon find %q looks for one that is known", name, name)
	}
	words := []string{n.Genus, n.Species}
	for _, i := range n.Infra {
		words = append(words, i.Epithet)
	}
	id := notInID.ReplaceAllString(strings.ToLower(strings.Join(words, " ")), "-")
	return &graph.Taxon{ID: strings.Trim(id, "-"), Name: n.Canonical(), Author: n.Authorship.String()}, nil
}
