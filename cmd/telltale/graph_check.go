package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/rules/reason"
)

const aboutGraphCheck = `Checks the knowledge against what is documented to have gone wrong: each confusion
that a case report, a poison centre or an agency tells of, with the constant
differences of the two plants at the stage it happened. Fewer than two between a
gathered herb and a poison is an error, unless the herb's study says why
(too_close) and when the two can be told apart. The rules' own tests are run too.`

func newGraphCheck() *cobra.Command {
	f := textFormat
	cmd := &cobra.Command{
		Use:   "check",
		Short: "Check the knowledge against documented confusions",
		Long:  aboutGraphCheck,
		Args:  cobra.NoArgs,
	}
	cmd.Flags().Var(&f, "format", "text or json")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		r, err := newReasoner(cmd)
		if err != nil {
			return err
		}
		list := reason.Confusions(r.Matrix)
		failed := failedTests(r)
		if f == jsonFormat {
			err = render.JSON(cmd.OutOrStdout(), render.ConfusionsJSON(list, failed))
		} else {
			err = render.Confusions(render.To(cmd.OutOrStdout()), r.Matrix.Knowledge, list, failed)
		}
		if err != nil {
			return err
		}
		bad := 0
		for i := range list {
			if list[i].Bad() {
				bad++
			}
		}
		if bad > 0 || len(failed) > 0 {
			return fmt.Errorf("%d documented confusions are not parted, %d tests of rules fail", bad, len(failed))
		}
		return nil
	}
	return cmd
}

// failedTests runs the tests that stand beside the rules.
func failedTests(r *reason.Reasoner) []string {
	var out []string
	for _, rule := range r.Rules.Rules {
		for _, t := range rule.RunTests() {
			if !t.Passed {
				out = append(out, fmt.Sprintf("%s: rule %s: %s", t.Test.Place, rule.ID, t.Why))
			}
		}
	}
	return out
}
