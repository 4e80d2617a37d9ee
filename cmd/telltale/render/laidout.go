package render

import (
	"fmt"
	"strings"

	"telltale/graph"
	"telltale/graph/author"
)

// LaidOut writes what was laid out for a herb, and what to do next. Near gives for a
// new plant a known one of nearly the same name.
func LaidOut(p *Page, l *author.Layout, done *author.LaidOut, near map[*graph.Taxon]*graph.Taxon) error {
	p.say(fmt.Sprintf("Laid out in %s for %s:", l.Dir, fullName(l.Herb)))
	schemas := 0
	for _, f := range done.Written {
		if strings.HasPrefix(f, "schema/") {
			schemas++
			continue
		}
		p.item("+ ", 2, f)
	}
	if schemas > 0 {
		p.item("+ ", 2, "schema (with which an editor completes and checks while you type)")
	}
	for _, f := range done.Left {
		if !strings.HasPrefix(f, "schema/") {
			p.item("= ", 2, f+" (was there, left as it is)")
		}
	}
	p.mind(l, done, near)
	p.blank()
	p.say("Fill them in in this order:")
	p.item("1 ", 2, "sources.yaml: the floras and papers you take facts from")
	p.item("2 ", 2, "taxa: of each new plant its family and what eating it does, without which nothing is read; then the traits, the herb first")
	p.item("3 ", 2, "studies/"+l.Herb.ID+".yaml: what is gathered when, and what has to be seen for sure")
	p.item("4 ", 2, "rules/"+l.Herb.ID+".yaml: your rules of thumb, each with tests")
	p.say("This says what is wrong, or still missing, at any time:")
	p.item("", 2, fmt.Sprintf("telltale study check %s --data %s", l.Herb.ID, shellWord(l.Dir)))
	return p.err
}

// mind writes what could go wrong with a layout.
func (p *Page) mind(l *author.Layout, done *author.LaidOut, near map[*graph.Taxon]*graph.Taxon) {
	for _, t := range l.New {
		if known, ok := near[t]; ok {
			p.blank()
			p.say(fmt.Sprintf("%s is new here, and %s is known. If you meant that one, take taxa/%s.yaml away again.", t.Name, fullName(known), t.ID))
		}
	}
	for _, t := range done.Unlinked {
		p.blank()
		p.say(fmt.Sprintf("taxa/%s.yaml was there, so %s is not linked yet. Under lookalikes: in that file put", l.Herb.ID, fullName(t)))
		p.item("", 2, fmt.Sprintf("- {taxon: %s, evidence: memory, from: [memory]}", t.ID))
	}
}

// shellWord quotes a word that a shell would take apart.
func shellWord(word string) string {
	if strings.ContainsAny(word, " '\"$&;|<>()*?!\\`") {
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	return word
}
