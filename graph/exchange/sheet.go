package exchange

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"telltale/graph"
)

// maxSheet is how large a sheet may be: the statements of all plants shipped take
// some 1.5 MB (common practice, no source).
const maxSheet = 32 << 20

// sheet is a table being read.
type sheet struct {
	name     string
	known    *graph.Knowledge
	lines    [][]byte
	header   []string
	rows     int // rows read, the header being row 1
	problems graph.Problems
}

// row is one row of a sheet: its cells by the header, and where each stands.
type row struct {
	number int
	cells  map[string]string
	at     map[string][2]int // line and byte, from 1
}

// cell gives what stands in a column, without the blanks around it.
func (r row) cell(column string) string { return strings.TrimSpace(r.cells[column]) }

// low gives a cell in small letters: spreadsheets begin sentences with a capital.
func (r row) low(column string) string { return strings.ToLower(r.cell(column)) }

// add notes a problem of a cell. Its message names row and column, as spreadsheets
// show them.
func (s *sheet) add(r row, column, format string, args ...any) {
	s.problems.Add(s.place(r, column), format, args...)
	s.numbered(r, column)
}

func (s *sheet) unknown(r row, column, what string, known []string) {
	if r.cell(column) == "" {
		s.add(r, column, "the cell is empty: expected a %s", what)
		return
	}
	s.problems.AddUnknown(s.place(r, column), what, r.cell(column), known)
	s.numbered(r, column)
}

// numbered says in the last problem which cell it is about: spreadsheets show rows
// and columns, not lines and characters.
func (s *sheet) numbered(r row, column string) {
	p := s.problems[len(s.problems)-1]
	p.Message = fmt.Sprintf("row %d, %s: %s", r.number, column, p.Message)
}

// open looks at the text and the header.
func (s *sheet) open(r io.Reader) (*csv.Reader, error) {
	at := graph.Place{File: s.name}
	text, err := io.ReadAll(&limited{r: r, left: maxSheet})
	switch {
	case errors.Is(err, errTooLarge):
		return nil, &graph.Problem{Place: at, Message: fmt.Sprintf("this sheet has more than the %d MB that are read", maxSheet>>20)}
	case err != nil:
		return nil, &graph.Problem{Place: at, Message: "cannot be read: " + err.Error()}
	}
	if text, err = utf8Text(at, text, "save the sheet as CSV in UTF-8"); err != nil {
		return nil, err
	}
	s.lines = bytes.Split(text, []byte("\n"))
	rows := csv.NewReader(bytes.NewReader(text))
	rows.Comma = separator(text)
	rows.FieldsPerRecord = -1
	header, err := rows.Read()
	if err != nil {
		s.broken(err)
		return nil, s.problems.Err()
	}
	s.rows = 1
	s.columns(rows, header)
	return rows, s.problems.Err()
}

