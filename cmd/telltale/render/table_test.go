package render

import (
	"bytes"
	"strings"
	"testing"
)

func table(spare int, rows ...[]string) *Table {
	t := &Table{Head: []string{"Id", "Name", "Words"}, Spare: spare}
	for _, r := range rows {
		t.Rows = append(t.Rows, []Words{W(r[0]), W(r[1]), W(r[2])})
	}
	return t
}

func TestTableIsSetToThePage(t *testing.T) {
	long := strings.Repeat("a word or two ", 5)
	tests := []struct {
		what  string
		table *Table
		width int
		want  []string // lines that have to be there
	}{
		{"room enough", table(0, []string{"a", "b", "c"}), 80, []string{"Id  Name  Words", "a   b     c"}},
		{"the widest column is narrowed", table(0, []string{"an-id", "b", long}), 60, []string{"an-id  b     a word or two a word or two a word or two a", "             word or two a word or two"}},
		{"an id is never broken", table(0, []string{strings.Repeat("an-id-", 8), "b", long}), 76, []string{strings.Repeat("an-id-", 8) + "  b     a word or two a word"}},
		{"a column that can be spared goes first", table(1, []string{strings.Repeat("i", 40), strings.Repeat("n", 16), strings.Repeat("w", 16)}), 72, []string{"Id                                        Words"}},
		{"a narrow page sets cells one under the other", table(0, []string{"a", "b", "c"}), 40, []string{"a", "    Name: b", "    Words: c"}},
		{"a table that does not fit is set so too", table(0, []string{strings.Repeat("i", 60), "b", strings.Repeat("w", 16)}), 72, []string{strings.Repeat("i", 60), "    Name: b"}},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			var out bytes.Buffer
			p := &Page{w: &out, width: tt.width}
			p.table(tt.table)
			lines := map[string]bool{}
			for _, l := range strings.Split(out.String(), "\n") {
				lines[l] = true
				if len([]rune(l)) > tt.width {
					t.Errorf("wider than the page: %q", l)
				}
			}
			for _, w := range tt.want {
				if !lines[w] {
					t.Errorf("no line %q in\n%s", w, out.String())
				}
			}
		})
	}
}
