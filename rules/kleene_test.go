package rules

import (
	"fmt"
	"testing"

	"telltale/graph"
)

// The strong tables of Kleene, Introduction to Metamathematics (1952), section
// 64, with fires for true, quiet for false and waits for undefined.
var (
	three = []string{graph.Fires, graph.Quiet, graph.Waits}

	kleeneAnd = map[[2]string]string{
		{graph.Fires, graph.Fires}: graph.Fires, {graph.Fires, graph.Quiet}: graph.Quiet, {graph.Fires, graph.Waits}: graph.Waits,
		{graph.Quiet, graph.Fires}: graph.Quiet, {graph.Quiet, graph.Quiet}: graph.Quiet, {graph.Quiet, graph.Waits}: graph.Quiet,
		{graph.Waits, graph.Fires}: graph.Waits, {graph.Waits, graph.Quiet}: graph.Quiet, {graph.Waits, graph.Waits}: graph.Waits,
	}
	kleeneOr = map[[2]string]string{
		{graph.Fires, graph.Fires}: graph.Fires, {graph.Fires, graph.Quiet}: graph.Fires, {graph.Fires, graph.Waits}: graph.Fires,
		{graph.Quiet, graph.Fires}: graph.Fires, {graph.Quiet, graph.Quiet}: graph.Quiet, {graph.Quiet, graph.Waits}: graph.Waits,
		{graph.Waits, graph.Fires}: graph.Fires, {graph.Waits, graph.Quiet}: graph.Waits, {graph.Waits, graph.Waits}: graph.Waits,
	}
	kleeneNot = map[string]string{graph.Fires: graph.Quiet, graph.Quiet: graph.Fires, graph.Waits: graph.Waits}
)

// The readings under which stem.surface == "hairless", and the same of another
// trait, comes to each of the three: a part waits unread, unsure, or read as one
// of several states.
func readingsFor(trait, is, isNot string) map[string][]string {
	return map[string][]string{
		graph.Fires: {trait + "=" + is},
		graph.Quiet: {trait + "=" + isNot, trait + "!=" + is},
		graph.Waits: {"", trait + "=" + is + "?", trait + "=" + isNot + "?", trait + "=" + is + "|" + isNot},
	}
}

var (
	left  = readingsFor("stem.surface", "hairless", "woolly")
	right = readingsFor("leaf.margin", "serrate", "entire")
)

func TestPartsAreJoinedByTheTablesOfKleene(t *testing.T) {
	f := newField(t)
	for sign, table := range map[string]map[[2]string]string{"&&": kleeneAnd, "||": kleeneOr} {
		r := f.rule(graph.Note, `stem.surface == "hairless" `+sign+` leaf.margin == "serrate"`)
		for parts, want := range table {
			for _, a := range left[parts[0]] {
				for _, b := range right[parts[1]] {
					if got := f.try(r, a+" "+b); got.Outcome != want {
						t.Errorf("%s %s %s is %s in Kleene's table, and the rule %s on %q", parts[0], sign, parts[1], want, got.Outcome, a+" "+b)
					}
				}
			}
		}
	}
	r := f.rule(graph.Note, `!(stem.surface == "hairless")`)
	for part, want := range kleeneNot {
		for _, a := range left[part] {
			if got := f.try(r, a); got.Outcome != want {
				t.Errorf("! %s is %s in Kleene's table, and the rule %s on %q", part, want, got.Outcome, a)
			}
		}
	}
}

// The tables hold of parts that are written in any way a rule can be: here each
// part is a question, a measure, or joined itself.
func TestTheTablesHoldOfPartsOfEverySort(t *testing.T) {
	f := newField(t)
	sorts := []struct {
		part string
		seen map[string]string
	}{
		{`hoped_for("carrot")`, map[string]string{graph.Fires: "hoped_for=carrot", graph.Quiet: "hoped_for=hemlock", graph.Waits: ""}},
		{`leaf.length > 5`, map[string]string{graph.Fires: "leaf.length=6cm", graph.Quiet: "leaf.length=5cm", graph.Waits: "leaf.length=4-6cm"}},
		{`leaf.length > 2 && leaf.length < 5`, map[string]string{graph.Fires: "leaf.length=3cm", graph.Quiet: "leaf.length=5cm", graph.Waits: "leaf.length=1-6cm"}},
		{`flower.petals in [4, 5]`, map[string]string{graph.Fires: "flower.petals=4-5", graph.Quiet: "flower.petals=6-8", graph.Waits: "flower.petals=5-6"}},
		{`stage == "rosette"`, map[string]string{graph.Fires: "stage=rosette", graph.Quiet: "stage=flowering", graph.Waits: ""}},
		{`part != "root"`, map[string]string{graph.Fires: "part=leaf", graph.Quiet: "part=root", graph.Waits: ""}},
		{`month >= 5`, map[string]string{graph.Fires: "month=5", graph.Quiet: "month=4", graph.Waits: ""}},
	}
	for _, a := range sorts {
		for _, x := range three {
			for y, readings := range right {
				for sign, table := range map[string]map[[2]string]string{"&&": kleeneAnd, "||": kleeneOr} {
					when := fmt.Sprintf(`leaf.margin == "serrate" %s (%s)`, sign, a.part)
					if got := f.try(f.rule(graph.Note, when), a.seen[x]+" "+readings[0]); got.Outcome != table[[2]string{y, x}] {
						t.Errorf("%s: %s %s %s should be %s, and it %s", when, y, sign, x, table[[2]string{y, x}], got.Outcome)
					}
				}
			}
		}
	}
}

// Of a conditional the branch that its test picks counts; a test that waits makes
// the whole wait, unless it waits for "one of these" and all of them come to the
// same.
func TestAConditionalComesToTheBranchItsTestPicks(t *testing.T) {
	f := newField(t)
	r := f.rule(graph.Note, `stage == "rosette" ? stem.surface == "hairless" : leaf.margin == "serrate"`)
	for _, test := range []struct{ seen, picks string }{{"stage=rosette", "left"}, {"stage=flowering", "right"}, {"", ""}} {
		for a, as := range left {
			for b, bs := range right {
				want := map[string]string{"left": a, "right": b, "": graph.Waits}[test.picks]
				if got := f.try(r, test.seen+" "+as[0]+" "+bs[0]); got.Outcome != want {
					t.Errorf("test %q, branches that %s and %s: want %s, and it %s", test.seen, a, b, want, got.Outcome)
				}
			}
		}
	}
	r = f.rule(graph.Note, `stem.surface == "hairless" ? leaf.margin == "serrate" : leaf.margin in ["serrate", "entire"]`)
	for seen, want := range map[string]string{
		"stem.surface=hairless|woolly leaf.margin=serrate": graph.Fires,
		"stem.surface=hairless|woolly leaf.margin=crenate": graph.Quiet,
		"stem.surface=hairless|woolly leaf.margin=entire":  graph.Waits,
		"leaf.margin=serrate":                              graph.Waits,
	} {
		if got := f.try(r, seen); got.Outcome != want {
			t.Errorf("%s: want %s, and it %s", seen, want, got.Outcome)
		}
	}
}
