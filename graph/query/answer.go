package query

import (
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/cayleygraph/quad"
)

// Answer is what a query gave, in rows. A column that a row does not have is empty
// there.
type Answer struct {
	Columns []string
	Rows    []Row
	// More tells that there are more rows than were asked for. Which ones are left
	// out is up to the store.
	More bool
}

// Row holds the values of one row by their columns: texts, numbers, truth values,
// and lists and objects of these. A node is its name, "taxon/conium-maculatum".
type Row map[string]any

// collector gathers rows until there are enough.
type collector struct {
	limit  int
	answer Answer
	said   bool // some row was handed over by the query itself, in its own order
}

// take adds a row and tells whether more are wanted.
func (c *collector) take(r Row) bool {
	if c.limit > 0 && len(c.answer.Rows) >= c.limit {
		c.answer.More = true
		return false
	}
	c.answer.Rows = append(c.answer.Rows, r)
	return true
}

// finish puts columns and rows in order. Columns stand in the order in which the
// query names them, its comments left out. Rows that the query handed over itself stay in its order;
// others have none of their own, and each store gives them in another.
func (c *collector) finish(query string) *Answer {
	a := &c.answer
	query = comment.ReplaceAllString(query, "")
	places := map[string]int{}
	for _, r := range a.Rows {
		for name := range r {
			if _, known := places[name]; !known {
				places[name] = named(query, name)
			}
		}
	}
	a.Columns = slices.SortedFunc(maps.Keys(places), func(x, y string) int {
		return cmp.Or(cmp.Compare(places[x], places[y]), cmp.Compare(x, y))
	})
	if !c.said {
		slices.SortStableFunc(a.Rows, func(x, y Row) int { return compareRows(a.Columns, x, y) })
	}
	return a
}

// comment is a line that is none of the query's words.
var comment = regexp.MustCompile(`(?m)^\s*(//|#).*$`)

// named is where a query names a column: last as the key of an object that it
// hands over, or else first as a tag. The id of a node, and what the query does not
// name, come before all.
func named(query, column string) int {
	if column == "id" {
		return -2
	}
	word := regexp.QuoteMeta(column)
	if at := regexp.MustCompile(`\b`+word+`[>"']*\s*:`).FindAllStringIndex(query, -1); at != nil {
		return at[len(at)-1][0]
	}
	if at := regexp.MustCompile(`["'\s]` + word + `\b`).FindStringIndex(query); at != nil {
		return at[0]
	}
	return -1
}

func compareRows(columns []string, x, y Row) int {
	for _, c := range columns {
		if order := compareValues(x[c], y[c]); order != 0 {
			return order
		}
	}
	return 0
}

func compareValues(x, y any) int {
	if a, ok := number(x); ok {
		if b, ok := number(y); ok {
			return cmp.Compare(a, b)
		}
	}
	return cmp.Compare(Text(x), Text(y))
}

func number(v any) (float64, bool) {
	switch n := v.(type) {
	case int64:
		return float64(n), true
	case float64:
		return n, true
	}
	return 0, false
}

// Text writes a value in one cell of a table: a list of plain values with "; "
// between them, anything deeper as JSON.
func Text(v any) string {
	switch x := v.(type) {
	case nil:
		return ""
	case string:
		return x
	case []any:
		if slices.ContainsFunc(x, nested) {
			break
		}
		var parts []string
		for _, e := range x {
			parts = append(parts, Text(e))
		}
		return strings.Join(parts, "; ")
	case int64, float64, bool:
		return fmt.Sprint(x)
	}
	text, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprint(v)
	}
	return string(text)
}

func nested(v any) bool {
	switch v.(type) {
	case []any, map[string]any:
		return true
	}
	return false
}

// plain makes a value of what a query language hands over: quads' values, and what
// JavaScript and JSON have.
func plain(v any) any {
	switch x := v.(type) {
	case quad.Value:
		return plainValue(x)
	case string:
		return unbracketed(x)
	case int:
		return int64(x)
	case []any:
		return plainList(x)
	case []quad.Value:
		return plainList(x)
	case []string:
		return plainList(x)
	case []map[string]any:
		return plainList(x)
	case map[string]any:
		out := make(map[string]any, len(x))
		for name, e := range x {
			out[unbracketed(name)] = plain(e)
		}
		return out
	case nil, bool, int64, float64:
		return x
	}
	return fmt.Sprint(v)
}

func plainList[T any](list []T) []any {
	out := make([]any, len(list))
	for i, e := range list {
		out[i] = plain(e)
	}
	return out
}

func plainValue(v quad.Value) any {
	switch x := v.(type) {
	case quad.IRI:
		return string(x)
	case quad.String:
		return string(x)
	case quad.Int:
		return int64(x)
	case quad.Float:
		return float64(x)
	case quad.Bool:
		return bool(x)
	}
	return quad.ToString(v)
}

// unbracketed takes the name of a node out of the brackets that queries write
// around it.
func unbracketed(s string) string {
	if len(s) > 2 && s[0] == '<' && s[len(s)-1] == '>' && !strings.ContainsAny(s[1:len(s)-1], "<> \t\n") {
		return s[1 : len(s)-1]
	}
	return s
}
