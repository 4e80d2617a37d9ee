package main

import (
	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/rules/reason"
)

const aboutMayGather = `Says of one herb whether it may be gathered from the plant you saw:

  leave    a reading excludes the herb, a rule forbids it, or nobody gathers
           this part at this stage
  not yet  something is still open; it says what to look at
  gather   every check of the herb's study was seen and fits, every poisonous
           lookalike is excluded by two kinds of evidence, every other poison
           and every harmless lookalike by one, and every rule holds

TAXON is an id, a scientific name or a common name.`

func newMayGather() *cobra.Command {
	var s seen
	f := textFormat
	cmd := &cobra.Command{
		Use:   "may-gather TAXON READING...",
		Short: "Leave it, not yet, or gather, and why",
		Long:  aboutMayGather,
		Example: `  telltale may-gather allium-ursinum --stage leafy_shoot --part leaf plant.odour_crushed=onion_garlic
  telltale may-gather "wild carrot" --file observation.yaml --format json`,
		Args:              needs("the plant you hope for, and readings"),
		ValidArgsFunction: completeTaxonThenReadings,
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := openKnowledge(cmd)
			if err != nil {
				return err
			}
			taxon, err := findTaxon(k, args[0])
			if err != nil {
				return err
			}
			obs, err := s.observation(cmd, k.Vocabulary, args[1:])
			if err != nil {
				return err
			}
			r, err := reason.New(k)
			if err != nil {
				return err
			}
			verdict, err := r.MayGather(taxon, obs)
			if err != nil {
				return err
			}
			if f == jsonFormat {
				return render.JSON(cmd.OutOrStdout(), render.VerdictJSON(k, &obs, verdict))
			}
			return render.Verdict(render.To(cmd.OutOrStdout()), k, &obs, verdict)
		},
	}
	s.flags(cmd)
	cmd.Flags().Var(&f, "format", "how to write the verdict")
	completeFlags(cmd)
	return cmd
}
