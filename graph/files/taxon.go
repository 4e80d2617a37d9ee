package files

import (
	"cmp"
	"errors"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/token"

	"telltale/graph"
)

// TaxonFile is data/taxa/<id>.yaml: what is known of one plant.
type TaxonFile struct {
	ID         Word                  `yaml:"id"`
	Name       Word                  `yaml:"name"`
	Author     Word                  `yaml:"author"`
	Family     Word                  `yaml:"family"`
	Common     Words                 `yaml:"common"`
	Synonyms   Words                 `yaml:"synonyms"`
	Range      Words                 `yaml:"range"`
	From       Words                 `yaml:"from"`
	Traits     Map[[]StatementEntry] `yaml:"traits"`
	Exhaustive Map[ExhaustiveEntry]  `yaml:"exhaustive"`
	Toxicity   []ToxicityEntry       `yaml:"toxicity"`
	Uses       []UseEntry            `yaml:"uses"`
	Lookalikes []LookalikeEntry      `yaml:"lookalikes"`
}

// StatementEntry says that the plant shows a value this often: the value stands
// behind the frequency.
type StatementEntry struct {
	begun
	Always    Word  `yaml:"always"`
	Usually   Word  `yaml:"usually"`
	Sometimes Word  `yaml:"sometimes"`
	Rarely    Word  `yaml:"rarely"`
	Never     Word  `yaml:"never"`
	At        Words `yaml:"at"`
	On        Word  `yaml:"on"`
	From      Words `yaml:"from"`
	Note      Word  `yaml:"note"`
}

// ExhaustiveEntry overrules whether the stated values of a trait are all there
// are, with the reason.
type ExhaustiveEntry struct {
	Holds   Word  `yaml:"holds"`
	Because Word  `yaml:"because"`
	From    Words `yaml:"from"`
}

// ToxicityEntry is one way in which parts of the plant harm.
type ToxicityEntry struct {
	begun
	Parts    Words `yaml:"parts"`
	Told     Word  `yaml:"told"`
	Severity Word  `yaml:"severity"`
	Irritant Word  `yaml:"irritant"`
	Route    Word  `yaml:"route"`
	Agent    Word  `yaml:"agent"`
	Effect   Word  `yaml:"effect"`
	From     Words `yaml:"from"`
}

// UseEntry is what people do with parts of the plant.
type UseEntry struct {
	begun
	Parts    Words `yaml:"parts"`
	Told     Word  `yaml:"told"`
	Category Word  `yaml:"category"`
	Use      Word  `yaml:"use"`
	At       Words `yaml:"at"`
	Caution  Word  `yaml:"caution"`
	From     Words `yaml:"from"`
}

// LookalikeEntry links the plant to one that it is confused with.
type LookalikeEntry struct {
	begun
	Taxon      Word  `yaml:"taxon"`
	At         Words `yaml:"at"`
	Evidence   Word  `yaml:"evidence"`
	Difference Word  `yaml:"difference"`
	From       Words `yaml:"from"`
}

// known is what names in a file are looked up in.
type known struct {
	vocabulary *graph.Vocabulary
	sources    map[string]bool
	sourceIDs  []string
	taxa       map[string]bool
	taxonIDs   []string
	corrected  map[string]bool // taxa of which only what is corrected need be told
}

