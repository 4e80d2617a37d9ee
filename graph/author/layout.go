package author

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"telltale/graph"
	"telltale/graph/schema"
)

// Layout is what is laid out for a herb and the lookalikes that go with it.
type Layout struct {
	Dir       string
	Herb      *graph.Taxon
	New       []*graph.Taxon // plants that are not known yet, the herb among them if it is not
	Marks     []Mark
	Knowledge *graph.Knowledge
}

// Write lays the files out. A file that is there is left as it is; what was
// written and what was left is told.
func (l *Layout) Write() (written, left []string, err error) {
	files := map[string]string{
		"sources.yaml": SourcesForm(),
		filepath.Join("studies", l.Herb.ID+".yaml"): StudyForm(l.Herb, l.Marks),
		filepath.Join("rules", l.Herb.ID+".yaml"):   RulesForm(l.Herb),
	}
	order := []string{}
	for _, t := range l.New {
		name := filepath.Join("taxa", t.ID+".yaml")
		files[name] = TaxonForm(l.Knowledge.Vocabulary, t.ID, t.Name)
		order = append(order, name)
	}
	order = append(order, filepath.Join("studies", l.Herb.ID+".yaml"), filepath.Join("rules", l.Herb.ID+".yaml"), "sources.yaml")
	schemas, err := schema.All(l.Knowledge)
	if err != nil {
		return nil, nil, err
	}
	for _, s := range schemas {
		name := filepath.Join("schema", s.Name)
		files[name] = string(s.Text)
		order = append(order, name)
	}
	for _, name := range order {
		fresh, err := writeNew(filepath.Join(l.Dir, name), files[name])
		switch {
		case err != nil:
			return written, left, err
		case fresh:
			written = append(written, name)
		default:
			left = append(left, name)
		}
	}
	return written, left, nil
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

var binomial = regexp.MustCompile(`^[A-Z][a-z]+(-[a-z]+)?( (subsp\.|var\.|f\.|x|×))?( [a-z]+(-[a-z]+)?)+$`)

// NewTaxon makes a plant that is not known yet from its scientific name.
func NewTaxon(name string) (*graph.Taxon, error) {
	name = strings.Join(strings.Fields(name), " ")
	if !binomial.MatchString(name) {
		return nil, fmt.Errorf("%q is not known here; to work up a new plant give its scientific name, such as \"Rumex sanguineus\"", name)
	}
	id := strings.NewReplacer(" subsp.", "", " var.", "", " f.", "", " ×", "", " x", "").Replace(name)
	return &graph.Taxon{ID: strings.ToLower(strings.ReplaceAll(id, " ", "-")), Name: name}, nil
}
