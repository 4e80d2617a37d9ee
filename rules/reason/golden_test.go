package reason

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"telltale/graph"
)

var update = flag.Bool("update", false, "write the golden files anew")

// What parts each herb from the poisonous plants it is taken for, at each stage at
// which it is gathered: how many evidence groups differ constantly, and which.
// Where it is fewer than the two that it takes, the stages that have two. The
// table is reviewed line by line when the data change: a pair that loses a group
// loses some of its safety.
func TestWhatPartsHerbsFromPoisons(t *testing.T) {
	r := reasonerShipped(t)
	var out strings.Builder
	var at, parted int
	for _, p := range poisonousPairs(r) {
		fmt.Fprintf(&out, "%s / %s (%s)\n", p.herb.ID, p.poison.ID, p.poison.Severity())
		for _, stage := range gatheredAt(p.study, "").List() {
			groups := ConstantGroups(r.Matrix, r.Matrix.TaxonIndex(p.herb.ID), r.Matrix.TaxonIndex(p.poison.ID), stage)
			at++
			fmt.Fprintf(&out, "  %-11s %d", stage, len(groups))
			if len(groups) > 0 {
				fmt.Fprintf(&out, "  %s", strings.Join(groups, ", "))
			}
			if len(groups) < groupsToRuleOut(true) {
				fmt.Fprintf(&out, "; %s", toldApartAt(r, p))
			} else {
				parted++
			}
			out.WriteByte('\n')
		}
	}
	fmt.Fprintf(&out, "\n%d of %d pairs at their stages of gathering differ constantly in two evidence groups or more\n", parted, at)
	golden(t, "poisonous-lookalikes.golden", out.String())
}

// toldApartAt lists the stages at which a pair differs constantly in two evidence
// groups.
func toldApartAt(r *Reasoner, p pair) string {
	var stages graph.StageSet
	for _, stage := range graph.Stages() {
		if len(ConstantGroups(r.Matrix, r.Matrix.TaxonIndex(p.herb.ID), r.Matrix.TaxonIndex(p.poison.ID), stage)) >= groupsToRuleOut(true) {
			stages |= graph.StagesOf(stage)
		}
	}
	if stages == 0 {
		return "no stage has two constant differences"
	}
	return "can be told apart at " + strings.Join(stages.Names(), ", ")
}

// golden compares what came out with the file of that name under testdata, or
// writes the file.
func golden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v: go test -update writes it", err)
	}
	if d := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); d != "" {
		t.Errorf("%s differs (-was +is); look at each line before go test -update:\n%s", file, d)
	}
}
