package render_test

import (
	"bytes"
	"strings"
	"testing"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/graph/author"
	"telltale/rules/reason"
)

// spelt gives what a page says, its lines joined to sentences.
func spelt(t *testing.T, columns int, write func(*render.Page) error) (text, joined string) {
	t.Helper()
	var out bytes.Buffer
	if err := write(render.Wide(&out, columns)); err != nil {
		t.Fatal(err)
	}
	return out.String(), strings.Join(strings.Fields(out.String()), " ")
}

func TestGapsSayWhatToScoreOnWhichPlant(t *testing.T) {
	k := worts(t).Matrix.Knowledge
	herb, _ := k.Taxon("good-wort")
	for _, tt := range []struct {
		shows string
		gap   reason.Gap
		want  string
	}{
		{
			"a poison that a trait more would rule out", reason.Gap{Kind: reason.GapUnsafe, Stage: graph.Flowering, Taxon: "bad-wort", Poison: true, Have: []string{"hairs"}, Need: 2, Traits: []string{"leaf.margin"}, Buys: true},
			"- At the stage flowering: the poisonous bad wort (Bad wort) is not ruled out by a typical plant: 1 kind of evidence excludes it (hairs), and it takes 2. Scoring bad wort firmly on these could be enough: leaf.margin.",
		},
		{
			"one on which the herb is not scored", reason.Gap{Kind: reason.GapUnsafe, Stage: graph.Flowering, Taxon: "bad-wort", Poison: true, Need: 2, Herb: []string{"flower.colour"}},
			"- At the stage flowering: the poisonous bad wort (Bad wort) is not ruled out by a typical plant: no kind of evidence excludes it, and it takes 2. Scoring good wort on these could too: flower.colour.",
		},
		{
			"a harmless lookalike that nothing would part", reason.Gap{Kind: reason.GapUnsafe, Taxon: "dull-wort", Need: 1},
			"- The lookalike dull wort (Dull wort) is not ruled out by a typical plant: no kind of evidence excludes it, and it takes 1. Both are scored on all there is to see: they cannot be parted at this stage by what is known.",
		},
		{
			"a pair too close", reason.Gap{Kind: reason.GapPair, Stage: graph.Rosette, Taxon: "bad-wort", Have: []string{"odour"}, Need: 2, Traits: []string{"stem.surface"}},
			"- At the stage rosette: only 1 constant difference from bad wort (Bad wort) (odour), and a poisonous lookalike takes two. Scoring bad wort firmly on these would help: stem.surface.",
		},
		{
			"a pair of which one is scored", reason.Gap{Kind: reason.GapOneSided, Taxon: "good-wort", Beside: "dull-wort", Traits: []string{"leaf.tip"}},
			"- Good wort (Good wort) is not scored on what dull wort is scored on: leaf.tip.",
		},
		{"what is from memory", reason.Gap{Kind: reason.GapMemory, Taxon: "good-wort", Traits: []string{"leaf.tip"}}, "- From memory only, of good wort: leaf.tip."},
		{"anything else, in a sentence", reason.Gap{Kind: reason.GapNotStated, Text: "nobody has worked this herb up"}, "- Nobody has worked this herb up."},
	} {
		t.Run(tt.shows, func(t *testing.T) {
			_, joined := spelt(t, 80, func(p *render.Page) error {
				return render.Gaps(p, k, &render.Checked{Herb: herb, Gaps: []reason.Gap{tt.gap}}, false)
			})
			want := "What is missing for good wort (Good wort), the worst first: " + tt.want
			if joined != want {
				t.Errorf("said\n%s\nwant\n%s", joined, want)
			}
		})
	}
}

