package render

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"telltale/graph"
)

// plain turns a name of the files into words: "purple_blotched", "leaf-margin".
func plain(name string) string { return strings.NewReplacer("_", " ", "-", " ").Replace(name) }

// capital makes a text begin like a sentence.
func capital(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}

// sentence makes a text begin and end like one.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") || strings.HasSuffix(text, "!") {
		return capital(text)
	}
	return capital(text) + "."
}

// list joins with commas and a last word: "a, b and c".
func list(items []string, last string) string {
	if len(items) < 2 {
		return strings.Join(items, "")
	}
	return strings.Join(items[:len(items)-1], ", ") + " " + last + " " + items[len(items)-1]
}

// some joins the first few with commas, and counts the rest.
func some(items []string, most int) string {
	if rest := len(items) - most; rest > 1 { // for a single one more the words are as long as its name
		return strings.Join(items[:most], ", ") + fmt.Sprintf(" and %d more", rest)
	}
	return list(items, "and")
}

// plural gives one or the other by number.
func plural(n int, one, more string) string {
	if n == 1 {
		return one
	}
	return more
}

// percent writes a share of 1 in at most five characters.
func percent(x float64) string {
	switch {
	case x < 0.005:
		return "<1 %"
	case x >= 0.995:
		return ">99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*x)
}

// fullName gives a plant's common name with its scientific one.
func fullName(t *graph.Taxon) string {
	if len(t.Common) == 0 {
		return t.Name
	}
	return t.Common[0] + " (" + t.Name + ")"
}

// commonNames gives the common names of plants by their ids.
func commonNames(k *graph.Knowledge, ids []string) []string {
	var out []string
	for _, id := range ids {
		if t, ok := k.Taxon(id); ok {
			out = append(out, t.CommonName())
		}
	}
	return out
}

// danger says in a few words what eating a plant does; "" where nothing is known.
func danger(t *graph.Taxon) string {
	switch t.Severity() {
	case graph.Deadly:
		return "DEADLY to eat"
	case graph.Serious:
		return "POISONOUS to eat"
	case graph.Mild:
		return "mildly harmful to eat"
	}
	return ""
}

// dangerMark is the colour of a plant's danger.
func dangerMark(t *graph.Taxon) string {
	if t.Poisonous() {
		return red
	}
	return yellow
}

// harms says in a sentence what eating a plant, or touching it, does; "" where
// nothing is known.
func (p *Page) harms(t *graph.Taxon) string {
	eaten := danger(t)
	if eaten != "" {
		eaten = "is " + p.coloured(dangerMark(t), eaten)
	}
	touched := ""
	if t.ContactHarm() != nil {
		touched = "can harm the skin"
	}
	switch {
	case eaten == "" && touched == "":
		return ""
	case eaten == "":
		return "It " + touched + "."
	case touched == "":
		return "It " + eaten + "."
	}
	return "It " + eaten + " and " + touched + "."
}
