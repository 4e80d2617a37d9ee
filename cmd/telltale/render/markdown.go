package render

import (
	"io"
	"regexp"
	"strings"

	"telltale/graph"
)

// Markdown sets the sheet as Markdown with the tables of GitHub's kind.
func (s *Sheet) Markdown(w io.Writer) error {
	m := &markdown{}
	m.line("# " + m.words(s.Title))
	for _, l := range s.Lead {
		m.paragraph(m.words(l))
	}
	for _, section := range s.Sections {
		if len(section.Title) > 0 {
			m.paragraph("## " + m.words(section.Title))
		}
		for _, b := range section.Blocks {
			m.block(&b)
		}
	}
	if len(s.Cautions) > 0 {
		m.paragraph("## Mind")
		m.line("")
		for _, c := range s.Cautions {
			m.line("- " + escaped(c))
		}
	}
	m.sources(s.Sources)
	_, err := io.WriteString(w, m.String())
	return err
}

type markdown struct {
	strings.Builder
	inTable bool
}

func (m *markdown) line(text string) { m.WriteString(text + "\n") }

func (m *markdown) paragraph(text string) {
	if listStart.MatchString(text) {
		text = `\` + text
	}
	m.WriteString("\n" + text + "\n")
}

// listStart is how a paragraph would begin a list.
var listStart = regexp.MustCompile(`^([-+]|\d+[.)]) `)

func (m *markdown) block(b *Block) {
	if len(b.Paragraph) > 0 {
		m.paragraph(m.words(b.Paragraph))
	}
	if len(b.Facts)+len(b.Items) > 0 {
		m.line("")
	}
	for _, f := range b.Facts {
		m.fact(&f, b.Aligned)
	}
	for _, i := range b.Items {
		m.line("- " + m.words(i.Words))
		for _, u := range i.Under {
			m.line("  - " + m.words(u))
		}
	}
	if b.Table != nil {
		m.table(b.Table)
	}
}

func (m *markdown) fact(f *Fact, aligned bool) {
	if aligned {
		m.line("- **" + m.words(f.Term) + "**: " + m.words(join(f.Values, "; ")))
		return
	}
	m.line("- " + m.words(f.Term))
	for _, v := range f.Values {
		m.line("  - " + m.words(v))
	}
}

func (m *markdown) table(t *Table) {
	if t.Caption != "" {
		m.paragraph(escaped(t.Caption))
	}
	m.line("")
	m.inTable = true
	defer func() { m.inTable = false }()
	var rule, head []string
	for _, h := range t.Head {
		head = append(head, escaped(h))
		rule = append(rule, "---")
	}
	m.line("| " + strings.Join(head, " | ") + " |")
	m.line("| " + strings.Join(rule, " | ") + " |")
	for _, row := range t.Rows {
		var cells []string
		for _, c := range row {
			cells = append(cells, m.words(c))
		}
		m.line("| " + strings.Join(cells, " | ") + " |")
	}
}

func (m *markdown) sources(all []*graph.Source) {
	if len(all) == 0 {
		return
	}
	m.paragraph("## Sources")
	m.line("")
	for _, s := range all {
		m.line("- " + m.words(W("").marked(Code, s.ID).and(": ").then(citation(s))))
	}
}

func (m *markdown) words(w Words) string {
	var b strings.Builder
	for _, s := range w {
		text := escaped(s.oneLine())
		switch s.Mark {
		case Strong, Danger:
			text = "**" + text + "**"
		case Scientific, Memory:
			text = "*" + text + "*"
		case Code:
			text = m.code(s.oneLine())
		case Link:
			text = "<" + linkSigns.Replace(s.oneLine()) + ">"
		}
		b.WriteString(text)
	}
	return b.String()
}

// code is read as it is. What would end it, or a cell of a table, is written as
// any other text.
func (m *markdown) code(text string) string {
	if strings.Contains(text, "`") || m.inTable && strings.ContainsAny(text, `|\`) {
		return escaped(text)
	}
	return "`" + text + "`"
}

var linkSigns = strings.NewReplacer("<", "%3C", ">", "%3E", " ", "%20", "|", "%7C", `\`, "%5C", "`", "%60")

var markdownSigns = strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "&", "&amp;", "|", `\|`, "#", `\#`, "~", `\~`, "$", `\$`, "!", `\!`)

// escaped makes of every sign that Markdown would take for its own one that is read
// as it is.
func escaped(text string) string { return markdownSigns.Replace(Span{Text: text}.oneLine()) }
