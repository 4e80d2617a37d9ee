package graph

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Range is a measure as floras write it, (2-)5-15(-20): the usual span and, in
// brackets, the extremes. Months are a Range that may wrap round the year, 11-2.
type Range struct {
	_           struct{} `cbor:",toarray"`
	LowExtreme  float64
	Low         float64
	High        float64
	HighExtreme float64
}

// String writes the range the way floras do.
func (r Range) String() string {
	out := number(r.Low)
	if r.High != r.Low {
		out += "-" + number(r.High)
	}
	if r.LowExtreme != r.Low {
		out = "(" + number(r.LowExtreme) + "-)" + out
	}
	if r.HighExtreme != r.High {
		out += "(-" + number(r.HighExtreme) + ")"
	}
	return out
}

func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// HasMonth tells whether the month, 1 to 12, lies in the range.
func (r Range) HasMonth(month int) bool {
	m := float64(month)
	if r.Low <= r.High {
		return r.Low <= m && m <= r.High
	}
	return m >= r.Low || m <= r.High
}

var rangePattern = regexp.MustCompile(`^(?:\((\d+(?:\.\d+)?)-\))?(\d+(?:\.\d+)?)(?:-(\d+(?:\.\d+)?))?(?:\(-(\d+(?:\.\d+)?)\))?\s*([a-z]*)$`)

// ParseRange reads a range written as floras do, with its unit where it has one,
// and converts it to the unit given ("" for counts and months).
func ParseRange(text, unit string) (Range, error) {
	m := rangePattern.FindStringSubmatch(strings.TrimSpace(strings.ReplaceAll(text, "–", "-")))
	if m == nil {
		return Range{}, fmt.Errorf("%q is no range: write it as floras do, 5-15 or (2-)5-15(-20)", text)
	}
	factor := 1.0
	if m[5] != "" {
		var err error
		if factor, err = unitFactor(m[5], unit); err != nil {
			return Range{}, err
		}
	}
	at := func(i int, otherwise float64) float64 {
		if m[i] == "" {
			return otherwise
		}
		x, _ := strconv.ParseFloat(m[i], 64) // the pattern lets only numbers through
		return round9(x * factor)
	}
	var r Range
	r.Low = at(2, 0)
	r.High = at(3, r.Low)
	r.LowExtreme = at(1, r.Low)
	r.HighExtreme = at(4, r.High)
	if math.IsInf(r.HighExtreme, 0) || math.IsInf(r.High, 0) {
		return Range{}, fmt.Errorf("%q is too large to be measured", text)
	}
	return r, nil
}

// ordered tells whether the numbers of a measure or count rise from low to high.
func (r Range) ordered() bool {
	return r.LowExtreme <= r.Low && r.Low <= r.High && r.High <= r.HighExtreme
}

// Check tells what is wrong with a range of this kind of trait.
func (r Range) Check(kind Kind) error {
	if kind == MonthsKind {
		if r.Low < 1 || r.Low > 12 || r.High < 1 || r.High > 12 || r.Low != math.Trunc(r.Low) || r.High != math.Trunc(r.High) {
			return fmt.Errorf("%s are no months: they run from 1 to 12", r)
		}
		return nil
	}
	if !r.ordered() {
		return fmt.Errorf("%s does not rise from low to high", r)
	}
	if kind == CountKind && r.Low != math.Trunc(r.Low) {
		return fmt.Errorf("%s is no count", r)
	}
	return nil
}

// centimetres gives the length of each unit in cm. The inch is 2.54 cm and the
// foot 30.48 cm exactly (NIST SP 811, appendix B).
var centimetres = map[string]float64{
	"mm": 0.1, "cm": 1, "m": 100,
	"in": 2.54, "inch": 2.54, "inches": 2.54, `"`: 2.54,
	"ft": 30.48, "foot": 30.48, "feet": 30.48, "'": 30.48,
}

// UnitNames lists the units that a length can be given in.
func UnitNames() []string { return []string{"mm", "cm", "m", "in", "ft"} }

// unitFactor gives what one of the unit from is in the unit to.
func unitFactor(from, to string) (float64, error) {
	f, ok := centimetres[from]
	if !ok {
		return 0, Unknown(Place{}, "unit", from, UnitNames())
	}
	t, ok := centimetres[to]
	if !ok {
		return 0, fmt.Errorf("a unit (%s) is out of place: this is a plain number", from)
	}
	return f / t, nil
}

// round9 takes off what conversion between units adds in the last digits.
func round9(x float64) float64 { return math.Round(x*1e9) / 1e9 }

var measurePattern = regexp.MustCompile(`^(\d+(?:\.\d+)?|\.\d+)\s*(?:-\s*(\d+(?:\.\d+)?|\.\d+))?\s*([A-Za-z"']*)$`)

// largestMeasure, in the trait's unit, is beyond any plant: the tallest tree is
// 116 m, 116,000 mm (from memory).
const largestMeasure = 1e6

// parseSpan reads a number or a span of two, with its unit, and gives it in the
// unit wanted.
func parseSpan(text, unit string) (low, high float64, err error) {
	m := measurePattern.FindStringSubmatch(strings.TrimSpace(text))
	if m == nil {
		return 0, 0, fmt.Errorf("%q is no number", text)
	}
	factor := 1.0
	if m[3] != "" {
		if factor, err = unitFactor(strings.ToLower(m[3]), unit); err != nil {
			return 0, 0, err
		}
	}
	low, _ = strconv.ParseFloat(m[1], 64) // the pattern lets only numbers through
	high = low
	if m[2] != "" {
		high, _ = strconv.ParseFloat(m[2], 64)
	}
	low, high = round9(low*factor), round9(high*factor)
	switch {
	case low > high:
		return 0, 0, fmt.Errorf("%q runs from high to low", text)
	case high > largestMeasure:
		return 0, 0, fmt.Errorf("%q is larger than any plant", text)
	}
	return low, high, nil
}

var monthNames = []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}

// ParseMonth reads a month, 1 to 12 or its English name or the first three
// letters of it.
func ParseMonth(text string) (int, error) {
	t := strings.ToLower(strings.TrimSpace(text))
	if n, err := strconv.Atoi(t); err == nil && 1 <= n && n <= 12 {
		return n, nil
	}
	if len(t) >= 3 {
		if i := slices.IndexFunc(monthNames, func(m string) bool { return strings.HasPrefix(m, t) }); i >= 0 {
			return i + 1, nil
		}
	}
	return 0, Unknown(Place{}, "month", text, monthNames)
}

// MonthName gives the English name of a month, 1 to 12.
func MonthName(month int) string {
	if month < 1 || month > 12 {
		return "no month"
	}
	return strings.ToUpper(monthNames[month-1][:1]) + monthNames[month-1][1:]
}
