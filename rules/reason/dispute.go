package reason

import (
	"slices"

	"telltale/graph"
	"telltale/graph/matrix"
)

// Side is sources that say the same of a trait, and what they say there.
type Side struct {
	Sources    []string
	Statements []*graph.Statement
}

// Dispute is two sides whose sources differ on a trait of a plant. The reasoner
// takes what either allows; people should know.
type Dispute struct {
	A, B     Side
	Stages   graph.StageSet // where they differ; all six where the stage does not matter
	Position string
	// Excludes says that one side leaves no room for what the other gives.
	// Otherwise they only differ on what is usual.
	Excludes bool
}

// Disputes finds where sources of a plant differ on a trait: taken alone, one
// allows only values that the other goes beyond, or each calls something else
// usual. Near states are no difference in what is usual.
func Disputes(taxon *graph.Taxon, t *graph.Trait) []Dispute {
	var stated []*graph.Statement
	for i := range taxon.Statements {
		if s := &taxon.Statements[i]; s.Trait == t.ID {
			stated = append(stated, s)
		}
	}
	var out []Dispute
	for _, position := range positionsOf(stated) {
		for _, stage := range graph.Stages() {
			if !t.Visible(stage) {
				continue
			}
			for _, d := range disputesAt(t, sides(stated, stage, position)) {
				d.Position = position
				out = add(out, d, stage)
			}
		}
	}
	return out
}

// positionsOf lists the positions that statements are told of, or "" where none
// is.
func positionsOf(stated []*graph.Statement) []string {
	var out []string
	for _, s := range stated {
		if s.Position != "" && !slices.Contains(out, s.Position) {
			out = append(out, s.Position)
		}
	}
	if out == nil {
		return []string{""}
	}
	slices.Sort(out)
	return out
}

// sides parts the sources by what they say at a stage and position.
func sides(stated []*graph.Statement, stage graph.Stage, position string) []Side {
	var order []string
	by := map[string][]*graph.Statement{}
	for _, s := range stated {
		if !s.At(stage) || s.Position != "" && s.Position != position {
			continue
		}
		for _, source := range s.Sources {
			if by[source] == nil {
				order = append(order, source)
			}
			by[source] = append(by[source], s)
		}
	}
	var out []Side
	for _, source := range order {
		i := slices.IndexFunc(out, func(s Side) bool { return slices.EqualFunc(s.Statements, by[source], saysTheSame) })
		if i < 0 {
			out = append(out, Side{Statements: by[source]})
			i = len(out) - 1
		}
		out[i].Sources = append(out[i].Sources, source)
	}
	return out
}

func saysTheSame(a, b *graph.Statement) bool {
	return a.State == b.State && a.Range == b.Range && a.Frequency == b.Frequency
}

func disputesAt(t *graph.Trait, all []Side) []Dispute {
	var out []Dispute
	for i := range all {
		for j := i + 1; j < len(all); j++ {
			a, b := together(t, all[i].Statements), together(t, all[j].Statements)
			excludes := goesBeyond(t, a, b) || goesBeyond(t, b, a)
			if excludes || usualDiffers(t, a, b) {
				out = append(out, Dispute{A: all[i], B: all[j], Excludes: excludes})
			}
		}
	}
	return out
}

// add puts a dispute to those found, or widens one that is the same at another
// stage.
func add(out []Dispute, d Dispute, stage graph.Stage) []Dispute {
	for i := range out {
		if out[i].Position == d.Position && out[i].Excludes == d.Excludes && slices.Equal(out[i].A.Statements, d.A.Statements) &&
			slices.Equal(out[i].B.Statements, d.B.Statements) && slices.Equal(out[i].A.Sources, d.A.Sources) && slices.Equal(out[i].B.Sources, d.B.Sources) {
			out[i].Stages |= graph.StagesOf(stage)
			return out
		}
	}
	d.Stages = graph.StagesOf(stage)
	return append(out, d)
}

// together takes statements as one side's.
func together(t *graph.Trait, stated []*graph.Statement) *matrix.Stated {
	out := &matrix.Stated{}
	for _, s := range stated {
		switch {
		case t.Kind == graph.StateKind:
			out.ByFrequency[s.Frequency] |= 1 << t.StateIndex(s.State)
		case s.Frequency != graph.Never:
			out.Spans = append(out.Spans, s.Range)
		}
	}
	return out
}

// goesBeyond tells whether a gives something that b leaves no room for.
func goesBeyond(t *graph.Trait, a, b *matrix.Stated) bool {
	if t.Kind == graph.MonthsKind {
		return len(a.Spans) > 0 && len(b.Spans) > 0 && !spansMeet(t, a.Spans, b.Spans)
	}
	room := possible(t, b)
	if room.Anything {
		return false
	}
	if t.Kind == graph.StateKind {
		return a.Positives()&^room.States != 0
	}
	return slices.ContainsFunc(a.Spans, func(r graph.Range) bool { return r.Low < room.Low || r.High > room.High })
}

// usualDiffers tells whether what the two call usual has nothing in common, not
// even a near state.
func usualDiffers(t *graph.Trait, a, b *matrix.Stated) bool {
	if t.Kind != graph.StateKind || t.Many {
		return false
	}
	p := a.ByFrequency[graph.Always] | a.ByFrequency[graph.Usually]
	q := b.ByFrequency[graph.Always] | b.ByFrequency[graph.Usually]
	return p != 0 && q != 0 && withNear(t, p)&q == 0
}

// HarmDispute is two sources that grade the harm of the same part differently.
type HarmDispute struct{ A, B *graph.Toxicity }

// HarmDisputes finds parts whose harm different sources grade differently.
func HarmDisputes(taxon *graph.Taxon) []HarmDispute {
	var out []HarmDispute
	for i := range taxon.Toxicity {
		for j := i + 1; j < len(taxon.Toxicity); j++ {
			a, b := &taxon.Toxicity[i], &taxon.Toxicity[j]
			if a.Route == b.Route && a.Severity != b.Severity && a.Severity != graph.Ungraded && b.Severity != graph.Ungraded &&
				sharePart(a.Parts, b.Parts) && !slices.Equal(a.Sources, b.Sources) {
				out = append(out, HarmDispute{a, b})
			}
		}
	}
	return out
}

// UseDispute is a part that one source has people eat or take as medicine, and
// another calls deadly or serious to eat.
type UseDispute struct {
	Use  *graph.Use
	Harm *graph.Toxicity
}

// UseDisputes finds uses of parts that are called poisonous.
func UseDisputes(taxon *graph.Taxon) []UseDispute {
	var out []UseDispute
	for i := range taxon.Uses {
		u := &taxon.Uses[i]
		if u.Category != "food" && u.Category != "medicines" {
			continue
		}
		for j := range taxon.Toxicity {
			x := &taxon.Toxicity[j]
			if x.Route == graph.Ingestion && x.Severity.Poisonous() && sharePart(u.Parts, x.Parts) {
				out = append(out, UseDispute{u, x})
			}
		}
	}
	return out
}

// sharePart tells whether two lists of parts touch the same part of the plant. The
// whole plant touches every part.
func sharePart(a, b []string) bool {
	if slices.Contains(a, "whole_plant") || slices.Contains(b, "whole_plant") {
		return true
	}
	return slices.ContainsFunc(a, func(p string) bool { return slices.Contains(b, p) })
}
