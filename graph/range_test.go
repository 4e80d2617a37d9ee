package graph_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"telltale/graph"
)

func span(lowExtreme, low, high, highExtreme float64) graph.Range {
	return graph.Range{LowExtreme: lowExtreme, Low: low, High: high, HighExtreme: highExtreme}
}

func TestRangesAsFlorasWriteThem(t *testing.T) {
	tests := []struct {
		shows, text, unit string
		want              graph.Range
		written           string
	}{
		{"extremes on both sides", "(2-)5-15(-20) cm", "cm", span(2, 5, 15, 20), "(2-)5-15(-20)"},
		{"an extreme below", "(2-)5-15", "cm", span(2, 5, 15, 15), "(2-)5-15"},
		{"an extreme above", "5-15(-20)", "cm", span(5, 5, 15, 20), "5-15(-20)"},
		{"a plain span", "5-15", "cm", span(5, 5, 15, 15), "5-15"},
		{"one number", "5", "", span(5, 5, 5, 5), "5"},
		{"one number with extremes", "(2-)5(-20)", "", span(2, 5, 5, 20), "(2-)5(-20)"},
		{"decimals", "(0.5-)1.25-2.5(-3)", "mm", span(0.5, 1.25, 2.5, 3), "(0.5-)1.25-2.5(-3)"},
		{"blanks where floras set them", "(2-) 5 - 15 (-20)cm", "cm", span(2, 5, 15, 20), "(2-)5-15(-20)"},
		{"the dash of printers", "(2–)5–15(–20) cm", "cm", span(2, 5, 15, 20), "(2-)5-15(-20)"},
		{"a narrow blank before the unit", "5-15\u202fcm", "cm", span(5, 5, 15, 15), "5-15"},
		{"metres for a trait in cm", "(0.5-)1-2(-3) m", "cm", span(50, 100, 200, 300), "(50-)100-200(-300)"},
		{"cm for a trait in mm", "0.3-1 cm", "mm", span(3, 3, 10, 10), "3-10"},
		{"mm for a trait in cm", "3-10 mm", "cm", span(0.3, 0.3, 1, 1), "0.3-1"},
		{"inches", "(1-)2-3 in", "cm", span(2.54, 5.08, 7.62, 7.62), "(2.54-)5.08-7.62"},
		{"feet", "2-5 ft", "cm", span(60.96, 60.96, 152.4, 152.4), "60.96-152.4"},
		{"months that wrap round the year", "11-2", "", span(11, 11, 2, 2), "11-2"},
		{"nothing", "0", "cm", span(0, 0, 0, 0), "0"},
	}
	for _, c := range tests {
		t.Run(c.shows, func(t *testing.T) {
			got, err := graph.ParseRange(c.text, c.unit)
			if err != nil {
				t.Fatal(err)
			}
			if got != c.want || got.String() != c.written {
				t.Errorf("%q is read as %s %v, want %s %v", c.text, got, got, c.written, c.want)
			}
		})
	}
}

