package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/rules/reason"
)

const aboutStudyCheck = `Says what is missing for a herb, the worst first, and what adding it would buy:
plants that a typical plant of the herb cannot rule out at a stage of gathering,
and the traits that would do it; checks and rules that a typical plant fails;
poisonous lookalikes with fewer than two constant differences; traits scored for
one of a pair only; stages with nothing to see; statements from memory; states
that nobody shows.

The tests of the rules about the herb are run; one that fails is an error. For a
study that does not say yet what is gathered when, it offers checks: the traits
that part the herb from most of its lookalikes.`

func newStudyCheck() *cobra.Command {
	f := textFormat
	var all bool
	cmd := &cobra.Command{
		Use:   "check PLANT",
		Short: "What is missing for a herb, and what adding it would buy",
		Long:  aboutStudyCheck,
		Example: `  telltale study check "wild carrot"
  telltale study check rumex-sanguineus --data mine --all`,
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
		found, err := checked(r, herb)
		if err != nil {
			return err
		}
		if f == jsonFormat {
			err = render.JSON(cmd.OutOrStdout(), render.GapsJSON(found))
		} else {
			err = render.Gaps(render.To(cmd.OutOrStdout()), r.Matrix.Knowledge, found, all)
		}
		if err == nil && len(found.Failed) > 0 {
			err = fmt.Errorf("%s of rules about %s failed", counted(len(found.Failed), "test"), herb.CommonName())
		}
		return err
	}
	return cmd
}

func checked(r *reason.Reasoner, herb *graph.Taxon) (*render.Checked, error) {
	k := r.Matrix.Knowledge
	gaps, err := r.Gaps(herb)
	if err != nil {
		return nil, err
	}
	out := &render.Checked{Herb: herb, Gaps: gaps, Failed: testRules(r, herb.ID).failed}
	if study, ok := k.Study(herb.ID); !ok || len(study.Gather) == 0 {
		out.Begun, out.Offers = true, marks(k, herb, nil)
	}
	return out, nil
}