func TestCheckedTellsTheWorstFirst(t *testing.T) {
	k := worts(t).Matrix.Knowledge
	herb, _ := k.Taxon("good-wort")
	c := &render.Checked{
		Herb: herb, Failed: []string{"mine/rules/a.yaml:3:4: rule a: expected that it fires"},
		Begun: true, Offers: []author.Mark{{Trait: "leaf.margin", States: []string{"serrate"}, Parts: []string{"bad-wort", "dull-wort"}}},
	}
	for range 14 {
		c.Gaps = append(c.Gaps, reason.Gap{Kind: reason.GapMemory, Traits: []string{"leaf.tip"}})
	}
	_, joined := spelt(t, 80, func(p *render.Page) error { return render.Gaps(p, k, c, false) })
	at := -1
	for _, words := range []string{"1 test of rules about good wort fails: x mine/rules/a.yaml:3:4", "leaf.margin is serrate: parts it from bad wort and dull wort", "What is missing", "and 2 more, which --all shows"} {
		i := strings.Index(joined, words)
		if i <= at {
			t.Errorf("%q is not said in its place: %s", words, joined)
		}
		at = i
	}
	if _, all := spelt(t, 80, func(p *render.Page) error { return render.Gaps(p, k, c, true) }); strings.Contains(all, "more") {
		t.Error("--all leaves something out")
	}
	if _, unparted := spelt(t, 80, func(p *render.Page) error {
		return render.Gaps(p, k, &render.Checked{Herb: herb, Begun: true, Gaps: c.Gaps[:1]}, false)
	}); !strings.HasPrefix(unparted, "No study says yet what is gathered of good wort when, so it is never cleared. No trait parts it from a lookalike for certain yet") {
		t.Error(unparted)
	}
	if _, none := spelt(t, 80, func(p *render.Page) error { return render.Gaps(p, k, &render.Checked{Herb: herb}, false) }); none != "Nothing is missing for good wort (Good wort)." {
		t.Error(none)
	}
}

func TestConfusionsTellWhatIsWrongFirst(t *testing.T) {
	k := worts(t).Matrix.Knowledge
	fine := reason.Confusion{One: "dull-wort", Other: "good-wort", Stage: graph.Rosette, Groups: []string{"odour", "hairs"}}
	wrong := reason.Confusion{One: "bad-wort", Other: "good-wort", Stage: graph.Flowering, Study: "good-wort", Poison: true}
	excused := wrong
	excused.Excused = &graph.TooClose{Because: "both are green", Parted: "wait for the flower"}
	found := &render.Confused{Confusions: []reason.Confusion{fine, wrong, excused}, LeftOut: 7, Tests: 3, Failed: []string{"a.yaml:1:2: rule a: no"}}
	_, joined := spelt(t, 80, func(p *render.Page) error { return render.Confusions(p, k, found) })
	want := "3 documented confusions, 1 of them not parted. 7 more, of plants that your own data do not touch, are left out; --all has them. 3 tests of rules, 1 of them failed." +
		" x a.yaml:1:2: rule a: no" +
		" x bad wort and good wort, flowering: 0 constant differences" +
		" - dull wort and good wort, rosette: 2 constant differences (odour, hairs)" +
		" - bad wort and good wort, flowering: 0 constant differences. Too close: Both are green. Told apart: Wait for the flower."
	if joined != want {
		t.Errorf("said\n%s\nwant\n%s", joined, want)
	}
	if doc := render.ConfusionsJSON(found); doc.LeftOut != 7 || doc.Tests != 3 || len(doc.Confusions) != 3 || len(doc.Failed) != 1 {
		t.Errorf("%+v", doc)
	}
}

func TestLaidOutSaysWhatToMind(t *testing.T) {
	k := worts(t).Matrix.Knowledge
	good, _ := k.Taxon("good-wort")
	far, _ := k.Taxon("far-oak")
	fresh := &graph.Taxon{ID: "good-wert", Name: "Good wert"}
	l := &author.Layout{Dir: "my herbs", Herb: fresh, New: []*graph.Taxon{fresh}, Knowledge: k}
	done := &author.LaidOut{Written: []string{"sources.yaml", "schema/taxon.schema.json"}, Left: []string{"taxa/good-wert.yaml"}, Unlinked: []*graph.Taxon{far}}
	_, joined := spelt(t, 80, func(p *render.Page) error {
		return render.LaidOut(p, l, done, map[*graph.Taxon]*graph.Taxon{fresh: good})
	})
	for _, words := range []string{
		"Laid out in my herbs for Good wert: + sources.yaml + schema (with which an editor", "= taxa/good-wert.yaml (was there, left as it is)",
		"Good wert is new here, and good wort (Good wort) is known. If you meant that one, take taxa/good-wert.yaml away again.",
		"taxa/good-wert.yaml was there, so far oak (Far oak) is not linked yet. Under lookalikes: in that file put - {taxon: far-oak, evidence: memory, from: [memory]}",
		"telltale study check good-wert --data 'my herbs'",
	} {
		if !strings.Contains(joined, words) {
			t.Errorf("it does not say %q: %s", words, joined)
		}
	}
	for _, columns := range []int{80, 40} {
		text, _ := spelt(t, columns, func(p *render.Page) error { return render.LaidOut(p, l, done, nil) })
		for line := range strings.SplitSeq(text, "\n") {
			if len(line) > columns && len(strings.Fields(line)) > 1 {
				t.Errorf("wider than %d: %q", columns, line)
			}
		}
	}
}
