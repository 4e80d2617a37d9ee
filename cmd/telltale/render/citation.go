package render

import (
	"strconv"
	"strings"

	"telltale/graph"
)

// citation writes a source in full: title, publisher, year, kind and address.
func citation(s *graph.Source) Words {
	w := W(strings.TrimSuffix(s.Title, ".") + ".")
	if s.Title == "" {
		w = W("Without title.")
	}
	var made []string
	if s.Publisher != "" {
		made = append(made, s.Publisher)
	}
	if s.Year != 0 {
		made = append(made, strconv.Itoa(s.Year))
	}
	if len(made) > 0 {
		w = w.and(" " + strings.TrimSuffix(strings.Join(made, ", "), ".") + ".")
	}
	if s.Kind != "" {
		w = w.and(" " + capital(plain(s.Kind)) + ".")
	}
	if s.URL != "" {
		w = w.and(" ").link(s.URL)
	}
	return w
}

// inFull writes each of the sources in full, memory in words of its own.
func inFull(k *graph.Knowledge, sources []string) []Words {
	var out []Words
	for _, id := range sources {
		switch s, ok := k.Source(id); {
		case id == graph.Memory:
			out = append(out, W("").marked(Memory, fromMemoryWords).and(": no publication stands behind this"))
		case ok:
			out = append(out, W("").marked(Code, id).and(": ").then(citation(s)))
		default:
			out = append(out, W("").marked(Code, id))
		}
	}
	return out
}
