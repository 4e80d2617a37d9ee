package render

import (
	"strconv"
	"strings"

	"telltale/graph"
)

// Matrix is what is stated of a herb and its lookalikes, trait by trait.
type Matrix struct {
	Stage  graph.Stage    // AnyStage: all that is stated
	Plants []*graph.Taxon // the herb first
	Rows   []MatrixRow
}

// MatrixRow is one trait with a cell for each plant.
type MatrixRow struct {
	Trait *graph.Trait
	Cells []MatrixCell
}

// MatrixCell is what is stated of a trait of a plant, and the stages at which the
// trait parts it from the herb for certain (a constant difference) or usually, of
// those at which the herb is gathered.
type MatrixCell struct {
	Statements []*graph.Statement
	Parts      graph.StageSet
	Usually    graph.StageSet
}

// StudyDoc is what `study show --format json` writes.
type StudyDoc struct {
	Taxon       string         `json:"taxon"`
	Name        string         `json:"name"`
	CommonNames []string       `json:"common_names"`
	About       string         `json:"about"`
	Gather      []GatherDoc    `json:"gather"`
	Rules       []StudyRuleDoc `json:"rules"`
	TooClose    []TooCloseDoc  `json:"too_close"`
	Sources     []string       `json:"sources"`
	FromMemory  bool           `json:"from_memory"`
	Matrix      MatrixDoc      `json:"matrix"`
	OwnData     []OwnDataDoc   `json:"own_data"`
	Cautions    []string       `json:"cautions"`
}

// GatherDoc is what is gathered when, and what has to be checked there.
type GatherDoc struct {
	Parts      []string   `json:"parts"`
	Stages     []string   `json:"stages"`
	Checks     []CheckDoc `json:"checks"`
	Say        []string   `json:"say"`
	Sources    []string   `json:"sources"`
	FromMemory bool       `json:"from_memory"`
}

