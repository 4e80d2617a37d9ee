package render

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"telltale/graph"
)

// TraitDoc is what `trait show --format json` writes.
type TraitDoc struct {
	Trait           string       `json:"trait"`
	Label           string       `json:"label"`
	Kind            string       `json:"kind"` // state, measure, count or months
	Unit            string       `json:"unit,omitempty"`
	Organ           string       `json:"organ"`
	Words           []string     `json:"words"`
	Question        string       `json:"question"`
	Means           string       `json:"means"`
	SeeAt           []string     `json:"see_at"` // empty: at every stage
	Effort          string       `json:"effort"`
	EffortMeans     string       `json:"effort_means"`
	Caution         string       `json:"caution,omitempty"`
	Group           string       `json:"group"`
	Excludes        bool         `json:"excludes"`
	Because         string       `json:"because,omitempty"` // why it does not exclude
	Many            bool         `json:"many"`
	ErrorRate       float64      `json:"error_rate"` // the chance that an observer reads it wrongly
	ErrorFrom       string       `json:"error_from"`
	ErrorFromMemory bool         `json:"error_from_memory"`
	States          []StateDoc   `json:"states,omitempty"`
	Shown           []ShownDoc   `json:"shown"`
	OwnData         []OwnDataDoc `json:"own_data"`
}

// StateDoc is a state of a trait.
type StateDoc struct {
	State string   `json:"state"`
	Means string   `json:"means"`
	Words []string `json:"words"`
	Near  []string `json:"near"`
}

// ShownDoc is what a plant is stated to show.
type ShownDoc struct {
	Taxon string `json:"taxon"`
	StatementDoc
}

// TraitJSON puts a trait and the plants that show it into a document.
func TraitJSON(k *graph.Knowledge, t *graph.Trait) TraitDoc {
	doc := TraitDoc{Trait: t.ID, Label: t.Label, Kind: t.Kind.String(), Unit: t.Unit, Organ: t.Organ, Words: never(t.Words), Question: t.Question, Means: t.Means,
		SeeAt: never(t.SeeAt.Names()), Effort: t.Effort, EffortMeans: effortMeans(k.Vocabulary, t.Effort), Caution: t.Caution, Group: t.EvidenceGroup(),
		Excludes: t.Excludes, Because: t.Because, Many: t.Many, ErrorRate: t.ErrorRate, ErrorFrom: t.ErrorFrom, ErrorFromMemory: t.ErrorFrom == graph.Memory,
		Shown: []ShownDoc{}, OwnData: ownDataDocs(changed(k, fact{"trait", t.ID}))}
	for _, s := range t.States {
		doc.States = append(doc.States, StateDoc{State: s.ID, Means: s.Means, Words: never(s.Words), Near: never(s.Near)})
	}
	for _, s := range shown(k, t) {
		doc.Shown = append(doc.Shown, ShownDoc{s.taxon.ID, statementDoc(t, s.statement)})
	}
	return doc
}

func effortMeans(v *graph.Vocabulary, name string) string {
	for _, e := range v.Efforts {
		if e.Name == name {
			return e.Means
		}
	}
	return ""
}

// shows is one statement with the plant it is about.
type shows struct {
	taxon     *graph.Taxon
	statement *graph.Statement
}