// utf8Text refuses what is not text in UTF-8, and says what it is and how to save it
// instead.
func utf8Text(at graph.Place, text []byte, save string) ([]byte, error) {
	switch {
	case bytes.HasPrefix(text, []byte("\xff\xfe")), bytes.HasPrefix(text, []byte("\xfe\xff")):
		return nil, &graph.Problem{Place: at, Message: "this is UTF-16: " + save}
	case bytes.HasPrefix(text, []byte("PK\x03\x04")), bytes.HasPrefix(text, []byte("\xd0\xcf\x11\xe0")):
		return nil, &graph.Problem{Place: at, Message: "this is a spreadsheet program's own file: " + save}
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	at.Line, at.Column = 1, 1
	for rest := text; len(rest) > 0; {
		r, size := utf8.DecodeRune(rest)
		switch {
		case r == utf8.RuneError && size == 1:
			return nil, &graph.Problem{Place: at, Message: fmt.Sprintf("the byte %#x is not UTF-8, perhaps Windows-1252 or Latin-1: %s", rest[0], save)}
		case r == 0:
			return nil, &graph.Problem{Place: at, Message: "a zero byte stands here: this is no text; " + save}
		case r == '\n':
			at.Line, at.Column = at.Line+1, 0
		}
		at.Column++
		rest = rest[size:]
	}
	return text, nil
}

// separator finds what parts the cells: what parts the names in the header.
func separator(text []byte) rune {
	header, _, _ := bytes.Cut(text, []byte("\n"))
	best, most := ',', bytes.Count(header, []byte(","))
	for _, r := range []rune{';', '\t'} {
		if n := bytes.Count(header, []byte(string(r))); n > most {
			best, most = r, n
		}
	}
	return best
}

// columns checks the header: every column once, in any order.
func (s *sheet) columns(rows *csv.Reader, header []string) {
	for i, h := range header {
		name := strings.ToLower(strings.TrimSpace(h))
		at := s.placeOf(rows, i)
		switch {
		case !slices.Contains(Columns, name):
			s.problems.AddUnknown(at, "column", strings.TrimSpace(h), Columns)
		case slices.Contains(s.header, name):
			s.problems.Add(at, "the column %s stands in the header twice", name)
		}
		s.header = append(s.header, name)
	}
	for _, c := range Columns {
		if !slices.Contains(s.header, c) {
			s.problems.Add(graph.Place{File: s.name, Line: 1}, "the header has no column %s: expected %s", c, strings.Join(Columns, ","))
		}
	}
}

func (s *sheet) placeOf(rows *csv.Reader, field int) graph.Place {
	line, column := rows.FieldPos(field)
	return s.at(line, column)
}

// place is where a cell stands.
func (s *sheet) place(r row, column string) graph.Place {
	at := r.at[column]
	return s.at(at[0], at[1])
}

// at is the place of a line and a byte of it, both from 1. Places count characters.
func (s *sheet) at(line, column int) graph.Place {
	at := graph.Place{File: s.name, Line: line, Column: column}
	if 0 < line && line <= len(s.lines) {
		before := s.lines[line-1]
		at.Column = utf8.RuneCount(before[:min(max(column-1, 0), len(before))]) + 1
	}
	return at
}

// next reads the next row that holds anything.
func (s *sheet) next(rows *csv.Reader) (row, bool) {
	for len(s.problems) < mostProblems {
		record, err := rows.Read()
		if err == io.EOF {
			return row{}, false
		}
		if err != nil {
			s.broken(err)
			return row{}, false
		}
		s.rows++
		if !slices.ContainsFunc(record, func(c string) bool { return strings.TrimSpace(c) != "" }) {
			continue
		}
		if len(record) != len(s.header) {
			s.problems.Add(s.placeOf(rows, 0), "row %d has %d cells, expected %d as in the header: put a cell that holds a comma between double quotes", s.rows, len(record), len(s.header))
			continue
		}
		out := row{number: s.rows, cells: map[string]string{}, at: map[string][2]int{}}
		for i, cell := range record {
			out.cells[s.header[i]] = cell
			line, column := rows.FieldPos(i)
			out.at[s.header[i]] = [2]int{line, column}
		}
		return out, true
	}
	return row{}, false
}

// broken notes why a table cannot be read any further.
func (s *sheet) broken(err error) {
	var parse *csv.ParseError
	switch {
	case err == io.EOF:
		s.problems.Add(graph.Place{File: s.name}, "nothing stands in this sheet: expected the header %s", strings.Join(Columns, ","))
	case !errors.As(err, &parse):
		s.problems.Add(graph.Place{File: s.name}, "cannot be read: %s", err)
	case errors.Is(err, csv.ErrQuote):
		s.problems.Add(graph.Place{File: s.name, Line: parse.StartLine},
			"in the row that begins here a double quote is never closed, or stands inside a quoted cell without being written twice (\"\")")
	case errors.Is(err, csv.ErrBareQuote):
		s.problems.Add(s.at(parse.Line, parse.Column),
			"a double quote stands inside a cell that does not begin with one: put the cell between double quotes and write it twice (\"\")")
	default:
		s.problems.Add(s.at(parse.Line, parse.Column), "cannot be read: %s", parse.Err)
	}
}
