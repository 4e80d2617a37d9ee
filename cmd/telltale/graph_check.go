package main

import (
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/rules/reason"
)

const aboutGraphCheck = `Checks the knowledge against what is documented to have gone wrong: each confusion
that a case report, a poison centre or an agency tells of, with the constant
differences of the two plants at the stage it happened. Fewer than two between a
gathered herb and a poison is an error, unless the herb's study says why
(too_close) and when the two can be told apart. The rules' own tests are run too.

With data of your own, only the confusions of plants that these add or change are
checked, unless --all asks for all. Links from memory or from a flora document
no confusion: telltale study check tells of those.`

func newGraphCheck() *cobra.Command {
	f := textFormat
	var all bool
	cmd := &cobra.Command{
		Use:   "check",
		Short: "Check the knowledge against documented confusions",
		Long:  aboutGraphCheck,
		Args:  cobra.NoArgs,
	}
	cmd.Flags().Var(&f, "format", "text or json")
	cmd.Flags().BoolVar(&all, "all", false, "with data of your own, the confusions that they do not touch too")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		r, err := newReasoner(cmd)
		if err != nil {
			return err
		}
		k := r.Matrix.Knowledge
		found := render.Confused{Confusions: reason.Confusions(r.Matrix)}
		if touched := touchedBy(k.Corrections); touched != nil && !all {
			whole := len(found.Confusions)
			found.Confusions = slices.DeleteFunc(found.Confusions, func(c reason.Confusion) bool { return !touched(c.One) && !touched(c.Other) })
			found.LeftOut = whole - len(found.Confusions)
		}
		tests := testRules(r, "")
		found.Tests, found.Failed = tests.run, tests.failed
		if f == jsonFormat {
			err = render.JSON(cmd.OutOrStdout(), render.ConfusionsJSON(&found))
		} else {
			err = render.Confusions(render.To(cmd.OutOrStdout()), k, &found)
		}
		if err != nil {
			return err
		}
		if bad := found.Bad(); bad > 0 || len(found.Failed) > 0 {
			return fmt.Errorf("%s not parted, %s of rules failed", counted(bad, "confusion"), counted(len(found.Failed), "test"))
		}
		return nil
	}
	return cmd
}

// touchedBy tells of plants whether own data added or changed what is known of
// them. It is nil where nothing was laid over, or something that bears on every
// plant was.
func touchedBy(list []graph.Correction) func(taxon string) bool {
	if len(list) == 0 {
		return nil
	}
	plants := map[string]bool{}
	for _, c := range list {
		switch {
		case c.Kind == "taxon" || c.Kind == "study":
			plants[c.Of] = true
		case c.Kind == "trait" && !c.Adds():
			return nil
		}
	}
	return func(taxon string) bool { return plants[taxon] }
}

// tested is how the tests that stand beside the rules came out.
type tested struct {
	run    int
	failed []string
}

// testRules runs the tests of the rules about a plant, or of all rules where none
// is named.
func testRules(r *reason.Reasoner, taxon string) tested {
	var out tested
	for _, rule := range r.Rules.Rules {
		if taxon != "" && rule.For != taxon {
			continue
		}
		for _, t := range rule.RunTests() {
			out.run++
			if !t.Passed {
				out.failed = append(out.failed, fmt.Sprintf("%s: rule %s: %s", t.Test.Place, rule.ID, t.Why))
			}
		}
	}
	return out
}