// CheckDoc is a reading that the study demands. Without States any value that is
// stated of the plant fits.
type CheckDoc struct {
	Trait      string   `json:"trait"`
	Position   string   `json:"position,omitempty"`
	States     []string `json:"states"`
	Because    string   `json:"because"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

// StudyRuleDoc is a rule about the herb.
type StudyRuleDoc struct {
	ID         string   `json:"id"`
	Then       string   `json:"then"`
	When       string   `json:"when"`
	Because    string   `json:"because"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

// TooCloseDoc is a plant that cannot be told from the herb at these stages, why, and
// how or when the two can be.
type TooCloseDoc struct {
	Taxon      string   `json:"taxon"`
	Stages     []string `json:"stages"`
	Because    string   `json:"because"`
	Parted     string   `json:"parted"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

// MatrixDoc is a matrix: the plants, the herb first, and the traits with a cell for
// each plant in that order.
type MatrixDoc struct {
	Stage  string           `json:"stage"` // empty: all stages
	Plants []MatrixPlantDoc `json:"plants"`
	Traits []MatrixRowDoc   `json:"traits"`
}

// MatrixPlantDoc is a plant of a matrix.
type MatrixPlantDoc struct {
	Taxon    string `json:"taxon"`
	Name     string `json:"name"`
	Severity string `json:"severity"`
}

// MatrixRowDoc is a trait of a matrix.
type MatrixRowDoc struct {
	Trait string          `json:"trait"`
	Group string          `json:"group"`
	Cells []MatrixCellDoc `json:"cells"`
}

// MatrixCellDoc is what is stated of a plant. PartsAt lists the stages at which the
// trait parts it from the herb for certain, UsuallyPartsAt those at which it only
// usually does.
type MatrixCellDoc struct {
	Taxon          string         `json:"taxon"`
	Statements     []StatementDoc `json:"statements"`
	PartsAt        []string       `json:"parts_at"`
	UsuallyPartsAt []string       `json:"usually_parts_at"`
}

// StudyJSON puts a study with its rules and matrix into a document.
func StudyJSON(k *graph.Knowledge, t *graph.Taxon, study *graph.Study, rules []*graph.Rule, m *Matrix) StudyDoc {
	doc := StudyDoc{Taxon: t.ID, Name: t.Name, CommonNames: never(t.Common), About: study.About, Gather: []GatherDoc{}, Rules: []StudyRuleDoc{}, TooClose: []TooCloseDoc{},
		Sources: never(study.Sources), FromMemory: fromMemory(study.Sources), Matrix: matrixDoc(m), OwnData: ownDataDocs(changed(k, ofStudy(t.ID, rules)...)), Cautions: studyCautions(t)}
	for _, g := range study.Gather {
		d := GatherDoc{Parts: never(g.Parts), Stages: never(g.Stages.Names()), Checks: []CheckDoc{}, Say: never(g.Say), Sources: never(g.Sources), FromMemory: fromMemory(g.Sources)}
		for _, c := range g.Checks {
			d.Checks = append(d.Checks, CheckDoc{Trait: c.Trait, Position: c.Position, States: never(c.States), Because: c.Because, Sources: never(c.Sources), FromMemory: fromMemory(c.Sources)})
		}
		doc.Gather = append(doc.Gather, d)
	}
	for _, c := range study.TooClose {
		doc.TooClose = append(doc.TooClose, TooCloseDoc{c.Taxon, never(c.Stages.Names()), c.Because, c.Parted, never(c.Sources), fromMemory(c.Sources)})
	}
	for _, r := range rules {
		doc.Rules = append(doc.Rules, StudyRuleDoc{ID: r.ID, Then: r.Then, When: r.When, Because: r.Because, Sources: never(r.Sources), FromMemory: fromMemory(r.Sources)})
	}
	return doc
}

func matrixDoc(m *Matrix) MatrixDoc {
	doc := MatrixDoc{Stage: stageName(m.Stage), Plants: []MatrixPlantDoc{}, Traits: []MatrixRowDoc{}}
	for _, t := range m.Plants {
		doc.Plants = append(doc.Plants, MatrixPlantDoc{t.ID, t.Name, t.Severity().String()})
	}
	for _, r := range m.Rows {
		row := MatrixRowDoc{Trait: r.Trait.ID, Group: r.Trait.EvidenceGroup()}
		for i, c := range r.Cells {
			cell := MatrixCellDoc{Taxon: m.Plants[i].ID, Statements: []StatementDoc{}, PartsAt: never(c.Parts.Names()), UsuallyPartsAt: never(c.Usually.Names())}
			for _, s := range c.Statements {
				cell.Statements = append(cell.Statements, statementDoc(r.Trait, s))
			}
			row.Cells = append(row.Cells, cell)
		}
		doc.Traits = append(doc.Traits, row)
	}
	return doc
}

// StudySheet puts a study with its rules and matrix into a sheet.
func StudySheet(k *graph.Knowledge, t *graph.Taxon, study *graph.Study, rules []*graph.Rule, m *Matrix) *Sheet {
	s := &Sheet{Title: W("Study of ").then(named(t)), Cautions: studyCautions(t), Hints: []string{
		"Sources in full: telltale source show SOURCE. One stage only: --stage. Only what parts it: --parting.",
	}}
	if study.About != "" {
		s.Lead = append(s.Lead, W(study.About).from(study.Sources))
	}
	s.Lead = append(s.Lead, changedWords(k, ofStudy(t.ID, rules)...)...)
	for _, g := range study.Gather {
		s.add(W(capital(list(plainAll(g.Parts), "and"))+" at "+list(stageWords(g.Stages), "and")), gatherBlocks(k.Vocabulary, &g)...)
	}
	s.add(W("Rules"), Block{Items: ruleItems(rules)})
	s.add(W("Too close to be told apart"), Block{Items: tooCloseItems(k, study)})
	s.add(W("What it is confused with"), Block{Items: plantItems(m.Plants[1:])})
	s.add(matrixTitle(m), Block{Table: matrixTable(m)})
	s.cite(k)
	return s
}

func gatherBlocks(v *graph.Vocabulary, g *graph.Gather) []Block {
	var checks, say []Item
	for _, c := range g.Checks {
		checks = append(checks, Item{Words: checkWords(v, &c), Under: []Words{W(capital(c.Because)).from(c.Sources)}})
	}
	for _, text := range g.Say {
		say = append(say, Item{Words: W(text)})
	}
	blocks := []Block{{Paragraph: W("To be seen for sure on each plant").from(g.Sources).and(":")}, {Items: checks}}
	if len(say) > 0 {
		blocks = append(blocks, Block{Paragraph: W("To be said to those who gather:")}, Block{Items: say})
	}
	return blocks
}

func checkWords(v *graph.Vocabulary, c *graph.Check) Words {
	w := W(plain(c.Trait))
	if t, ok := v.Trait(c.Trait); ok {
		w = capitalWords(traitTerm(t))
	}
	w = w.and(positionWords(c.Position) + ": ")
	if len(c.States) == 0 {
		return w.marked(Strong, "as stated of the plant")
	}
	return w.marked(Strong, list(plainAll(c.States), "or"))
}

func ruleItems(rules []*graph.Rule) []Item {
	var out []Item
	for _, r := range rules {
		out = append(out, Item{
			Words: W("").marked(Strong, consequenceWords(r.Then)).and(" if ").marked(Code, strings.Join(strings.Fields(r.When), " ")).and(" (" + r.ID + ")"),
			Under: []Words{W(capital(r.Because)).from(r.Sources)},
		})
	}
	return out
}

func consequenceWords(then string) string {
	switch then {
	case graph.Leave:
		return "Leave it"
	case graph.Must:
		return "Gather it only"
	case graph.ItIs:
		return "Taken for it"
	}
	return "Mind"
}

// tooCloseItems lists the plants that cannot be told from the herb, and when they
// can be.
func tooCloseItems(k *graph.Knowledge, study *graph.Study) []Item {
	var out []Item
	for _, c := range study.TooClose {
		w := W("").marked(Code, c.Taxon)
		if t, ok := k.Taxon(c.Taxon); ok {
			w = named(t)
		}
		item := Item{Words: w.and(atStages(c.Stages)), Under: []Words{W(sentence(c.Because)).from(c.Sources)}}
		if c.Parted != "" {
			item.Under = append(item.Under, W("To be told apart: "+c.Parted))
		}
		out = append(out, item)
	}
	return out
}

func plantItems(plants []*graph.Taxon) []Item {
	var out []Item
	for _, t := range plants {
		out = append(out, Item{Words: named(t).and(" ").marked(Code, t.ID)})
	}
	return out
}

func matrixTitle(m *Matrix) Words {
	if m.Stage == graph.AnyStage {
		return W("Trait by trait")
	}
	return W("Trait by trait, at the stage " + m.Stage.Words())
}

func matrixTable(m *Matrix) *Table {
	table := &Table{Caption: "What is stated of each. Where a trait parts a plant from the herb, at a stage at which the herb is gathered, it says so.", Head: []string{"Trait"}, Stacked: true}
	for _, t := range m.Plants {
		table.Head = append(table.Head, t.CommonName())
	}
	for _, r := range m.Rows {
		row := []Words{capitalWords(traitTerm(r.Trait))}
		for _, c := range r.Cells {
			row = append(row, cellWords(r.Trait, &c, m.Stage))
		}
		table.Rows = append(table.Rows, row)
	}
	return table
}

func cellWords(t *graph.Trait, c *MatrixCell, at graph.Stage) Words {
	var all []Words
	for _, s := range c.Statements {
		w := W(s.Frequency.String() + " " + valueWords(t, s) + positionWords(s.Position))
		if at == graph.AnyStage && !everyStage(t, s.Stages) {
			w = w.and(atStages(s.Stages))
		}
		if fromMemory(s.Sources) {
			w = w.and(" (").marked(Memory, fromMemoryWords).and(")")
		}
		all = append(all, w)
	}
	return join(all, "; ").then(partsWords("for certain", c.Parts, at)).then(partsWords("usually", c.Usually, at))
}

// partsWords says where a trait parts a plant from the herb.
func partsWords(how string, stages graph.StageSet, at graph.Stage) Words {
	switch {
	case stages == 0:
		return nil
	case at != graph.AnyStage:
		return W(" ").marked(Strong, "[parts them "+how+"]")
	}
	return W(" ").marked(Strong, "[parts them "+how+atStages(stages)+"]")
}

func studyCautions(t *graph.Taxon) []string {
	all := taxonCautions(t)
	return append(all[:len(all)-1:len(all)-1], law, all[len(all)-1])
}

// StudyRow is a study in a list.
type StudyRow struct {
	Taxon *graph.Taxon
	Study *graph.Study
}

// StudyRowDoc is a study in a list, as JSON has it.
type StudyRowDoc struct {
	Taxon  string         `json:"taxon"`
	Name   string         `json:"name"`
	Common []string       `json:"common_names"`
	Gather []StudyPartDoc `json:"gather"`
}

// StudyPartDoc is what a study has gathered when, with how many checks.
type StudyPartDoc struct {
	Parts  []string `json:"parts"`
	Stages []string `json:"stages"`
	Checks int      `json:"checks"`
}

// StudiesJSON lists studies.
func StudiesJSON(rows []StudyRow) []StudyRowDoc {
	out := []StudyRowDoc{}
	for _, r := range rows {
		doc := StudyRowDoc{Taxon: r.Taxon.ID, Name: r.Taxon.Name, Common: never(r.Taxon.Common), Gather: []StudyPartDoc{}}
		for _, g := range r.Study.Gather {
			doc.Gather = append(doc.Gather, StudyPartDoc{never(g.Parts), never(g.Stages.Names()), len(g.Checks)})
		}
		out = append(out, doc)
	}
	return out
}

// StudiesSheet lists studies: what is gathered of each herb when, with how many
// checks.
func StudiesSheet(rows []StudyRow) *Sheet {
	table := &Table{Head: []string{"Id", "Herb", "Part", "Stage", "Checks"}}
	for _, r := range rows {
		for _, g := range r.Study.Gather {
			table.Rows = append(table.Rows, []Words{W("").marked(Code, r.Taxon.ID), W(r.Taxon.CommonName()), W(list(plainAll(g.Parts), "and")), W(list(stageWords(g.Stages), "and")), W(strconv.Itoa(len(g.Checks)))})
		}
	}
	s := &Sheet{Title: W(counted(len(rows), "study", "studies")), Hints: []string{"More of one: telltale study show PLANT"}}
	s.add(nil, Block{Table: table})
	return s
}
