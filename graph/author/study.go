package author

import (
	"strings"

	"telltale/graph"
)

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
	f.line("## %s worked up for gathering. It is never cleared before this file says what is", taxon.CommonName())
	f.line("## gathered when, and what has to be seen for sure on each plant. A text")
	f.line("## with a comma or a colon in it stands in quotes.")
	f.line("taxon: %s", taxon.ID)
	f.line("about: \"\"  # why this herb, and what goes wrong")
	f.line("from: [memory]")
	f.line("gather:")
	f.line("  # - parts: [leaf]")
	f.wrapped("  #   # ", graph.Parts())
	f.line("  #   stages: [leafy_shoot]")
	f.line("  #   # %s", strings.Join(graph.StageNames(), " "))
	f.line("  #   checks:  # three to six, the surest first; all of them for all these stages")
	if len(marks) == 0 {
		f.line("  #     - {trait: , is: [], because: , from: [memory]}")
		f.line("  #     # once the traits are filled in, telltale study check %s offers some", taxon.ID)
	}
	for _, m := range marks {
		f.line("  #     %s", m.Check())
	}
	f.line("  #   say: [\"what to say when it may be gathered\"]")
	f.line("  #   from: [memory]")
	f.line("## When to leave it anyway. An expression compares traits with values; what nobody")
	f.line("## has looked at makes it wait, and a rule that waits means: not yet. So ask only for")
	f.line("## what can be seen then: stage == \"flowering\" && flower.petals != 4")
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

// Check is the mark as a check of a study, for somebody to give the reason.
func (m *Mark) Check() string {
	return "- {trait: " + m.Trait + ", is: [" + strings.Join(m.States, ", ") + "], because: , from: [memory]}  # parts it from " + strings.Join(m.Parts, ", ")
}

// RulesForm is the file for rules of thumb about a herb.
func RulesForm(taxon *graph.Taxon) string {
	f := &form{}
	f.schema("rules")
	f.line("## Rules of thumb about %s. then: leave (if it fires do not gather), must (gather", taxon.CommonName())
	f.line("## only if it holds), it-is (what satisfies it is the plant), note (say this). Traits are")
	f.line("## compared by == != < > and in, joined by && and ||; besides traits there are stage, part")
	f.line("## and month. A text with a comma or a colon in it stands in quotes.")
	f.line("rules:")
	f.line("  # - id: %s-first-rule", taxon.ID)
	f.line("  #   for: %s", taxon.ID)
	f.line("  #   then: it-is")
	f.line("  #   when: leaf.arrangement == \"opposite\" && stem.cross_section in [\"square\", \"angled\"]")
	f.line("  #   because: one sentence")
	f.line("  #   from: [memory]")
	f.line("  #   tests:  # telltale study check runs them")
	f.line("  #     - {given: {leaf.arrangement: opposite, stem.cross_section: square}, expect: fires}")
	f.line("  #     - {given: {leaf.arrangement: alternate}, expect: quiet}")
	f.line("  #     - {given: {leaf.arrangement: opposite}, expect: waits, for: [stem.cross_section]}")
	return f.b.String()
}

// SourcesForm is the file for the publications that facts are taken from.
func SourcesForm() string {
	return `## The publications your facts are taken from. Each has an id of your own choosing,
## which the other files name under from:. Cite only what you have read and what says so.

# my-flora:
#   title: Flora of my county
#   publisher: County Naturalists
#   year: 2019
#   url: https://example.org/flora
#   kind: flora  # flora journal agency extension poison_centre botanic_garden book
`
}
