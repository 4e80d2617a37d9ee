package author

import (
	"fmt"
	"slices"
	"strings"

	"telltale/graph"
)

// form is a file being laid out.
type form struct{ b strings.Builder }

func (f *form) line(format string, args ...any) { fmt.Fprintf(&f.b, format+"\n", args...) }

func (f *form) schema(name string) {
	f.line("# yaml-language-server: $schema=../schema/%s.schema.json", name)
}

// TaxonForm is the file of a plant that nobody has described here yet.
func TaxonForm(v *graph.Vocabulary, id, name string) string {
	f := &form{}
	f.schema("taxon")
	f.line("# What is known of %s.", name)
	f.line("#")
	f.line("# Below, every trait is a question. To answer one, take the '# ' off its lines and")
	f.line("# put what your flora says. How often decides who is safe:")
	f.line("#   always     every plant shows it: only say so when your source does not hedge")
	f.line("#   usually    with sometimes/rarely lines beside it, the lines name all there is;")
	f.line("#              alone it excludes nothing")
	f.line("#   never      looked for, and it does not occur")
	f.line("# A trait that varies has one line for each state. at: says at which stages it holds")
	f.line("# (left out: at all), on: where on the plant (upper, lower, basal, young).")
	f.line("# from: names the sources, by their ids in sources.yaml; memory is honest.")
	f.line("id: %s", id)
	f.line("name: %s", name)
	f.line("author: \"\"          # who named it, as floras write it")
	f.line("family: \"\"          # such as Apiaceae")
	f.line("common: []          # the names people use, the commonest first")
	f.line("synonyms: []")
	f.line("range: []           # where it grows, in a few words")
	f.line("from: [memory]      # the sources of the names and the range")
	f.line("")
	f.line("traits:")
	for _, organ := range organs(v) {
		f.line("  # ---- %s ----", organ)
		for _, t := range v.Traits {
			if t.Organ == organ {
				f.trait(t)
			}
		}
	}
	f.harm()
	return f.b.String()
}

func organs(v *graph.Vocabulary) []string {
	var out []string
	for _, t := range v.Traits {
		if !slices.Contains(out, t.Organ) {
			out = append(out, t.Organ)
		}
	}
	return out
}

// trait writes one trait as a question to fill in.
func (f *form) trait(t *graph.Trait) {
	f.line("  # %s", t.Question)
	f.line("  # %s:", t.ID)
	switch t.Kind {
	case graph.StateKind:
		f.line("  #   - {usually: %s, from: [memory]}", t.States[0].ID)
		f.wrapped("  #     one of: ", t.StateIDs())
	case graph.MeasureKind:
		f.line("  #   - {always: (2-)5-15(-20) %s, from: [memory]}", t.Unit)
	case graph.CountKind:
		f.line("  #   - {always: 3-5, from: [memory]}")
	default:
		f.line("  #   - {usually: 5-8, from: [memory]}")
	}
}

// wrapped writes a list of names over as many comment lines as it takes.
func (f *form) wrapped(lead string, names []string) {
	const width = 96 // of a comment line in an editor (common practice, no source)
	line := lead
	for i, n := range names {
		if i < len(names)-1 {
			n += ","
		}
		if len(line)+len(n) > width {
			f.line("%s", strings.TrimRight(line, " "))
			line = "  #     "
		}
		line += n + " "
	}
	f.line("%s", strings.TrimRight(line, " "))
}

// harm writes the forms of toxicity, uses and lookalikes.
func (f *form) harm() {
	f.line("")
	f.line("# What eating or touching it does. A plant nobody has described here counts as")
	f.line("# harmless only if you say none_known.")
	f.line("# toxicity:")
	f.line("#   - parts: [leaf]       # %s", strings.Join(graph.Parts(), " "))
	f.line("#     severity: none_known  # %s", strings.Join(graph.SeverityNames(), " "))
	f.line("#     route: ingestion      # %s", strings.Join(graph.Routes(), " "))
	f.line("#     from: [memory]")
	f.line("# uses:")
	f.line("#   - {parts: [leaf], category: food, use: eaten cooked, from: [memory]}")
	f.line("#     # category: %s", strings.Join(graph.UseCategories(), " "))
	f.line("# lookalikes:               # a link holds both ways: state it in one of the two files")
	f.line("#   - taxon: conium-maculatum")
	f.line("#     at: rosette")
	f.line("#     evidence: memory      # %s", strings.Join(graph.Evidences(), " "))
	f.line("#     difference: what parts the two, in your own words")
	f.line("#     from: [memory]")
}

