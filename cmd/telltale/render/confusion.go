package render

import (
	"fmt"

	"telltale/graph"
	"telltale/rules/reason"
)

// ConfusionsDoc is what `graph check --format json` writes.
type ConfusionsDoc struct {
	Confusions []ConfusionDoc `json:"confusions"`
	LeftOut    int            `json:"left_out"` // confusions that own data do not touch
	Tests      int            `json:"rule_tests"`
	Failed     []string       `json:"failed_rule_tests"`
}

// Confused is what a check of the knowledge found.
type Confused struct {
	Confusions []reason.Confusion
	LeftOut    int      // how many are not among them, since own data do not touch them
	Tests      int      // how many tests of rules were run,
	Failed     []string // and those that failed
}

// Bad counts the confusions that are errors.
func (c *Confused) Bad() int {
	n := 0
	for i := range c.Confusions {
		if c.Confusions[i].Bad() {
			n++
		}
	}
	return n
}

// ConfusionDoc is one documented confusion and what parts the two plants.
type ConfusionDoc struct {
	Plants   [2]string `json:"plants"`
	Stage    string    `json:"stage"`
	Evidence string    `json:"evidence"`
	Sources  []string  `json:"sources"`
	Constant []string  `json:"constant"` // evidence groups of constant differences
	Poison   bool      `json:"poison"`
	Study    string    `json:"study"`
	Because  string    `json:"because,omitempty"` // why they cannot be parted, and
	Parted   string    `json:"parted,omitempty"`  // when they can, from the study
	Bad      bool      `json:"bad"`
}

// ConfusionsJSON puts documented confusions into their document.
func ConfusionsJSON(found *Confused) ConfusionsDoc {
	doc := ConfusionsDoc{Confusions: []ConfusionDoc{}, LeftOut: found.LeftOut, Tests: found.Tests, Failed: never(found.Failed)}
	for i := range found.Confusions {
		c := &found.Confusions[i]
		d := ConfusionDoc{Plants: [2]string{c.One, c.Other}, Stage: stageName(c.Stage), Evidence: c.Evidence, Sources: never(c.Sources),
			Constant: never(c.Groups), Poison: c.Poison, Study: c.Study, Bad: c.Bad()}
		if c.Excused != nil {
			d.Because, d.Parted = c.Excused.Because, c.Excused.Parted
		}
		doc.Confusions = append(doc.Confusions, d)
	}
	return doc
}

// Confusions writes documented confusions for people, what is wrong first.
func Confusions(p *Page, k *graph.Knowledge, found *Confused) error {
	all := found.Confusions
	p.say(fmt.Sprintf("%d documented %s, %d of them not parted.", len(all), plural(len(all), "confusion", "confusions"), found.Bad()))
	if found.LeftOut > 0 {
		p.say(fmt.Sprintf("%d more, of plants that your own data do not touch, are left out; --all has them.", found.LeftOut))
	}
	p.say(fmt.Sprintf("%d %s of rules, %s.", found.Tests, plural(found.Tests, "test", "tests"), failedWords(found)))
	p.listed(len(found.Failed), func(i int) { p.item("x ", 2, found.Failed[i]) })
	for _, wrong := range []bool{true, false} {
		var these []*reason.Confusion
		for i := range all {
			if all[i].Bad() == wrong {
				these = append(these, &all[i])
			}
		}
		p.listed(len(these), func(i int) { confusion(p, k, these[i]) })
	}
	return p.err
}

func failedWords(found *Confused) string {
	switch n := len(found.Failed); {
	case n == 0 && found.Tests > 0:
		return "all pass"
	case n == 0:
		return "none to run"
	default:
		return fmt.Sprintf("%d of them failed", n)
	}
}

// listed leaves a line free and writes so many entries; nothing where there are
// none.
func (p *Page) listed(n int, entry func(i int)) {
	if n > 0 {
		p.blank()
	}
	for i := range n {
		entry(i)
	}
}

func confusion(p *Page, k *graph.Knowledge, c *reason.Confusion) {
	mark := "- "
	if c.Bad() {
		mark = "x "
	}
	text := fmt.Sprintf("%s and %s, %s: %d %s", nameOf(k, c.One), nameOf(k, c.Other), c.Stage.Words(), len(c.Groups), plural(len(c.Groups), "constant difference", "constant differences"))
	if len(c.Groups) > 0 {
		text += " (" + someOf(c.Groups) + ")"
	}
	if c.Excused != nil {
		text += ". Too close: " + sentence(c.Excused.Because) + " Told apart: " + sentence(c.Excused.Parted)
	}
	p.item(mark, 2, text)
}

func nameOf(k *graph.Knowledge, id string) string {
	if t, ok := k.Taxon(id); ok {
		return t.CommonName()
	}
	return id
}
