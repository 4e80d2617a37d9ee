package files

import (
	"io"
	"slices"
	"strings"

	"telltale/graph"
)

// ObservationFile is what somebody saw of one plant, in YAML or JSON. Values are
// written as on the command line; a bare number is in the trait's unit.
type ObservationFile struct {
	Stage    Word      `yaml:"stage"`
	Month    Word      `yaml:"month"`
	Part     Word      `yaml:"part"`
	Place    Word      `yaml:"place"`
	Date     Word      `yaml:"date"`
	Readings Map[Word] `yaml:"readings"`
}

// ReadObservation reads an observation from r; name is what problems call it.
func ReadObservation(v *graph.Vocabulary, name string, r io.Reader) (graph.Observation, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return graph.Observation{}, err
	}
	return ParseObservation(v, name, text)
}

// ParseObservation reads an observation from text; name is what problems call it.
func ParseObservation(v *graph.Vocabulary, name string, text []byte) (graph.Observation, error) {
	var problems graph.Problems
	p := &page{name: name, problems: &problems}
	var f ObservationFile
	var obs graph.Observation
	if !p.decode(text, &f) {
		return obs, problems.Err()
	}
	p.circumstance(&obs, "stage", f.Stage)
	p.circumstance(&obs, "month", f.Month)
	p.circumstance(&obs, "part", f.Part)
	for _, e := range f.Readings {
		p.reading(&obs, e.Key, e.Value, v)
	}
	return obs, problems.Err()
}

// observed takes one line of readings, which may be a circumstance too.
func (p *page) observed(obs *graph.Observation, key, value Word, v *graph.Vocabulary) {
	switch key.Text {
	case "stage", "month", "part":
		p.circumstance(obs, key.Text, value)
	default:
		p.reading(obs, key, value, v)
	}
}

// circumstance takes the stage, month or part.
func (p *page) circumstance(obs *graph.Observation, what string, w Word) {
	if w.tok == nil || w.Text == "" {
		return
	}
	switch what {
	case "stage":
		stage, ok := graph.StageNamed(w.Text)
		if !ok {
			p.unknown(w, "stage", graph.StageNames())
		}
		obs.Stage = stage
	case "month":
		month, err := graph.ParseMonth(w.Text)
		if err != nil {
			p.note(p.placed(err, w, "month"))
		}
		obs.Month = month
	case "part":
		if !slices.Contains(graph.Parts(), w.Text) {
			p.unknown(w, "part of a plant", graph.Parts())
		}
		obs.Part = w.Text
	}
}

func (p *page) reading(obs *graph.Observation, key, value Word, v *graph.Vocabulary) {
	name, position, positioned := strings.Cut(key.Text, "@")
	name = strings.TrimSpace(name)
	traits := v.TraitsCalled(name)
	if len(traits) != 1 {
		if len(traits) > 1 {
			p.add(key, "%q can be several traits: write the id", name)
			return
		}
		*p.problems = append(*p.problems, graph.Unknown(p.place(key.tok), "trait", name, v.TraitIDs()))
		return
	}
	if positioned && !v.HasPosition(position) {
		*p.problems = append(*p.problems, graph.Unknown(p.place(key.tok), "position", position, v.PositionNames()))
		return
	}
	r, err := graph.ParseValue(v, traits[0], value.Text, false)
	if err != nil {
		p.note(p.placed(err, value, traits[0].ID))
		return
	}
	r.Position = position
	obs.Readings = append(obs.Readings, r)
}
