package render

import (
	"fmt"

	"telltale/graph"
)

// says names who stands behind a fact: the first publication by its publisher,
// with a count of the others, or memory.
func says(k *graph.Knowledge, ids []string) string {
	if len(ids) == 0 {
		return ""
	}
	if graph.FromMemoryOnly(ids) {
		return " (from memory)"
	}
	var first string
	published := map[string]bool{}
	for _, id := range ids {
		if id == graph.Memory {
			continue
		}
		if first == "" {
			first = id
		}
		published[id] = true
	}
	out := publisher(k, first)
	if rest := len(published) - 1; rest > 0 {
		out += fmt.Sprintf(" and %d more", rest)
	}
	return " (" + out + ")"
}

// publisher is who published a source, or its title, or its id where neither is
// known.
func publisher(k *graph.Knowledge, id string) string {
	s, ok := k.Source(id)
	switch {
	case !ok:
		return id
	case s.Publisher != "":
		return s.Publisher
	case s.Title != "":
		return s.Title
	}
	return id
}

func fromMemory(sources []string) bool { return len(sources) > 0 && graph.FromMemoryOnly(sources) }

func withMemory(text string, sources []string) string {
	if fromMemory(sources) {
		return text + " (from memory)"
	}
	return text
}
