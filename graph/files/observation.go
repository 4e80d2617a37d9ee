package files

import (
	"io"
	"time"

	"telltale/graph"
)

// ObservationFile is what somebody saw of one plant, in YAML or JSON. Values are
// written as on the command line; a bare number is in the trait's unit. The date
// is one of ISO 8601, 2024-05-17 or 2024-05.
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
	text, err := io.ReadAll(io.LimitReader(r, maxObservation+1))
	if err != nil {
		return graph.Observation{}, err
	}
	return ParseObservation(v, name, text)
}

// ParseObservation reads an observation from text; name is what problems call it.
// A date tells the month too.
func ParseObservation(v *graph.Vocabulary, name string, text []byte) (graph.Observation, error) {
	var problems graph.Problems
	p := newPage(name, &problems)
	p.most = maxObservation
	var f ObservationFile
	var obs graph.Observation
	if !p.decode(text, &f) {
		return obs, problems.Err()
	}
	p.circumstance(&obs, "stage", f.Stage)
	p.circumstance(&obs, "month", f.Month)
	p.circumstance(&obs, "part", f.Part)
	p.date(&obs, f.Date)
	for _, e := range f.Readings {
		p.reading(&obs, e.Key, e.Value, v)
	}
	if err := problems.Err(); err != nil {
		return graph.Observation{}, err
	}
	return obs, nil
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
	if w.Text == "" {
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
			p.note(p.placed(err, w, ""))
		}
		obs.Month = month
	case "part":
		obs.Part = p.oneOf(w, w, "part of a plant", graph.Parts())
	}
}

// date takes the month from a date, where it is not told.
func (p *page) date(obs *graph.Observation, w Word) {
	if w.Text == "" {
		return
	}
	day, err := time.Parse(time.DateOnly, w.Text)
	if err != nil {
		day, err = time.Parse("2006-01", w.Text)
	}
	switch month := int(day.Month()); {
	case err != nil:
		p.add(w, "%q is no date: expected one such as 2024-05-17", w.Text)
	case obs.Month == 0:
		obs.Month = month
	case obs.Month != month:
		p.add(w, "this date is in %s, and the month told is %s", graph.MonthName(month), graph.MonthName(obs.Month))
	}
}

func (p *page) reading(obs *graph.Observation, key, value Word, v *graph.Vocabulary) {
	t, position, err := graph.ParseTrait(v, key.Text)
	if err != nil {
		p.note(p.placed(err, key, ""))
		return
	}
	r, err := graph.ParseValue(v, t, value.Text, false)
	if err != nil {
		p.note(p.placed(err, value, ""))
		return
	}
	r.Position = position
	obs.Readings = append(obs.Readings, r)
}
