package render

import (
	"cmp"
	"slices"

	"telltale/graph"
)

// StatementDoc is one statement of a plant as JSON has it.
type StatementDoc struct {
	Trait      string    `json:"trait"`
	Organ      string    `json:"organ"`
	Value      string    `json:"value"` // as files write it: a state, or a range in the trait's unit
	Range      *RangeDoc `json:"range,omitempty"`
	Unit       string    `json:"unit,omitempty"`
	Frequency  string    `json:"frequency"`
	Stages     []string  `json:"stages"`             // empty: at every stage
	Position   string    `json:"position,omitempty"` // left out: anywhere on the plant
	Note       string    `json:"note,omitempty"`
	Sources    []string  `json:"sources"`
	FromMemory bool      `json:"from_memory"`
}

// RangeDoc is a range of a measure in the trait's unit, of a count or of months,
// which may run over the end of the year.
type RangeDoc struct {
	LowExtreme  float64 `json:"low_extreme"`
	Low         float64 `json:"low"`
	High        float64 `json:"high"`
	HighExtreme float64 `json:"high_extreme"`
}

func statementDoc(t *graph.Trait, s *graph.Statement) StatementDoc {
	doc := StatementDoc{Trait: s.Trait, Organ: t.Organ, Value: s.Value(), Frequency: s.Frequency.String(), Stages: never(s.Stages.Names()), Position: s.Position,
		Note: s.Note, Sources: never(s.Sources), FromMemory: fromMemory(s.Sources)}
	if s.State == "" {
		doc.Unit = t.Unit
		doc.Range = &RangeDoc{s.Range.LowExtreme, s.Range.Low, s.Range.High, s.Range.HighExtreme}
	}
	return doc
}

// inOrder lists what is stated of a plant by organ, trait, stage, position and
// frequency, organs and traits in the order of the vocabulary.
func inOrder(v *graph.Vocabulary, taxon *graph.Taxon) []*graph.Statement {
	organs := organs(v)
	out := make([]*graph.Statement, len(taxon.Statements))
	for i := range taxon.Statements {
		out[i] = &taxon.Statements[i]
	}
	organ := func(s *graph.Statement) int {
		t, _ := v.Trait(s.Trait)
		return slices.Index(organs, t.Organ)
	}
	slices.SortStableFunc(out, func(a, b *graph.Statement) int {
		return cmp.Or(cmp.Compare(organ(a), organ(b)), cmp.Compare(v.TraitIndex(a.Trait), v.TraitIndex(b.Trait)), cmp.Compare(a.Stages, b.Stages),
			cmp.Compare(positionIndex(v, a.Position), positionIndex(v, b.Position)), cmp.Compare(a.Frequency, b.Frequency))
	})
	return out
}

func positionIndex(v *graph.Vocabulary, position string) int {
	return slices.Index(v.PositionNames(), position)
}

// organs lists the organs in the order in which the vocabulary names them.
func organs(v *graph.Vocabulary) []string {
	var out []string
	for _, t := range v.Traits {
		if !slices.Contains(out, t.Organ) {
			out = append(out, t.Organ)
		}
	}
	return out
}

// statementWords puts a statement into words: "usually dentate on the upper part,
// at rosette: a note [source]".
func statementWords(t *graph.Trait, s *graph.Statement) Words {
	return saidWords(t, s).from(s.Sources)
}

// saidWords is a statement without its sources.
func saidWords(t *graph.Trait, s *graph.Statement) Words {
	w := W(s.Frequency.String()+" ").marked(Strong, valueWords(t, s)).and(positionWords(s.Position) + atStages(s.Stages))
	if s.Note != "" {
		w = w.and(": " + s.Note)
	}
	return w
}

func valueWords(t *graph.Trait, s *graph.Statement) string {
	switch {
	case s.State != "":
		return plain(s.State)
	case t.Kind == graph.MonthsKind:
		return monthWords(s.Range)
	case t.Unit != "":
		return s.Range.String() + " " + t.Unit
	}
	return s.Range.String()
}

func monthWords(r graph.Range) string {
	first, last := graph.MonthName(int(r.Low)), graph.MonthName(int(r.High))
	if first == last {
		return first
	}
	return first + " to " + last
}

func positionWords(position string) string {
	if position == "" {
		return ""
	}
	return " on the " + plain(position) + " part"
}

func atStages(set graph.StageSet) string {
	if set == 0 {
		return ""
	}
	return ", at " + list(stageWords(set), "and")
}

func stageWords(set graph.StageSet) []string {
	var out []string
	for _, s := range set.List() {
		out = append(out, s.Words())
	}
	return out
}

// traitTerm names a trait with its id.
func traitTerm(t *graph.Trait) Words {
	return W(t.Label+" (").marked(Code, t.ID).and(")")
}

// inMemory counts the statements that no publication stands behind.
func inMemory(taxon *graph.Taxon) int {
	n := 0
	for i := range taxon.Statements {
		if fromMemory(taxon.Statements[i].Sources) {
			n++
		}
	}
	return n
}
