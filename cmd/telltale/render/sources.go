package render

import (
	"fmt"
	"slices"
	"strconv"

	"telltale/graph"
)

// SourceDoc is a source in full, as JSON has it. Year is left out where nobody
// tells it.
type SourceDoc struct {
	ID        string `json:"id"`
	Title     string `json:"title"`
	Publisher string `json:"publisher"`
	Year      int    `json:"year,omitempty"`
	URL       string `json:"url"`
	Kind      string `json:"kind"`
}

func sourceDoc(s *graph.Source) SourceDoc {
	return SourceDoc{ID: s.ID, Title: s.Title, Publisher: s.Publisher, Year: s.Year, URL: s.URL, Kind: s.Kind}
}

// SourceShowDoc is what `source show --format json` writes.
type SourceShowDoc struct {
	SourceDoc
	FromMemory bool          `json:"from_memory"` // it is no publication
	Cited      []CitationDoc `json:"cited"`
	OwnData    []OwnDataDoc  `json:"own_data"`
}

// CitationDoc is one place that rests on a source.
type CitationDoc struct {
	Kind  string `json:"kind"`
	Of    string `json:"of"`
	What  string `json:"what"`
	Alone bool   `json:"alone"` // no other source stands behind it
}

// SourceJSON puts a source and what rests on it into a document.
func SourceJSON(k *graph.Knowledge, s *graph.Source, cited []graph.Citation) SourceShowDoc {
	doc := SourceShowDoc{SourceDoc: sourceDoc(s), FromMemory: s.ID == graph.Memory, Cited: []CitationDoc{}, OwnData: ownDataDocs(changed(k, fact{"source", s.ID}))}
	for _, c := range cited {
		doc.Cited = append(doc.Cited, CitationDoc(c))
	}
	return doc
}

// SourceSheet puts a source and what rests on it into a sheet.
func SourceSheet(k *graph.Knowledge, s *graph.Source, cited []graph.Citation) *Sheet {
	sheet := &Sheet{Title: W(s.Title), Lead: changedWords(k, fact{"source", s.ID})}
	var facts []Fact
	add := func(term string, w Words) {
		if len(w) > 0 {
			facts = append(facts, Fact{W(term), []Words{w}})
		}
	}
	add("Id", W("").marked(Code, s.ID))
	if s.ID == graph.Memory {
		add("Kind", W("").marked(Memory, fromMemoryWords).and(": no publication stands behind what is said here"))
	}
	add("Publisher", W(s.Publisher))
	add("Year", W(yearWords(s.Year)))
	add("Kind", W(plain(s.Kind)))
	add("Address", W("").link(s.URL))
	add("Cited", W(fmt.Sprintf("%s, %d of them with no other source", counted(len(cited), "time", "times"), alone(cited))))
	sheet.add(W("In short"), Block{Facts: facts, Aligned: true})
	sheet.add(W("What rests on it"), Block{Facts: citationFacts(k, cited)})
	return sheet
}

func yearWords(year int) string {
	if year == 0 {
		return ""
	}
	return strconv.Itoa(year)
}

func alone(cited []graph.Citation) int {
	n := 0
	for _, c := range cited {
		if c.Alone {
			n++
		}
	}
	return n
}

// citationFacts gathers what rests on a source by the plant, rule or trait it is
// about.
func citationFacts(k *graph.Knowledge, cited []graph.Citation) []Fact {
	var out []Fact
	var keys []string
	for _, c := range cited {
		term := citedTerm(k, &c)
		i := slices.Index(keys, term.Plain())
		if i < 0 {
			i = len(out)
			keys = append(keys, term.Plain())
			out = append(out, Fact{Term: term})
		}
		what := W(plain(c.Kind) + ": ").and(c.What)
		if c.Alone {
			what = what.and(", alone")
		}
		out[i].Values = append(out[i].Values, what)
	}
	return out
}

func citedTerm(k *graph.Knowledge, c *graph.Citation) Words {
	if t, ok := k.Taxon(c.Of); ok {
		return taxonTitle(t)
	}
	return W(capital(c.Kind)+" ").marked(Code, c.Of)
}

// SourceRow is a source in a list.
type SourceRow struct {
	Source *graph.Source
	Cited  int
}

// SourceRowDoc is a source in a list, as JSON has it.
type SourceRowDoc struct {
	SourceDoc
	Cited int `json:"cited"`
}

// SourcesJSON lists sources.
func SourcesJSON(rows []SourceRow) []SourceRowDoc {
	out := []SourceRowDoc{}
	for _, r := range rows {
		out = append(out, SourceRowDoc{sourceDoc(r.Source), r.Cited})
	}
	return out
}

// SourcesSheet lists sources.
func SourcesSheet(rows []SourceRow) *Sheet {
	table := &Table{Head: []string{"Id", "Title", "Publisher", "Year", "Cited"}}
	for _, r := range rows {
		s := r.Source
		table.Rows = append(table.Rows, []Words{W("").marked(Code, s.ID), W(s.Title), W(s.Publisher), W(yearWords(s.Year)), W(strconv.Itoa(r.Cited))})
	}
	s := &Sheet{Title: W(counted(len(rows), "source", "sources")), Hints: []string{"More of one: telltale source show SOURCE"}}
	s.add(nil, Block{Table: table})
	return s
}

// counted is a number of things.
func counted(n int, one, more string) string { return fmt.Sprintf("%d %s", n, plural(n, one, more)) }
