package render

import (
	"slices"
	"strings"

	"telltale/graph"
	"telltale/rules/reason"
)

// readingWords says what was read: "serrate or dentate", "not stinging (not
// sure)", "8.1 cm on the upper part".
func readingWords(v *graph.Vocabulary, r *graph.Reading) string {
	var out string
	switch {
	case len(r.Not) > 0:
		out = "not " + list(plainAll(r.Not), "or")
	case len(r.States) > 0:
		out = list(plainAll(r.States), "or")
	default:
		number := graph.Reading{Trait: r.Trait, Low: r.Low, High: r.High}
		out = number.Value(v)
	}
	if r.Position != "" {
		out += " on the " + plain(r.Position) + " part"
	}
	if r.Unsure {
		out += " (not sure)"
	}
	return out
}

func plainAll(names []string) []string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = plain(n)
	}
	return out
}

// supportWords says in a sentence how a reading fits a plant.
func supportWords(k *graph.Knowledge, t *graph.Taxon, e *reason.Evidence) string {
	if same := mostFrequent(e); same != nil {
		return capital(e.Trait.Label) + ": " + readingWords(k.Vocabulary, e.Reading) + frequencyWords(same.Frequency) + t.CommonName() + says(k, same.Sources) + "."
	}
	return besideWords(k, e)
}

// besideWords puts a reading beside what is stated, in a sentence.
func besideWords(k *graph.Knowledge, e *reason.Evidence) string {
	stated := "nothing stated of this stage, and other stages differ"
	if len(e.Stated) > 0 {
		stated = StatedWords(e.Trait, e.Stated) + says(k, sourcesOf(e.Stated))
	}
	return capital(e.Trait.Label) + ": " + stated + "; you read " + readingWords(k.Vocabulary, e.Reading) + "."
}

// unsureWords says that an unsure reading would speak against a plant.
func unsureWords(k *graph.Knowledge, t *graph.Taxon, e *reason.Evidence) string {
	sure := *e.Reading
	sure.Unsure = false
	return capital(e.Trait.Label) + ": you are not sure of " + readingWords(k.Vocabulary, &sure) + ", and that would speak against " + t.CommonName() + "."
}

// StatedWords puts statements of a trait into words: "always hairless", "usually
// 30-100 cm, rarely 5 cm".
func StatedWords(t *graph.Trait, stated []*graph.Statement) string {
	if len(stated) == 0 {
		return "nothing stated"
	}
	var out []string
	for _, s := range stated {
		words := s.Frequency.String() + " " + plain(s.State)
		if s.State == "" {
			words = s.Frequency.String() + " " + s.Range.String()
			if t.Unit != "" {
				words += " " + t.Unit
			}
		}
		if s.Position != "" {
			words += " on the " + plain(s.Position) + " part"
		}
		if !slices.Contains(out, words) {
			out = append(out, words)
		}
	}
	return strings.Join(out, ", ")
}

func frequencyWords(f graph.Frequency) string {
	switch f {
	case graph.Always:
		return ", as always in "
	case graph.Usually:
		return ", as usual in "
	case graph.Sometimes:
		return ", as sometimes in "
	}
	return ", which is rare in "
}

// mostFrequent finds the statement that says most often just what was read; nil
// if none says it, or of a number.
func mostFrequent(e *reason.Evidence) *graph.Statement {
	var best *graph.Statement
	for _, s := range e.Stated {
		if s.State != "" && s.Frequency != graph.Never && slices.Contains(e.Reading.States, s.State) && (best == nil || s.Frequency < best.Frequency) {
			best = s
		}
	}
	return best
}

func sourcesOf(stated []*graph.Statement) []string {
	var out []string
	for _, s := range stated {
		for _, id := range s.Sources {
			if !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return out
}

// traitLabels names traits, and what else rules wait for, in words.
func traitLabels(v *graph.Vocabulary, names []string) string {
	var out []string
	for _, n := range names {
		label := plain(n)
		if t, ok := v.Trait(n); ok {
			label = t.Label
		}
		switch n {
		case "stage":
			label = "the stage of growth"
		case "part":
			label = "the part to be gathered"
		case "month":
			label = "the month"
		case "hoped_for":
			label = "the plant you hope for"
		case "is_ruled_out":
			label = "other plants to be ruled out"
		}
		if !slices.Contains(out, label) {
			out = append(out, label)
		}
	}
	return list(out, "and")
}

// statesOf lists the answers that a trait takes, the first few of them.
func statesOf(t *graph.Trait, most int) string {
	switch t.Kind {
	case graph.MeasureKind:
		return "a length in mm, cm, m, in or ft"
	case graph.CountKind:
		return "a whole number"
	case graph.MonthsKind:
		return "a month"
	}
	ids := t.StateIDs()
	if rest := len(ids) - most; rest > 1 {
		return strings.Join(ids[:most], ", ") + ", ..."
	}
	return strings.Join(ids, ", ")
}
