// Package matrix is the graph compiled for reasoning: for each trait a column of
// what every taxon is stated to show of it, at a stage and at a position on the
// plant. States are bits of a machine word, in the order of the vocabulary. It is
// compiled from the knowledge that the graph gave and never edited.
package matrix

import (
	"sync"

	"telltale/graph"
)

// Stated is what the statements that apply together say of one trait of one
// taxon. For states each frequency has a set of bits; for numbers Spans holds
// the ranges given, in the trait's unit.
type Stated struct {
	ByFrequency [graph.Never + 1]uint64 // indexed by graph.Frequency
	Spans       []graph.Range
	// Overruled is set when the taxon's file says itself whether the stated
	// values are all there are, and Exhaustive is what it says.
	Overruled  bool
	Exhaustive bool
}

// Positives is the set of states that some statement gives.
func (s *Stated) Positives() uint64 {
	return s.ByFrequency[graph.Always] | s.ByFrequency[graph.Usually] | s.ByFrequency[graph.Sometimes] | s.ByFrequency[graph.Rarely]
}

// Cell is all that is stated of a trait of a taxon for readings made at one
// stage and position. Where a reading does not tell the position it can have been
// made at any of several, each with statements of its own.
type Cell struct {
	Groups []Stated
	// Open says that the reading can have been made where nothing is stated.
	Open bool
}

// Scored tells whether anything is stated.
func (c *Cell) Scored() bool { return len(c.Groups) > 0 }

// Column is one trait at one stage and position, with a cell for each taxon in
// the order of Knowledge.Taxa.
type Column struct {
	Trait *graph.Trait
	Cells []Cell
}

// Matrix is the compiled graph. It may be used by several goroutines at once.
type Matrix struct {
	Knowledge *graph.Knowledge

	index      map[string]int
	statements [][][]*graph.Statement // by taxon, by trait
	overrules  []map[int]bool         // by taxon: trait to exhaustive

	mu      sync.Mutex
	columns map[key]*Column
}

type key struct {
	trait    int
	stage    graph.Stage
	position string
}

// Compile makes the matrix of what is known.
func Compile(k *graph.Knowledge) *Matrix {
	m := &Matrix{Knowledge: k, index: make(map[string]int, len(k.Taxa)), columns: map[key]*Column{}}
	m.statements = make([][][]*graph.Statement, len(k.Taxa))
	m.overrules = make([]map[int]bool, len(k.Taxa))
	for i, t := range k.Taxa {
		m.index[t.ID] = i
		m.statements[i] = make([][]*graph.Statement, len(k.Vocabulary.Traits))
		for j := range t.Statements {
			s := &t.Statements[j]
			trait := k.Vocabulary.TraitIndex(s.Trait)
			m.statements[i][trait] = append(m.statements[i][trait], s)
		}
		for _, o := range t.Overrules {
			if m.overrules[i] == nil {
				m.overrules[i] = map[int]bool{}
			}
			m.overrules[i][k.Vocabulary.TraitIndex(o.Trait)] = o.Exhaustive
		}
	}
	return m
}

// TaxonIndex finds a taxon's row, -1 if there is none.
func (m *Matrix) TaxonIndex(id string) int {
	if i, ok := m.index[id]; ok {
		return i
	}
	return -1
}

// Statements lists what is stated of a trait of a taxon, at every stage.
func (m *Matrix) Statements(taxon, trait int) []*graph.Statement {
	return m.statements[taxon][trait]
}

// Column gives the column of a trait for readings at the stage and position, ""
// for a position that is not told. AnyStage asks for all stages taken together.
func (m *Matrix) Column(trait int, stage graph.Stage, position string) *Column {
	k := key{trait, stage, position}
	m.mu.Lock()
	defer m.mu.Unlock()
	if c, ok := m.columns[k]; ok {
		return c
	}
	c := &Column{Trait: m.Knowledge.Vocabulary.Traits[trait], Cells: make([]Cell, len(m.statements))}
	for taxon := range m.statements {
		c.Cells[taxon] = m.cell(taxon, trait, stage, position)
	}
	m.columns[k] = c
	return c
}

// cell gathers the statements that apply. Those without a position hold at every
// position; those with one only there.
func (m *Matrix) cell(taxon, trait int, stage graph.Stage, position string) Cell {
	var everywhere []*graph.Statement
	var positions []string
	at := map[string][]*graph.Statement{}
	for _, s := range m.statements[taxon][trait] {
		switch {
		case stage != graph.AnyStage && !s.At(stage):
		case s.Position == "":
			everywhere = append(everywhere, s)
		default:
			if at[s.Position] == nil {
				positions = append(positions, s.Position)
			}
			at[s.Position] = append(at[s.Position], s)
		}
	}
	var c Cell
	add := func(list []*graph.Statement) {
		if len(list) > 0 {
			c.Groups = append(c.Groups, m.stated(taxon, trait, list))
		}
	}
	if position != "" {
		add(append(append([]*graph.Statement(nil), everywhere...), at[position]...))
		return c
	}
	for _, p := range positions {
		add(append(append([]*graph.Statement(nil), everywhere...), at[p]...))
	}
	// The reading can have been made where nothing but what holds everywhere does.
	add(everywhere)
	c.Open = len(everywhere) == 0 && len(positions) > 0 && !covered(at, stage)
	return c
}

// covered tells whether the positions scored leave no leaf out: the upper and
// the lower ones, or the basal ones of a plant that has no others yet.
func covered(at map[string][]*graph.Statement, stage graph.Stage) bool {
	low := len(at["lower"]) > 0 || len(at["basal"]) > 0
	if len(at["upper"]) > 0 && low {
		return true
	}
	return (stage == graph.Rosette || stage == graph.Seedling) && len(at["basal"]) > 0
}

func (m *Matrix) stated(taxon, trait int, list []*graph.Statement) Stated {
	var out Stated
	t := m.Knowledge.Vocabulary.Traits[trait]
	for _, s := range list {
		if t.Kind == graph.StateKind {
			out.ByFrequency[s.Frequency] |= 1 << t.StateIndex(s.State)
		} else if s.Frequency != graph.Never {
			out.Spans = append(out.Spans, s.Range)
		}
	}
	out.Exhaustive, out.Overruled = m.overrules[taxon][trait]
	return out
}
