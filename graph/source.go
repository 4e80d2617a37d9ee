package graph

// Memory is the source of a fact that no publication stands behind. Wherever
// such a fact is shown it says so.
const Memory = "memory"

// Source is a publication that facts are taken from.
type Source struct {
	ID        string `graph:"source_id,key"`
	Title     string `graph:"title"`
	Publisher string `graph:"publisher"`
	Year      int    `graph:"year"`
	URL       string `graph:"url"`
	Kind      string `graph:"kind"`
}

// Cite gives the source in one line: publisher, year and title.
func (s *Source) Cite() string {
	out := s.Title
	if s.Publisher != "" {
		out = s.Publisher + ": " + out
	}
	return out
}

// FromMemoryOnly tells whether no publication is among the sources.
func FromMemoryOnly(sources []string) bool {
	for _, s := range sources {
		if s != Memory {
			return false
		}
	}
	return true
}