func (p *page) taxon(f *TaxonFile, k *known) *graph.Taxon {
	t := &graph.Taxon{
		ID: f.ID.Text, Name: f.Name.Text, Author: f.Author.Text, Family: f.Family.Text, Common: f.Common.texts(),
		Synonyms: f.Synonyms.texts(), Range: f.Range.texts(), File: p.name,
	}
	correction := k.corrected[t.ID]
	if !correction || len(f.From) > 0 {
		t.Sources = p.cited(f.From, f.ID, k)
	}
	if !p.named(f.ID, taxonID, "plant", "genus-species in small letters") {
		p.add(f.ID, "this plant has no id")
	}
	if t.Name == "" && !correction {
		p.add(f.ID, "%s has no name", t.ID)
	}
	if t.Family == "" && !correction {
		p.add(cmp.Or(f.Family, f.ID), "%s has no family", t.ID)
	}
	for i := range f.Traits {
		p.statements(&f.Traits[i], t, k)
	}
	for i := range f.Exhaustive {
		if o, ok := p.overrule(&f.Exhaustive[i], k); ok {
			t.Overrules = append(t.Overrules, o)
		}
	}
	for i := range f.Toxicity {
		t.Toxicity = append(t.Toxicity, p.toxicity(&f.Toxicity[i], k))
	}
	for i := range f.Uses {
		t.Uses = append(t.Uses, p.use(&f.Uses[i], k))
	}
	for i := range f.Lookalikes {
		t.Lookalikes = append(t.Lookalikes, p.lookalike(&f.Lookalikes[i], f.ID, k))
	}
	return t
}

func (p *page) overrule(e *Entry[ExhaustiveEntry], k *known) (graph.Overrule, bool) {
	t, ok := p.traitNamed(e.Key, e.Key, k)
	if !ok {
		return graph.Overrule{}, false
	}
	if e.Value.Holds.Text == "" {
		p.add(e.Key, "it is not said whether the values stated of %s are all there are (holds: true or false)", t.ID)
	}
	if e.Value.Because.Text == "" {
		p.add(e.Key, "the exhaustiveness of %s is overruled without a reason (because)", t.ID)
	}
	return graph.Overrule{
		Trait: t.ID, Exhaustive: p.truth(e.Value.Holds, false), Because: e.Value.Because.Text, Sources: p.cited(e.Value.From, e.Key, k),
	}, true
}

// traitNamed finds the trait; where none is named, what owns it gives the place.
func (p *page) traitNamed(w, owner Word, k *known) (*graph.Trait, bool) {
	t, ok := k.vocabulary.Trait(w.Text)
	if !ok {
		p.unknownOr(w, owner, "trait", k.vocabulary.TraitIDs())
	}
	return t, ok
}

// cited checks the sources of a fact: a fact has at least one. Where the list of
// sources could not be read there is nothing to check them against.
func (p *page) cited(from Words, owner Word, k *known) []string {
	if len(from.texts()) == 0 {
		p.add(owner, "a fact has no source: give from: with the ids of its sources, or memory")
	}
	for _, w := range from {
		if w.Text != graph.Memory && !k.sources[w.Text] && k.sources != nil {
			p.unknown(w, "source", k.sourceIDs)
		}
	}
	return from.texts()
}

func (p *page) statements(e *Entry[[]StatementEntry], t *graph.Taxon, k *known) {
	tr, ok := p.traitNamed(e.Key, e.Key, k)
	if !ok {
		return
	}
	for i := range e.Value {
		if s, ok := p.statement(&e.Value[i], tr, k); ok {
			t.Statements = append(t.Statements, s)
		}
	}
}

func (p *page) statement(e *StatementEntry, tr *graph.Trait, k *known) (graph.Statement, bool) {
	s := graph.Statement{Trait: tr.ID, Note: e.Note.Text}
	var value Word
	count := 0
	for i, w := range []Word{e.Always, e.Usually, e.Sometimes, e.Rarely, e.Never} {
		if w.tok != nil {
			value, s.Frequency = w, graph.Frequency(i+1)
			count++
		}
	}
	switch {
	case count != 1:
		p.add(e.called("statement"), "a statement of %s names %d frequencies, expected one of %s", tr.ID, count, strings.Join(graph.FrequencyNames(), ", "))
		return s, false
	case value.Text == "":
		p.add(value, "nothing stands behind %s", s.Frequency)
		return s, false
	}
	s.Sources = p.cited(e.From, value, k)
	s.Stages = p.stages(e.At)
	s.Position = p.position(e.On, k)
	return s, p.value(&s, value, tr)
}

// position checks where on the plant something is said of.
func (p *page) position(w Word, k *known) string {
	if w.Text != "" && !k.vocabulary.HasPosition(w.Text) {
		p.unknown(w, "position", k.vocabulary.PositionNames())
	}
	return w.Text
}

