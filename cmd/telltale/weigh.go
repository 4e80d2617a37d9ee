package main

import (
	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
)

func newWeigh() *cobra.Command {
	var s seen
	var limit int
	f := textFormat
	cmd := &cobra.Command{
		Use:   "weigh READING...",
		Short: "What could this plant be, and what to look at next",
		Example: `  telltale weigh --stage rosette leaf.composition=tripinnate plant.clothing_hairs=hairless
  telltale weigh --stage flowering leaf.arrangement=opposite 'stem.surface!=stinging' 'plant.odour_crushed=minty?'
  telltale weigh --file observation.yaml --format json`,
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := newReasoner(cmd)
			if err != nil {
				return err
			}
			obs, err := s.observation(cmd, r.Matrix.Knowledge.Vocabulary, args)
			if err != nil {
				return err
			}
			answer, err := r.Weigh(obs)
			if err != nil {
				return err
			}
			if f == jsonFormat {
				return render.JSON(cmd.OutOrStdout(), render.WeighJSON(r.Matrix.Knowledge, answer, limit))
			}
			return render.Weigh(render.To(cmd.OutOrStdout()), r.Matrix.Knowledge, &obs, answer, limit)
		},
	}
	s.flags(cmd)
	cmd.Flags().IntVar(&limit, "limit", 0, "show this many candidates at the most (text shows 5 unless told)")
	cmd.Flags().Var(&f, "format", "text or json")
	return cmd
}
