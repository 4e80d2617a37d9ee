package graph_test

import (
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// The plants are made up, but for the ways in which names go wrong.
func named() *graph.Knowledge {
	k := graphtest.Knowledge(
		graphtest.States("leaf.margin", "entire serrate"),
		graphtest.Plant("herba-bona", "looks like herba-mala at rosette", "looks like ursa-ignota"),
		graphtest.Plant("herba-mala", "deadly"),
		graphtest.Plant("ursa-ignota", "looks like herba-bona at flowering"),
		graphtest.Plant("capsa-bursa-pastoris"),
	)
	names := map[string]graph.Taxon{
		"herba-bona":           {Name: "Herba bona", Common: []string{"good herb", "Queen Anne's lace"}, Synonyms: []string{"Bona herba", "Herba optima var. major"}},
		"herba-mala":           {Name: "Herba mala", Common: []string{"bad herb", "bear's root"}},
		"ursa-ignota":          {Name: "Ursa × ignota", Common: []string{"bear's root"}, Synonyms: []string{"Bona herba"}},
		"capsa-bursa-pastoris": {Name: "Capsa bursa-pastoris", Common: []string{"écuelle"}},
	}
	for id, n := range names {
		t, _ := k.Taxon(id)
		t.Name, t.Common, t.Synonyms = n.Name, n.Common, n.Synonyms
	}
	k.Index()
	return k
}

func TestFindTaxonByAnyOfItsNames(t *testing.T) {
	k := named()
	for name, want := range map[string]string{
		"herba-bona": "herba-bona", "HERBA-BONA": "herba-bona", "Herba bona": "herba-bona", " herba  bona ": "herba-bona", "Herba_bona": "herba-bona",
		"Good Herb": "herba-bona", "good-herb": "herba-bona", "queen anne's lace": "herba-bona", "Queen Anne’s lace": "herba-bona",
		"Herba optima var. major": "herba-bona", "Capsa bursa-pastoris": "capsa-bursa-pastoris", "Écuelle": "capsa-bursa-pastoris",
		"Ursa × ignota": "ursa-ignota", "Ursa x ignota": "ursa-ignota", "Ursa ×ignota": "ursa-ignota", "ursa ignota": "ursa-ignota",
	} {
		got, err := k.FindTaxon(name)
		if err != nil {
			t.Error(err)
		} else if got.ID != want {
			t.Errorf("%q is %s, want %s", name, got.ID, want)
		}
	}
	for name, want := range map[string]string{
		"bear's root": `taxon "bear's root": "bear's root" is a name of herba-mala and ursa-ignota: write which`,
		"Bona herba":  `taxon "Bona herba": "Bona herba" is a name of herba-bona and ursa-ignota: write which`,
		"Herba bon":   `taxon "Herba bon": there is no plant "Herba bon"; the nearest is "Herba bona"`,
		"goood herb":  `taxon "goood herb": there is no plant "goood herb"; the nearest is "good herb"`,
		"oak":         `taxon "oak": there is no plant "oak"`,
		"":            `taxon "": there is no plant ""`,
		" - ":         `taxon " - ": there is no plant " - "`,
	} {
		if got, err := k.FindTaxon(name); err == nil || err.Error() != want {
			t.Errorf("%q is %v: %v\nwant %s", name, got, err, want)
		}
	}
}

func TestLookalikeLinksHoldBothWays(t *testing.T) {
	k := named()
	for id, want := range map[string][]string{
		"herba-bona": {"herba-mala by herba-bona at rosette", "ursa-ignota by herba-bona at any", "ursa-ignota by ursa-ignota at flowering"},
		"herba-mala": {"herba-bona by herba-bona at rosette"}, "capsa-bursa-pastoris": nil,
	} {
		var got []string
		for _, l := range k.LinksOf(id) {
			got = append(got, l.Other+" by "+l.StatedBy+" at "+l.Lookalike.Stages.Only().String())
		}
		if len(got) != len(want) {
			t.Errorf("%s: %v", id, got)
			continue
		}
		for i := range want {
			if got[i] != want[i] {
				t.Errorf("%s: %s, want %s", id, got[i], want[i])
			}
		}
	}
}
