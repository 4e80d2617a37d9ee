package main

import (
	"strings"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
)

const aboutStudyCheck = `Says what is missing for a herb, the worst first, and what adding it would buy:
plants that a typical plant of the herb cannot rule out at a stage of gathering,
and the traits that would do it; checks and rules that a typical plant fails;
poisonous lookalikes with fewer than two constant differences; traits scored for
one of a pair only; stages with nothing to see; statements from memory; states
that nobody shows.`

func newStudyCheck() *cobra.Command {
	f := textFormat
	var all bool
	cmd := &cobra.Command{
		Use:               "check PLANT",
		Short:             "What is missing for a herb, and what adding it would buy",
		Long:              aboutStudyCheck,
		Example:           `  telltale study check "wild carrot"`,
		Args:              needs("a plant"),
		ValidArgsFunction: completeTaxon,
	}
	cmd.Flags().Var(&f, "format", "text or json")
	cmd.Flags().BoolVar(&all, "all", false, "all gaps, not the worst only")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		r, err := newReasoner(cmd)
		if err != nil {
			return err
		}
		herb, err := findTaxon(r.Matrix.Knowledge, strings.Join(args, " "))
		if err != nil {
			return err
		}
		gaps, err := r.Gaps(herb)
		if err != nil {
			return err
		}
		if f == jsonFormat {
			return render.JSON(cmd.OutOrStdout(), render.GapsJSON(herb, gaps))
		}
		return render.Gaps(render.To(cmd.OutOrStdout()), r.Matrix.Knowledge, herb, gaps, all)
	}
	return cmd
}