// Mark is a trait that parts a herb from a lookalike, offered as a check.
type Mark struct {
	Trait  string
	States []string
	Parts  []string // the plants it rules out
}

// StudyForm is the file in which a herb is worked up. Marks are the traits that
// part it from its lookalikes, as far as they are known.
func StudyForm(taxon *graph.Taxon, marks []Mark) string {
	f := &form{}
	f.schema("study")
	f.line("# %s worked up for gathering. It is never cleared before this file says what is", taxon.CommonName())
	f.line("# gathered when, and what has to be seen for sure on each plant.")
	f.line("taxon: %s", taxon.ID)
	f.line("about: \"\"             # why this herb, and what goes wrong")
	f.line("from: [memory]")
	f.line("gather:")
	f.line("  # - parts: [leaf]     # %s", strings.Join(graph.Parts(), " "))
	f.line("  #   stages: [leafy_shoot]   # %s", strings.Join(graph.StageNames(), " "))
	f.line("  #   checks:           # three to six, the surest first; all of them for all these stages")
	if len(marks) == 0 {
		f.line("  #     - {trait: leaf.arrangement, is: [opposite], because: \"its lookalikes are alternate\", from: [memory]}")
	}
	for _, m := range marks {
		f.line("  #     - {trait: %s, is: [%s], because: \"\", from: [memory]}   # parts it from %s", m.Trait, strings.Join(m.States, ", "), strings.Join(m.Parts, ", "))
	}
	f.line("  #   say: [\"what to say when it may be gathered\"]")
	f.line("  #   from: [memory]")
	f.line("# When to leave it anyway. An expression compares traits with values; what nobody")
	f.line("# has looked at makes it wait, and a rule that waits means: not yet.")
	f.line("leave:")
	f.line("  # - id: %s-by-the-road", taxon.ID)
	f.line("  #   when: plant.habitat == \"roadside\"")
	f.line("  #   because: dust and salt are no food")
	f.line("  #   from: [memory]")
	f.line("  #   tests:")
	f.line("  #     - {given: {plant.habitat: roadside}, expect: fires}")
	f.line("  #     - {given: {plant.habitat: meadow}, expect: quiet}")
	f.line("  #     - {given: {}, expect: waits, for: [plant.habitat]}")
	return f.b.String()
}

// RulesForm is the file for rules of thumb about a herb.
func RulesForm(taxon *graph.Taxon) string {
	f := &form{}
	f.schema("rules")
	f.line("# Rules of thumb about %s. then: leave (if it fires do not gather), must (gather", taxon.CommonName())
	f.line("# only if it holds), it-is (what satisfies it is the plant), note (say this).")
	f.line("rules:")
	f.line("  # - id: %s-first-rule", taxon.ID)
	f.line("  #   for: %s", taxon.ID)
	f.line("  #   then: it-is")
	f.line("  #   when: leaf.arrangement == \"opposite\" && stem.cross_section in [\"square\", \"angled\"]")
	f.line("  #   because: one sentence")
	f.line("  #   from: [memory]")
	f.line("  #   tests:")
	f.line("  #     - {given: {leaf.arrangement: opposite, stem.cross_section: square}, expect: fires}")
	f.line("  #     - {given: {leaf.arrangement: alternate}, expect: quiet}")
	f.line("  #     - {given: {leaf.arrangement: opposite}, expect: waits, for: [stem.cross_section]}")
	return f.b.String()
}

// SourcesForm is the file for the publications that facts are taken from.
func SourcesForm() string {
	return `# The publications your facts are taken from. Each has an id of your own choosing,
# which the other files name under from:.
#
# my-flora:
#   title: Flora of my county
#   publisher: County Naturalists
#   year: 2019
#   url: https://example.org/flora
#   kind: flora
`
}