// shown lists what plants show of a trait, by state, frequency and plant.
func shown(k *graph.Knowledge, t *graph.Trait) []shows {
	var out []shows
	for _, taxon := range k.Taxa {
		for i := range taxon.Statements {
			if s := &taxon.Statements[i]; s.Trait == t.ID {
				out = append(out, shows{taxon, s})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b shows) int {
		return cmp.Or(cmp.Compare(t.StateIndex(a.statement.State), t.StateIndex(b.statement.State)), cmp.Compare(a.statement.Frequency, b.statement.Frequency))
	})
	return out
}

// TraitSheet puts a trait and the plants that show it into a sheet.
func TraitSheet(k *graph.Knowledge, t *graph.Trait) *Sheet {
	s := &Sheet{Title: traitTerm(t), Lead: []Words{W(t.Question), W(t.Means)}}
	s.Title = capitalWords(s.Title)
	s.Lead = append(s.Lead, changedWords(k, fact{"trait", t.ID})...)
	if t.Caution != "" {
		s.Cautions = []string{sentence(t.Caution)}
	}
	s.add(W("In short"), Block{Facts: traitInShort(k, t), Aligned: true})
	s.add(W("States"), Block{Facts: stateFacts(t)})
	if t.Kind == graph.StateKind {
		s.add(W("Which plants show which"), Block{Facts: shownByState(k, t)})
	} else {
		s.add(W("Which plants show what"), Block{Facts: shownByPlant(k, t)})
	}
	s.cite(k)
	return s
}

func traitInShort(k *graph.Knowledge, t *graph.Trait) []Fact {
	var facts []Fact
	add := func(term string, w Words) {
		if len(w) > 0 {
			facts = append(facts, Fact{W(term), []Words{w}})
		}
	}
	kind := t.Kind.String()
	if t.Unit != "" {
		kind += " in " + t.Unit
	}
	if t.Many {
		kind += ", several can hold of one plant"
	}
	add("Kind", W(kind))
	add("Also called", joinedBy(t.Words, ", "))
	see := "at every stage"
	if t.SeeAt != 0 {
		see = list(stageWords(t.SeeAt), "and")
	}
	add("Seen at", W(see))
	add("Effort", W(t.Effort+": "+effortMeans(k.Vocabulary, t.Effort)))
	add("Counts as", W("evidence of the group "+t.EvidenceGroup()))
	if !t.Excludes {
		add("Rules out", W("nothing: "+t.Because))
	}
	add("Misread", W(fmt.Sprintf("about %s times in 100", strconv.FormatFloat(100*t.ErrorRate, 'g', 4, 64))).from(oneSource(t.ErrorFrom)))
	return facts
}

func oneSource(id string) []string {
	if id == "" {
		return nil
	}
	return []string{id}
}

func stateFacts(t *graph.Trait) []Fact {
	var out []Fact
	for _, s := range t.States {
		f := Fact{Term: W("").marked(Code, s.ID), Values: []Words{W(capital(s.Means))}}
		if len(s.Words) > 0 {
			f.Values = append(f.Values, W("also called: ").then(joinedBy(s.Words, ", ")))
		}
		if len(s.Near) > 0 {
			f.Values = append(f.Values, W("taken for: ").then(joinedBy(s.Near, ", ")))
		}
		out = append(out, f)
	}
	return out
}

// shownByState lists for each state the plants that show it, by frequency.
func shownByState(k *graph.Knowledge, t *graph.Trait) []Fact {
	all := shown(k, t)
	var out []Fact
	for _, state := range t.States {
		f := Fact{Term: W("").marked(Code, state.ID)}
		for _, name := range graph.FrequencyNames() {
			frequency, _ := graph.FrequencyNamed(name)
			var plants []Words
			for _, s := range all {
				if s.statement.State == state.ID && s.statement.Frequency == frequency {
					plants = append(plants, plantShowing(t, &s))
				}
			}
			if len(plants) > 0 {
				f.Values = append(f.Values, W("").marked(Strong, name).and(": ").then(join(plants, ", ")))
			}
		}
		if f.Values == nil {
			f.Values = []Words{W("nobody known here")}
		}
		out = append(out, f)
	}
	return out
}

// plantShowing names a plant with where and when it shows something, if not
// everywhere and always, and whether that is from memory.
func plantShowing(t *graph.Trait, s *shows) Words {
	var where []Words
	if s.statement.Position != "" {
		where = append(where, W(strings.TrimSpace(positionWords(s.statement.Position))))
	}
	if s.statement.Stages != 0 && !everyStage(t, s.statement.Stages) {
		where = append(where, W(list(stageWords(s.statement.Stages), "and")))
	}
	if fromMemory(s.statement.Sources) {
		where = append(where, W("").marked(Memory, fromMemoryWords))
	}
	w := W(s.taxon.CommonName())
	if len(where) == 0 {
		return w
	}
	return w.and(" (").then(join(where, "; ")).and(")")
}

// shownByPlant lists what is stated of each plant.
func shownByPlant(k *graph.Knowledge, t *graph.Trait) []Fact {
	var out []Fact
	for _, s := range shown(k, t) {
		name := taxonTitle(s.taxon)
		i := slices.IndexFunc(out, func(f Fact) bool { return f.Term.Plain() == name.Plain() })
		if i < 0 {
			i = len(out)
			out = append(out, Fact{Term: name})
		}
		out[i].Values = append(out[i].Values, statementWords(t, s.statement))
	}
	slices.SortStableFunc(out, func(a, b Fact) int { return cmp.Compare(a.Term.Plain(), b.Term.Plain()) })
	return out
}

// TraitRow is a trait in a list, with how many plants are scored on it.
type TraitRow struct {
	Trait  *graph.Trait
	Plants int
}

// TraitRowDoc is a trait in a list, as JSON has it.
type TraitRowDoc struct {
	Trait  string   `json:"trait"`
	Label  string   `json:"label"`
	Kind   string   `json:"kind"`
	Organ  string   `json:"organ"`
	Effort string   `json:"effort"`
	SeeAt  []string `json:"see_at"`
	States []string `json:"states"`
	Plants int      `json:"plants"`
}

// TraitsJSON lists traits.
func TraitsJSON(rows []TraitRow) []TraitRowDoc {
	out := []TraitRowDoc{}
	for _, r := range rows {
		t := r.Trait
		out = append(out, TraitRowDoc{Trait: t.ID, Label: t.Label, Kind: t.Kind.String(), Organ: t.Organ, Effort: t.Effort, SeeAt: never(t.SeeAt.Names()), States: t.StateIDs(), Plants: r.Plants})
	}
	return out
}

// TraitsSheet lists traits.
func TraitsSheet(rows []TraitRow) *Sheet {
	table := &Table{Head: []string{"Id", "What", "Kind", "Effort", "Plants"}}
	for _, r := range rows {
		kind := r.Trait.Kind.String()
		if r.Trait.Kind == graph.StateKind {
			kind = counted(len(r.Trait.States), "state", "states")
		}
		table.Rows = append(table.Rows, []Words{W("").marked(Code, r.Trait.ID), W(r.Trait.Label), W(kind), W(r.Trait.Effort), W(strconv.Itoa(r.Plants))})
	}
	s := &Sheet{Title: W(counted(len(rows), "trait", "traits")), Hints: []string{"More of one: telltale trait show TRAIT"}}
	s.add(nil, Block{Table: table})
	return s
}
