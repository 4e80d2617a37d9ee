package render

import (
	"fmt"
	"maps"
	"slices"

	"telltale/rules/reason"
)

// Score writes how the answers fared.
func Score(p *Page, s *reason.Score) error {
	p.line("Plants the graph knows: %d", s.Known)
	p.at(2, "the true plant first: %s", part(s.First, s.Known))
	p.at(2, "among three:          %s", part(s.AmongThree, s.Known))
	p.at(2, "ruled out:            %s", part(s.TrueOut, s.Known))
	p.line("Strangers: %d", s.Strangers)
	p.at(2, "called so, or nothing left open: %s", part(s.CalledSo, s.Strangers))
	p.line("Herbs cleared rightly: %d, wrongly: %d", s.Gathered, s.Cleared)
	for _, kind := range slices.Sorted(maps.Keys(s.Kinds)) {
		if k := s.Kinds[kind]; k.Known > 0 {
			p.line("Of the %s ones: first %s, among three %s", kind, part(k.First, k.Known), part(k.AmongThree, k.Known))
		}
	}
	for _, m := range s.Misses {
		p.hanging(2, 4, "%s %s %s", m.ID, m.Truth, m.What)
	}
	return p.err
}

func part(n, of int) string {
	if of == 0 {
		return "none to tell"
	}
	return fmt.Sprintf("%d of %d (%.1f %%)", n, of, 100*float64(n)/float64(of))
}
