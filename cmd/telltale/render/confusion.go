package render

import (
	"fmt"

	"telltale/graph"
	"telltale/rules/reason"
)

// ConfusionsDoc is what `graph check --format json` writes.
type ConfusionsDoc struct {
	Confusions []ConfusionDoc `json:"confusions"`
	Failed     []string       `json:"failed_rule_tests"`
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
func ConfusionsJSON(all []reason.Confusion, failed []string) ConfusionsDoc {
	doc := ConfusionsDoc{Confusions: []ConfusionDoc{}, Failed: never(failed)}
	for i := range all {
		c := &all[i]
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
func Confusions(p *Page, k *graph.Knowledge, all []reason.Confusion, failed []string) error {
	bad := 0
	for i := range all {
		if all[i].Bad() {
			bad++
		}
	}
	p.say(fmt.Sprintf("%d %s, %d of them not parted.", len(all), plural(len(all), "documented confusion", "documented confusions"), bad))
	for _, wrong := range []bool{true, false} {
		p.blank()
		for i := range all {
			if all[i].Bad() == wrong {
				confusion(p, k, &all[i])
			}
		}
	}
	for _, f := range failed {
		p.item("x ", 2, f)
	}
	return p.err
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