func (p *page) value(s *graph.Statement, w Word, tr *graph.Trait) bool {
	if tr.Kind == graph.StateKind {
		s.State = w.Text
		if tr.StateIndex(w.Text) < 0 {
			p.note(graph.UnknownState(tr, w.Text, p.place(w.tok)))
			return false
		}
		return true
	}
	r, err := graph.ParseRange(w.Text, tr.Unit)
	if err == nil {
		err = r.Check(tr.Kind)
	}
	if err != nil {
		p.note(p.placed(err, w, tr.ID))
		return false
	}
	s.Range = r
	return true
}

// placed gives an error about a word the place of the word, or of the part of it
// that the error is about.
func (p *page) placed(err error, w Word, what string) error {
	var found *graph.Problem
	if !errors.As(err, &found) {
		found = &graph.Problem{Message: err.Error()}
	}
	out := &graph.Problem{Place: p.place(w.tok), Message: found.Message, Nearest: found.Nearest}
	if what != "" {
		out.Message = what + ": " + out.Message
	}
	if found.Place.Column > 1 && w.tok != nil && w.tok.Position != nil {
		out.Place.Column += found.Place.Column - 1
		if w.tok.Type == token.DoubleQuoteType || w.tok.Type == token.SingleQuoteType {
			out.Place.Column++
		}
	}
	return out
}

// oneOf checks a word against a closed list.
func (p *page) oneOf(w, owner Word, what string, list []string) string {
	if !slices.Contains(list, w.Text) {
		p.unknownOr(w, owner, what, list)
	}
	return w.Text
}

func (p *page) parts(ws Words, owner Word) []string {
	if len(ws) == 0 {
		p.add(owner, "no parts are named")
	}
	for _, w := range ws {
		p.oneOf(w, owner, "part of a plant", graph.Parts())
	}
	return ws.texts()
}

func (p *page) toxicity(e *ToxicityEntry, k *known) graph.Toxicity {
	owner := e.called("toxicity")
	t := graph.Toxicity{
		Parts: p.parts(e.Parts, owner), Told: e.Told.Text, Irritant: p.truth(e.Irritant, false),
		Route: p.oneOf(e.Route, owner, "route", graph.Routes()), Agent: e.Agent.Text, Effect: e.Effect.Text,
	}
	t.Sources = p.cited(e.From, owner, k)
	var ok bool
	switch t.Severity, ok = graph.SeverityNamed(e.Severity.Text); {
	case ok:
	case e.Severity.Text != "":
		p.unknown(e.Severity, "severity", graph.SeverityNames())
	case !t.Irritant:
		p.add(owner, "this toxicity has no severity: expected one of %s, or irritant: true", strings.Join(graph.SeverityNames(), ", "))
	}
	return t
}

func (p *page) use(e *UseEntry, k *known) graph.Use {
	owner := e.called("use")
	return graph.Use{
		Parts: p.parts(e.Parts, owner), Told: e.Told.Text, Category: p.category(e.Category, owner),
		Use: e.Use.Text, Stages: p.stages(e.At), Caution: e.Caution.Text, Sources: p.cited(e.From, owner, k),
	}
}

func (p *page) lookalike(e *LookalikeEntry, of Word, k *known) graph.Lookalike {
	owner := e.called("lookalike")
	l := graph.Lookalike{
		Taxon: e.Taxon.Text, Stages: p.stages(e.At), Evidence: p.oneOf(e.Evidence, owner, "evidence", graph.Evidences()),
		Difference: e.Difference.Text, Sources: p.cited(e.From, owner, k),
	}
	switch {
	case !k.taxa[l.Taxon]:
		p.unknownOr(e.Taxon, owner, "plant", k.taxonIDs)
	case l.Taxon == of.Text:
		p.add(e.Taxon, "%s is named as a lookalike of itself", l.Taxon)
	}
	return l
}

// category checks the category of a use; a shorter word is put as the standard
// has it.
func (p *page) category(w, owner Word) string {
	w.Text = graph.UseCategory(w.Text)
	return p.oneOf(w, owner, "category", graph.UseCategories())
}
