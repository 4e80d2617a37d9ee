package rules

import (
	"slices"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// look is how a rule looks at one variable.
type look struct {
	*variable
	at          int // its place among the looks of the rule
	comparisons []comparison
	steers      bool // stands in the test of a conditional
}

// look finds how the rule looks at a variable.
func (c *checker) look(v *variable) *look {
	for _, l := range c.looks {
		if l.variable == v {
			return l
		}
	}
	l := &look{variable: v, at: len(c.looks)}
	c.looks = append(c.looks, l)
	return l
}

func (l *look) add(c comparison, steers bool) {
	l.comparisons = append(l.comparisons, c)
	l.steers = l.steers || steers
}

// once tells whether the rule comes to the variable in one place only, and to
// another that it is compared with there as well. Where all values that may be
// true come to the same there, any of them stands for all, and where they do not,
// it is as if none were read; otherwise each has to be tried.
func (l *look) once() bool {
	return l.alone() && (l.comparisons[0].with == nil || l.comparisons[0].with.alone())
}

func (l *look) alone() bool { return len(l.comparisons) == 1 && !l.steers }

func (l *look) linked() bool {
	return slices.ContainsFunc(l.comparisons, func(c comparison) bool { return c.with != nil })
}

// ways bounds the number of values that have to be tried, of a trait read once.
func (l *look) ways(all []*look) int {
	switch {
	case l.once() || l.trait == nil:
		return 1
	case l.kind == word && l.linked():
		return len(l.words)
	case l.kind == word:
		return min(len(l.mentioned())+1, len(l.words))
	case !l.linked():
		return 2*len(l.mentioned()) + 1
	}
	linked := linkedWith(l, all)
	cuts := 2 * len(linked) // the ends of what was read of each
	for _, o := range linked {
		cuts += len(o.mentioned())
	}
	return cuts + (cuts-1)*len(linked)
}

// linkedWith lists the variables whose values may be compared with one another,
// l among them.
func linkedWith(l *look, all []*look) []*look {
	if !l.linked() {
		return []*look{l}
	}
	var out []*look
	for _, o := range all {
		if o.linked() && o.kind == l.kind {
			out = append(out, o)
		}
	}
	return out
}

// mentioned lists the values that the rule compares the variable with.
func (l *look) mentioned() []ref.Val {
	var out []ref.Val
	for _, c := range l.comparisons {
		for _, x := range c.values {
			if !slices.Contains(out, x) {
				out = append(out, x)
			}
		}
	}
	return out
}

// possible lists, of the values that may be true, as many as can make a
// difference to the rule.
func (l *look) possible(f *Facts, all []*look) []ref.Val {
	if l.kind == word {
		return l.possibleWords(f.states[l.name])
	}
	linked := linkedWith(l, all)
	var breaks []float64
	for _, o := range linked {
		for _, x := range o.mentioned() {
			breaks = append(breaks, number(x))
		}
		if len(linked) > 1 {
			breaks = append(breaks, f.ends(o.variable)...)
		}
	}
	var out []ref.Val
	for _, x := range points(f.spans[l.name], breaks, len(linked), l.kind == whole) {
		out = append(out, l.valued(x))
	}
	return out
}

// possibleWords keeps of the words that the rule does not mention one, where each
// costs a try.
func (l *look) possibleWords(words []ref.Val) []ref.Val {
	if l.once() || l.linked() {
		return words
	}
	mentioned := l.mentioned()
	var out []ref.Val
	other := false
	for _, w := range words {
		if slices.Contains(mentioned, w) {
			out = append(out, w)
		} else if !other {
			other = true
			out = append(out, w)
		}
	}
	return out
}

// span is what a number lies in, both ends belonging to it.
type span struct{ low, high float64 }

// points picks numbers out of spans such that whatever is compared with the
// breaks comes out of them in every way it can: the breaks, and on either side of
// each so many more as there are numbers to be compared with one another.
func points(spans []span, breaks []float64, between int, whole bool) []float64 {
	slices.Sort(breaks)
	breaks = slices.Compact(breaks)
	var out []float64
	for i := 0; i <= len(breaks); i++ {
		for _, s := range spans {
			if i < len(breaks) && s.low <= breaks[i] && breaks[i] <= s.high {
				out = append(out, breaks[i])
				break
			}
		}
		for _, s := range spans {
			if i > 0 {
				s.low = max(s.low, breaks[i-1])
			}
			if i < len(breaks) {
				s.high = min(s.high, breaks[i])
			}
			if some := inside(s, breaks, between, whole); len(some) > 0 {
				out = append(out, some...)
				break
			}
		}
	}
	return out
}

// inside picks up to n numbers of a span that are no breaks.
func inside(s span, breaks []float64, n int, whole bool) []float64 {
	var out []float64
	add := func(x float64) {
		if len(out) < n && s.low <= x && x <= s.high && !slices.Contains(breaks, x) && !slices.Contains(out, x) {
			out = append(out, x)
		}
	}
	for i := 1; i <= n; i++ {
		if !whole {
			add(s.low + (s.high-s.low)*float64(i)/float64(n+1))
		}
	}
	for i := 0; i <= n; i++ {
		add(s.low + float64(i))
	}
	return out
}

// number gives the number that a value is.
func number(x ref.Val) float64 {
	switch v := x.(type) {
	case types.Double:
		return float64(v)
	case types.Int:
		return float64(v)
	}
	return 0
}