func TestSlipsInRanges(t *testing.T) {
	for _, c := range []struct{ shows, text, unit, want string }{
		{"words", "long", "cm", `"long" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"nothing", "", "cm", `"" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"an open end", "5-", "cm", `"5-" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"three numbers", "5-10-15", "cm", `"5-10-15" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"a bracket that stays open", "(2-5-15", "cm", `"(2-5-15" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"below zero", "-5-15", "cm", `"-5-15" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"no number", "NaN", "cm", `"NaN" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"an unknown unit", "5-15 cmm", "cm", `there is no unit "cmm" (known: mm, cm, m, in, ft); the nearest is "cm"`},
		{"a unit for a count", "5-15 cm", "", `a unit (cm) is out of place: this is a plain number`},
		{"larger than any plant", "5-" + strings.Repeat("9", 400), "cm", `"5-` + strings.Repeat("9", 78) + `…" is larger than any plant`},
		{"larger than any plant below", "(" + strings.Repeat("9", 9) + "-)5", "cm", `"(999999999-)5" is larger than any plant`},
		{"kilometres by way of metres", "20000 m", "mm", `"20000 m" is larger than any plant`},
	} {
		t.Run(c.shows, func(t *testing.T) {
			got, err := graph.ParseRange(c.text, c.unit)
			if err == nil || err.Error() != c.want {
				t.Errorf("%v, %v; want %s", got, err, c.want)
			}
		})
	}
}

func TestRangesThatNoTraitCanHave(t *testing.T) {
	for _, c := range []struct {
		shows, text string
		kind        graph.Kind
		want        string
	}{
		{"a measure that falls", "15-5", graph.MeasureKind, "15-5 does not rise from low to high"},
		{"an extreme inside the span", "(6-)5-15", graph.MeasureKind, "(6-)5-15 does not rise from low to high"},
		{"an upper extreme inside the span", "5-15(-12)", graph.MeasureKind, "5-15(-12) does not rise from low to high"},
		{"half a petal", "4.5-5", graph.CountKind, "4.5-5 is no count"},
		{"half a petal above", "4-5.5", graph.CountKind, "4-5.5 is no count"},
		{"half a petal in an extreme", "4-5(-6.5)", graph.CountKind, "4-5(-6.5) is no count"},
		{"month 0", "0-5", graph.MonthsKind, "0-5 are no months: they run from 1 to 12"},
		{"month 13", "5-13", graph.MonthsKind, "5-13 are no months: they run from 1 to 12"},
		{"half a month", "5.5-6", graph.MonthsKind, "5.5-6 are no months: they run from 1 to 12"},
		{"an extreme month 0", "(0-)3-5", graph.MonthsKind, "(0-)3-5 are no months: they run from 1 to 12"},
		{"an extreme month 14", "3-5(-14)", graph.MonthsKind, "3-5(-14) are no months: they run from 1 to 12"},
	} {
		t.Run(c.shows, func(t *testing.T) {
			r, err := graph.ParseRange(c.text, "")
			if err != nil {
				t.Fatal(err)
			}
			if err := r.Check(c.kind); err == nil || err.Error() != c.want {
				t.Errorf("%v, want %s", err, c.want)
			}
		})
	}
	for text, kind := range map[string]graph.Kind{"11-2": graph.MonthsKind, "(3-)5-9(-11)": graph.MonthsKind, "0": graph.CountKind, "(1-)2-3(-4)": graph.CountKind, "(0-)0.5": graph.MeasureKind} {
		r, err := graph.ParseRange(text, "")
		if err == nil {
			err = r.Check(kind)
		}
		if err != nil {
			t.Error(err)
		}
	}
}

func TestMonthsWrapRoundTheYear(t *testing.T) {
	for text, want := range map[string]string{"11-2": "xx........xx", "5-9": "....xxxxx...", "4": "...x........", "1-12": "xxxxxxxxxxxx", "12-11": "xxxxxxxxxxxx", "3-2": "xxxxxxxxxxxx"} {
		r, err := graph.ParseRange(text, "")
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		for m := 1; m <= 12; m++ {
			if r.HasMonth(m) {
				got += "x"
			} else {
				got += "."
			}
		}
		if got != want {
			t.Errorf("%s has the months %s, want %s", text, got, want)
		}
	}
}

func TestMonthsByName(t *testing.T) {
	for text, want := range map[string]int{"1": 1, "12": 12, "01": 1, " 7 ": 7, "may": 5, "May": 5, "JUNE": 6, "jun": 6, "sept": 9, "december": 12} {
		if got, err := graph.ParseMonth(text); err != nil || got != want {
			t.Errorf("%q is %d, %v", text, got, err)
		}
	}
	for text, want := range map[string]string{
		"0": "there is no month 0: they run from 1 to 12", "13": "there is no month 13: they run from 1 to 12",
		"-1": `there is no month "-1"`, "ma": `there is no month "ma"; the nearest is "may"`, "": `there is no month ""`, "Juli": `there is no month "Juli"; the nearest is "july"`,
		"1.5": `there is no month "1.5"`, "99999999999999999999999": `there is no month "99999999999999999999999"`,
	} {
		if got, err := graph.ParseMonth(text); err == nil || err.Error() != want {
			t.Errorf("%q is %d, %v; want %s", text, got, err, want)
		}
	}
	for m := 1; m <= 12; m++ {
		if got, err := graph.ParseMonth(graph.MonthName(m)); err != nil || got != m {
			t.Errorf("%s is %d, %v", graph.MonthName(m), got, err)
		}
	}
	if got := graph.MonthName(13); got != "no month" {
		t.Error(got)
	}
}

func TestWrittenRangesReadBack(t *testing.T) {
	tenth := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(0, 1_000_000).Draw(t, "n")) / 100 })
	rapid.Check(t, func(t *rapid.T) {
		want := span(tenth.Draw(t, "a"), tenth.Draw(t, "b"), tenth.Draw(t, "c"), tenth.Draw(t, "d"))
		for _, unit := range []string{"", " mm", "cm"} {
			got, err := graph.ParseRange(want.String()+unit, strings.TrimSpace(unit))
			if err != nil {
				t.Fatal(err)
			}
			if got != want {
				t.Fatalf("%s is read as %s", want, got)
			}
		}
	})
}

// A length is the same length in whichever unit it is told.
func TestUnitsNeverChangeALength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := float64(rapid.IntRange(0, 100_000).Draw(t, "mm"))
		r, err := graph.ParseRange(span(mm, mm, mm, mm).String()+" mm", "cm")
		if err != nil {
			t.Fatal(err)
		}
		back, err := graph.ParseRange(r.String()+" cm", "mm")
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(mm, back.Low, cmpopts.EquateApprox(0, 1e-9)); d != "" {
			t.Fatal(d)
		}
	})
}

func FuzzParseRange(f *testing.F) {
	for _, text := range []string{"(2-)5-15(-20) cm", "11-2", "5–15", "1-2 ft", "0", "(1-)2", "999999999 m", `3"`} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := graph.ParseRange(text, "cm")
		if err != nil {
			return
		}
		back, err := graph.ParseRange(r.String(), "cm")
		if err != nil || back != r {
			t.Errorf("%q is read as %s, and that as %s: %v", text, r, back, err)
		}
	})
}
