package render

import (
	"fmt"
	"maps"
	"slices"

	"telltale/rules/reason"
)

// Score writes how the answers fared.
func Score(p *Page, s *reason.Score) error {
	p.say(fmt.Sprintf("%d %s known here", s.Known, plural(s.Known, "plant", "plants")))
	p.item("", 2, "the true plant first: "+outOf(s.First, s.Known))
	p.item("", 2, "among the first three: "+outOf(s.AmongThree, s.Known))
	p.item("", 2, "ruled out: "+outOf(s.TrueOut, s.Known))
	for _, kind := range slices.Sorted(maps.Keys(s.Kinds)) {
		if k := s.Kinds[kind]; k.Known > 0 {
			p.item("", 2, fmt.Sprintf("%s ones: first %s, among three %s", kind, outOf(k.First, k.Known), outOf(k.AmongThree, k.Known)))
		}
	}
	p.say(fmt.Sprintf("%d %s", s.Strangers, plural(s.Strangers, "stranger", "strangers")))
	p.item("", 2, "called so, or nothing left open: "+outOf(s.CalledSo, s.Strangers))
	p.say("Herbs that might be gathered")
	p.item("", 2, fmt.Sprintf("rightly: %d; wrongly: %d", s.Gathered, s.Cleared))
	if len(s.Misses) > 0 {
		p.heading("What went wrong")
	}
	for _, m := range s.Misses {
		p.item("  -", 4, m.ID+", "+m.Truth+", "+m.What)
	}
	return p.err
}

func outOf(n, of int) string {
	if of == 0 {
		return "none to tell"
	}
	return fmt.Sprintf("%d of %d (%.1f %%)", n, of, 100*float64(n)/float64(of))
}

// ScoreDoc is what `score --format json` writes.
type ScoreDoc struct {
	Known          int                 `json:"known"`
	First          int                 `json:"first"`
	AmongThree     int                 `json:"among_three"`
	RuledOut       int                 `json:"ruled_out"`
	Strangers      int                 `json:"strangers"`
	CalledSo       int                 `json:"called_so"`
	ClearedRightly int                 `json:"cleared_rightly"`
	ClearedWrongly int                 `json:"cleared_wrongly"`
	Misses         []MissDoc           `json:"misses"`
	Kinds          map[string]ScoreDoc `json:"kinds,omitempty"`
}

// MissDoc is one description that went wrong, and how.
type MissDoc struct {
	ID    string `json:"id"`
	Truth string `json:"truth"`
	What  string `json:"what"`
}

// ScoreJSON puts a score into its document.
func ScoreJSON(s *reason.Score) ScoreDoc {
	doc := ScoreDoc{
		Known: s.Known, First: s.First, AmongThree: s.AmongThree, RuledOut: s.TrueOut, Strangers: s.Strangers, CalledSo: s.CalledSo,
		ClearedRightly: s.Gathered, ClearedWrongly: s.Cleared, Misses: []MissDoc{},
	}
	for _, m := range s.Misses {
		doc.Misses = append(doc.Misses, MissDoc{ID: m.ID, Truth: m.Truth, What: m.What})
	}
	for name, k := range s.Kinds {
		if doc.Kinds == nil {
			doc.Kinds = map[string]ScoreDoc{}
		}
		doc.Kinds[name] = ScoreJSON(k)
	}
	return doc
}
