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

var rangePattern = regexp.MustCompile(`^(?:\(\s*(\d+(?:\.\d+)?)\s*-\s*\))?\s*(\d+(?:\.\d+)?)(?:\s*-\s*(\d+(?:\.\d+)?))?\s*(?:\(\s*-\s*(\d+(?:\.\d+)?)\s*\))?\s*([^\d\s(){}.,-]*)$`)

// typographic turns what publishers set for a hyphen and a blank into those.
var typographic = strings.NewReplacer("–", "-", "‑", "-", "\u00a0", " ", "\u202f", " ", "\u2009", " ")

// ParseRange reads a range written as floras do, with its unit where it has one,
// and converts it to the unit given ("" for counts and months).
func ParseRange(text, unit string) (Range, error) {
	m := rangePattern.FindStringSubmatch(strings.TrimSpace(typographic.Replace(text)))
	if m == nil {
		return Range{}, fmt.Errorf("%q is no range: write it as floras do, 5-15 or (2-)5-15(-20)", short(text))
	}
	factor, err := unitFactor(m[5], unit)
	if err != nil {
		return Range{}, err
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
	if max(r.LowExtreme, r.Low, r.High, r.HighExtreme) > largestMeasure {
		return Range{}, fmt.Errorf("%q is larger than any plant", short(text))
	}
	return r, nil
}

// ordered tells whether the numbers of a measure or count rise from low to high.
func (r Range) ordered() bool {
	return r.LowExtreme <= r.Low && r.Low <= r.High && r.High <= r.HighExtreme
}

// Check tells what is wrong with a range of this kind of trait.
func (r Range) Check(kind Kind) error {
	numbers := []float64{r.LowExtreme, r.Low, r.High, r.HighExtreme}
	switch {
	case kind == MonthsKind:
		if slices.ContainsFunc(numbers, func(x float64) bool { return !whole(x) || x < 1 || x > 12 }) {
			return fmt.Errorf("%s are no months: they run from 1 to 12", r)
		}
	case !r.ordered():
		return fmt.Errorf("%s does not rise from low to high", r)
	case kind == CountKind && slices.ContainsFunc(numbers, func(x float64) bool { return !whole(x) }):
		return fmt.Errorf("%s is no count", r)
	}
	return nil
}

// whole tells whether there is nothing behind the decimal point.
func whole(x float64) bool { return x == math.Trunc(x) }

// centimetres gives the length of each unit in cm. The inch is 2.54 cm and the
// foot 30.48 cm exactly (NIST SP 811, appendix B).
var centimetres = map[string]float64{
	"mm": 0.1, "cm": 1, "m": 100,
	"in": 2.54, "inch": 2.54, "inches": 2.54, `"`: 2.54,
	"ft": 30.48, "foot": 30.48, "feet": 30.48, "'": 30.48,
}

// UnitNames lists the units that a length can be given in.
func UnitNames() []string { return []string{"mm", "cm", "m", "in", "ft"} }

// unitFactor gives what one of the unit from is in the unit to; from may be left
// out.
func unitFactor(from, to string) (float64, error) {
	if from == "" {
		return 1, nil
	}
	f, ok := centimetres[strings.ToLower(from)]
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

var measurePattern = regexp.MustCompile(`^(\d+(?:\.\d+)?|\.\d+)\s*(?:-\s*(\d+(?:\.\d+)?|\.\d+))?\s*([^\d\s(){}.,-]*)$`)

// largestMeasure, in the trait's unit, is beyond any plant: the tallest tree is
// 116 m, 116,000 mm (from memory).
const largestMeasure = 1e6

// parseSpan reads a number or a span of two, with its unit, and gives it in the
// unit wanted.
func parseSpan(text, unit string) (low, high float64, err error) {
	plain := strings.TrimSpace(typographic.Replace(text))
	m := measurePattern.FindStringSubmatch(plain)
	switch {
	case m != nil:
	case strings.HasPrefix(plain, "-"):
		return 0, 0, fmt.Errorf("%q is below zero", text)
	case measurePattern.MatchString(strings.Replace(plain, ",", ".", 1)):
		return 0, 0, fmt.Errorf("%q is no number: decimals stand behind a point", text)
	default:
		return 0, 0, fmt.Errorf("%q is no number", text)
	}
	factor, err := unitFactor(m[3], unit)
	if err != nil {
		return 0, 0, err
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
	if n, err := strconv.ParseUint(t, 10, 64); err == nil {
		if 1 <= n && n <= 12 {
			return int(n), nil
		}
		return 0, fmt.Errorf("there is no month %d: they run from 1 to 12", n)
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
