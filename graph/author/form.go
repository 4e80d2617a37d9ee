package author

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"telltale/graph"
)

// form is a file being laid out. What is to be filled in stands behind "# ", which an
// editor takes away line by line or all at once, and behind it every line is YAML;
// what only explains stands behind "##". What has to be said is left blank, so that
// reading the file asks for it.
type form struct{ b strings.Builder }

func (f *form) line(format string, args ...any) { fmt.Fprintf(&f.b, format+"\n", args...) }

// text writes lines as they are.
func (f *form) text(text string) { f.b.WriteString(text) }

func (f *form) schema(name string) {
	f.line("# yaml-language-server: $schema=../schema/%s.schema.json", name)
}

const aboutStatements = `##
## Below, every trait is a question. To answer one, take the "# " off its lines and put
## what your flora says behind usually: or behind another word. How often decides who is
## safe:
##   always     every plant shows it: only where your source does not hedge. It rules this
##              plant out wherever something quite different was read
##   usually    with sometimes or rarely lines beside it, the lines name all there is;
##              alone it rules nothing out
##   never      looked for, and it does not occur; what it is taken for may, unless you
##              say so
## A trait that varies has one line for each state. What nobody says leave out: it then
## rules nothing out. Behind the value can stand
##   at: [rosette, leafy_shoot]   the stages at which it holds (left out: all):
##                                %s
##   on: upper                    where on the plant: %s
##   note: "a few words"
## from: names the sources by their ids in sources.yaml; memory says that there is none.
## A text with a comma or a colon in it stands in quotes.
`

// TaxonForm is the file of a plant that nobody has described here yet. It asks for
// what cannot be left out: the family, and what eating it does.
func TaxonForm(v *graph.Vocabulary, t *graph.Taxon, links []Link) string {
	f := &form{}
	f.schema("taxon")
	f.line("## What is known of %s.", t.Name)
	f.text(fmt.Sprintf(aboutStatements, strings.Join(graph.StageNames(), " "), strings.Join(v.PositionNames(), " ")))
	f.line("id: %s", t.ID)
	f.line("name: %s", t.Name)
	f.line("author: %s  # who named it, as floras write it", quoted(t.Author))
	f.line("family: %s  # such as Apiaceae", t.Family)
	f.line("common: []  # the names people use, the commonest first: [one, another]")
	f.line("synonyms: []")
	f.line("range: []  # where it grows, in a few words")
	f.line("from: [memory]  # the sources of the names and the range")
	f.line("")
	f.harm()
	f.lookalikes(links)
	f.line("")
	f.line("traits:")
	for _, organ := range organs(v) {
		f.line("")
		f.line("  ## ---- %s ----", oneLine(organ))
		for _, t := range v.Traits {
			if t.Organ == organ {
				f.trait(t)
			}
		}
	}
	return f.b.String()
}

func quoted(text string) string { return fmt.Sprintf("%q", text) }

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
	f.line("  # %s:  # %s", t.ID, oneLine(t.Question))
	switch t.Kind {
	case graph.StateKind:
		f.line("  #   - {usually: , from: [memory]}")
		f.wrapped("  #     # ", t.StateIDs())
	case graph.MeasureKind:
		f.line("  #   - {always: , from: [memory]}  # such as (2-)5-15(-20) %s", t.Unit)
	case graph.CountKind:
		f.line("  #   - {always: , from: [memory]}  # such as 3-5, or (2-)3-5(-7)")
	default:
		f.line("  #   - {usually: , from: [memory]}  # such as 5-8, or 11-2 over the new year")
	}
}

// oneLine keeps a text within its comment.
func oneLine(text string) string {
	printable := func(r rune) rune {
		if unicode.IsPrint(r) {
			return r
		}
		return ' '
	}
	return strings.Join(strings.Fields(strings.Map(printable, text)), " ")
}

// wrapped writes a list of names over as many comment lines as it takes.
func (f *form) wrapped(lead string, names []string) {
	const width = 96 // of a comment line in an editor (common practice, no source)
	line := lead
	for _, n := range names {
		if len(line)+len(n) > width {
			f.line("%s", strings.TrimRight(line, " "))
			line = lead
		}
		line += n + " "
	}
	f.line("%s", strings.TrimRight(line, " "))
}

// harm writes the forms of toxicity and uses.
func (f *form) harm() {
	f.line("## What eating it does has to be said, of every part that harms; of a plant that nobody")
	f.line("## knows to harm, severity: none_known.")
	f.line("toxicity:")
	f.line("  - parts: [whole_plant]")
	f.wrapped("    ## ", graph.Parts())
	f.line("    severity:   # %s", strings.Join(graph.SeverityNames(), " "))
	f.line("    route: ingestion  # %s", strings.Join(graph.Routes(), " "))
	f.line("    from: [memory]")
	f.line("# uses:")
	f.line("#   - {parts: [leaf], category: food, use: , from: [memory]}")
	f.wrapped("#     # category: ", graph.UseCategories())
}

// Link is a plant that the herb is confused with.
type Link struct{ Taxon string }

// lookalikes writes the links that were named, or how to state one.
func (f *form) lookalikes(links []Link) {
	f.line("## A link to a lookalike holds both ways: it stands in one of the two files. A poisonous")
	f.line("## one has to be ruled out twice. Stages, if it is only confused at some: at: [rosette]")
	if len(links) == 0 {
		f.line("# lookalikes:")
		f.link("#   ", "")
		return
	}
	f.line("lookalikes:")
	for _, l := range links {
		f.link("  ", l.Taxon)
	}
}

func (f *form) link(lead, taxon string) {
	f.line("%s- taxon: %s", lead, taxon)
	f.line("%s  evidence: memory  # %s", lead, strings.Join(graph.Evidences(), " "))
	f.line("%s  difference: \"\"  # what parts the two, in your own words", lead)
	f.line("%s  from: [memory]", lead)
}

// CorrectionForm is the file of a plant that is known, for what you have to add to
// it or to put right.
func CorrectionForm(t *graph.Taxon, links []Link) string {
	f := &form{}
	f.schema("taxon")
	f.line("## %s is known: what stands here is added to it or takes the place of what is known.", t.Name)
	f.line("## A trait that is scored here replaces all that was stated of that trait; toxicity, uses")
	f.line("## and lookalikes are added. telltale taxon show %s tells what is known.", t.ID)
	f.line("id: %s", t.ID)
	f.lookalikes(links)
	f.line("# traits:")
	f.line("#   leaf.margin:")
	f.line("#     - {usually: , from: [memory]}")
	return f.b.String()
}
