package main

import (
	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
)

func newMayGather() *cobra.Command {
	var s seen
	f := textFormat
	cmd := &cobra.Command{
		Use:   "may-gather TAXON READING...",
		Short: "Leave it, not yet, or gather, and why",
		Example: `  telltale may-gather allium-ursinum --stage leafy_shoot --part leaf plant.odour_crushed=onion_garlic
  telltale may-gather "wild carrot" --file observation.yaml --format json`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := newReasoner(cmd)
			if err != nil {
				return err
			}
			taxon, err := r.Matrix.Knowledge.FindTaxon(args[0])
			if err != nil {
				return err
			}
			obs, err := s.observation(cmd, r.Matrix.Knowledge.Vocabulary, args[1:])
			if err != nil {
				return err
			}
			verdict, err := r.MayGather(taxon, obs)
			if err != nil {
				return err
			}
			if f == jsonFormat {
				return render.JSON(cmd.OutOrStdout(), render.VerdictJSON(r.Matrix.Knowledge, verdict))
			}
			return render.Verdict(render.To(cmd.OutOrStdout()), r.Matrix.Knowledge, verdict)
		},
	}
	s.flags(cmd)
	cmd.Flags().Var(&f, "format", "text or json")
	return cmd
}
