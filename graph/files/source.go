package files

import (
	"strconv"

	"telltale/graph"
)

// SourceEntry is one publication of data/sources.yaml, which maps ids to them.
type SourceEntry struct {
	Title     Word `yaml:"title"`
	Publisher Word `yaml:"publisher"`
	Year      Word `yaml:"year"`
	URL       Word `yaml:"url"`
	Kind      Word `yaml:"kind"`
}

func (p *page) source(e *Entry[SourceEntry]) *graph.Source {
	s := &graph.Source{ID: e.Key.Text, Title: e.Value.Title.Text, Publisher: e.Value.Publisher.Text, URL: e.Value.URL.Text, Kind: e.Value.Kind.Text}
	p.named(e.Key, plainID, "source", "letters, digits and hyphens")
	if s.ID == graph.Memory {
		p.add(e.Key, "%q is what facts without a source say: no publication can have that id", s.ID)
	}
	if s.Title == "" {
		p.add(e.Key, "source %s has no title", s.ID)
	}
	if e.Value.Year.Text != "" {
		year, err := strconv.Atoi(e.Value.Year.Text)
		if err != nil || year < 1000 || year > 2200 {
			p.add(e.Value.Year, "%q is no year", e.Value.Year.Text)
		}
		s.Year = year
	}
	return s
}
