package exchange

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"telltale/graph"
	"telltale/graph/files"
)

// Columns are the columns of a sheet of statements, one row a statement. A list of
// sources is split by |. part is the position on the plant. A statement made at
// several stages has a row for each, one made at all of them the word any. Measures
// are in the unit of their trait.
var Columns = []string{"taxon", "trait", "value", "frequency", "stage", "part", "source", "note"}

// WriteStatements writes what is stated of the taxa as a sheet in CSV (RFC 4180)
// with the columns Columns.
func WriteStatements(w io.Writer, taxa []*graph.Taxon) error {
	out := csv.NewWriter(w)
	rows := [][]string{Columns}
	for _, t := range taxa {
		for i := range t.Statements {
			rows = append(rows, rowsOf(t.ID, &t.Statements[i])...)
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("writing the statements: %w", err)
	}
	return nil
}

func rowsOf(taxon string, s *graph.Statement) [][]string {
	stages := s.Stages.Names()
	if len(stages) == 0 {
		stages = []string{graph.AnyStage.String()}
	}
	var out [][]string
	for _, stage := range stages {
		out = append(out, []string{
			taxon, s.Trait, s.Value(), s.Frequency.String(), stage, s.Position, strings.Join(s.Sources, "|"), s.Note,
		})
	}
	return out
}

// Scored is what a sheet states of one taxon.
type Scored struct {
	Taxon      string
	Statements []graph.Statement // those of one trait together
}

// ReadStatements reads a sheet of statements; name is what problems call it. Traits,
// states, plants and sources are looked up in what is known. Cells may be parted by
// commas, semicolons or tabs; the first row, the header, tells. The error is a
// graph.Problems that lists everything wrong with line and column; nothing is
// returned with it.
func ReadStatements(k *graph.Knowledge, name string, r io.Reader) ([]Scored, error) {
	s := &sheet{name: name, known: k}
	rows, err := s.open(r)
	if err != nil {
		return nil, err
	}
	var out []Scored
	for {
		row, ok := s.next(rows)
		if !ok {
			break
		}
		taxon, statement, ok := s.statement(row)
		if !ok {
			continue
		}
		i := slices.IndexFunc(out, func(x Scored) bool { return x.Taxon == taxon })
		if i < 0 {
			i = len(out)
			out = append(out, Scored{Taxon: taxon})
		}
		out[i].Statements = add(out[i].Statements, statement)
	}
	if err := s.problems.Err(); err != nil {
		return nil, err
	}
	for i := range out {
		out[i].Statements = byTrait(out[i].Statements)
	}
	return out, nil
}

// add puts a statement behind the others. A row that differs from the one before
// it in the stage only is the same statement at a further stage.
func add(list []graph.Statement, s graph.Statement) []graph.Statement {
	if len(list) > 0 {
		last := &list[len(list)-1]
		if last.Stages != 0 && s.Stages != 0 && sameBut(*last, s) {
			last.Stages |= s.Stages
			return list
		}
	}
	return append(list, s)
}

func sameBut(a, b graph.Statement) bool {
	return a.Trait == b.Trait && a.State == b.State && a.Range == b.Range && a.Frequency == b.Frequency &&
		a.Position == b.Position && a.Note == b.Note && slices.Equal(a.Sources, b.Sources)
}

// statement reads one row.
func (s *sheet) statement(row row) (taxon string, out graph.Statement, ok bool) {
	before := len(s.problems)
	taxon = s.taxon(row)
	out = graph.Statement{Note: row.cell("note")}
	trait := s.trait(row, &out)
	if out.Frequency, ok = graph.FrequencyNamed(row.low("frequency")); !ok {
		s.unknown(row, "frequency", "frequency", graph.FrequencyNames())
	}
	out.Stages = s.stages(row)
	if out.Position = row.low("part"); out.Position != "" && !s.known.Vocabulary.HasPosition(out.Position) {
		s.unknown(row, "part", "position on the plant", s.known.Vocabulary.PositionNames())
	}
	out.Sources = s.sources(row)
	if trait != nil {
		s.value(row, trait, &out)
	}
	return taxon, out, len(s.problems) == before
}

func (s *sheet) taxon(row row) string {
	id := row.low("taxon")
	if _, ok := s.known.Taxon(id); ok {
		return id
	}
	s.unknown(row, "taxon", "plant", s.known.TaxonIDs())
	if t, err := s.known.FindTaxon(row.cell("taxon")); err == nil && id != "" {
		s.problems[len(s.problems)-1].Nearest = t.ID
	}
	return ""
}

func (s *sheet) trait(row row, out *graph.Statement) *graph.Trait {
	t, ok := s.known.Vocabulary.Trait(row.low("trait"))
	if !ok {
		s.unknown(row, "trait", "trait", s.known.Vocabulary.TraitIDs())
		return nil
	}
	out.Trait = t.ID
	return t
}

// stages reads the stage, for which any has to be written out: an empty cell may be
// one that was forgotten.
func (s *sheet) stages(row row) graph.StageSet {
	var set graph.StageSet
	for _, word := range split(row.low("stage")) {
		stage, ok := graph.StageNamed(word)
		if !ok || word == "" {
			s.unknown(row, "stage", "stage", append([]string{graph.AnyStage.String()}, graph.StageNames()...))
			return 0
		}
		if stage == graph.AnyStage {
			return 0
		}
		set |= graph.StagesOf(stage)
	}
	return set
}

// sources reads the sources, in the order of the alphabet as a graph has them.
func (s *sheet) sources(row row) []string {
	var out []string
	for _, id := range split(row.cell("source")) {
		if id == "" {
			s.add(row, "source", "an id is missing: give the ids of the sources, split by |, or memory")
			return nil
		}
		if _, ok := s.known.Source(id); !ok && id != graph.Memory {
			ids := []string{graph.Memory}
			for _, known := range s.known.Sources {
				ids = append(ids, known.ID)
			}
			s.problems = append(s.problems, graph.Unknown(s.place(row, "source"), "source", id, ids))
			s.numbered(row, "source")
		}
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}

func split(cell string) []string {
	out := strings.Split(cell, "|")
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

func (s *sheet) value(row row, t *graph.Trait, out *graph.Statement) {
	text := row.cell("value")
	if t.Kind == graph.StateKind {
		state := strings.ReplaceAll(strings.ToLower(text), " ", "_")
		if t.StateIndex(state) < 0 {
			s.problems = append(s.problems, graph.UnknownState(t, text, s.place(row, "value")))
			s.numbered(row, "value")
			return
		}
		out.State = state
		return
	}
	r, err := graph.ParseRange(text, t.Unit)
	if err == nil {
		err = r.Check(t.Kind)
	}
	if err != nil {
		s.add(row, "value", "%s: %s", t.ID, err)
		return
	}
	out.Range = r
}

// Merged gives a new knowledge in which what the sheet states of a trait of a plant
// takes the place of all that base states of it, as own data does that is laid over
// the shipped. Traits that the sheet does not score stay as they are, and so does
// base.
func Merged(base *graph.Knowledge, scored []Scored) *graph.Knowledge {
	vocabulary := *base.Vocabulary
	out := *base
	out.Vocabulary, out.Sources, out.Taxa = &vocabulary, slices.Clone(base.Sources), slices.Clone(base.Taxa)
	out.Studies, out.Rules = slices.Clone(base.Studies), slices.Clone(base.Rules)
	for i, known := range base.Taxa {
		for _, s := range scored {
			if s.Taxon != known.ID {
				continue
			}
			t := *known
			kept := slices.DeleteFunc(slices.Clone(t.Statements), func(old graph.Statement) bool { return s.scores(old.Trait) })
			t.Statements = append(kept, s.Statements...)
			out.Taxa[i] = &t
		}
	}
	out.Index()
	return &out
}

func (s *Scored) scores(trait string) bool {
	return slices.ContainsFunc(s.Statements, func(x graph.Statement) bool { return x.Trait == trait })
}

// SheetFiles writes what a sheet states as files of the folder taxa, one a plant. A
// file holds the plant's names and the traits that the sheet scores, to be laid over
// base as own data; if whole is set, all that is then known of the plant, to take
// the place of its file. They are read back before they are given.
func SheetFiles(base *graph.Knowledge, scored []Scored, whole bool) (Files, error) {
	merged := Merged(base, scored)
	out := Files{}
	if whole {
		all, err := Folder(merged)
		for _, s := range scored {
			out[taxonFile(s.Taxon)] = all[taxonFile(s.Taxon)]
		}
		return out, err
	}
	for _, s := range scored {
		known, _ := base.Taxon(s.Taxon)
		out.put(taxonFile(s.Taxon), taxonPage(&graph.Taxon{
			ID: known.ID, Name: known.Name, Author: known.Author, Family: known.Family, Common: known.Common,
			Synonyms: known.Synonyms, Range: known.Range, Sources: known.Sources, Statements: s.Statements,
		}, base.Vocabulary))
	}
	fsys, err := out.FS()
	if err != nil {
		return nil, err
	}
	over, err := files.Over(base, "", fsys)
	if err != nil {
		return nil, err
	}
	return out, unchanged(merged, over)
}

func taxonFile(id string) string { return "taxa/" + id + ".yaml" }
