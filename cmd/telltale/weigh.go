package main

import (
	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/rules/reason"
)

const aboutWeigh = `Weighs what you saw of one plant and says what it most likely is, which
poisonous plants are not ruled out, what to look at next, and why.

The share of a plant is how well it fits beside all others. A poisonous plant is
ruled out only when two kinds of evidence that you are sure of exclude it,
however small its share; any other plant when one does.`

func newWeigh() *cobra.Command {
	var s seen
	var most limit
	f := textFormat
	cmd := &cobra.Command{
		Use:   "weigh READING...",
		Short: "What this plant could be, and what to look at next",
		Long:  aboutWeigh,
		Example: `  telltale weigh --stage rosette leaf.composition=tripinnate plant.clothing_hairs=hairless
  telltale weigh --stage flowering leaf.arrangement=opposite 'stem.surface!=stinging' 'plant.odour_crushed=minty?'
  telltale weigh --file observation.yaml --format json`,
		ValidArgsFunction: completeReadings,
		RunE: func(cmd *cobra.Command, args []string) error {
			k, err := openKnowledge(cmd)
			if err != nil {
				return err
			}
			obs, err := s.observation(cmd, k.Vocabulary, args)
			if err != nil {
				return err
			}
			r, err := reason.New(k)
			if err != nil {
				return err
			}
			answer, err := r.Weigh(obs)
			if err != nil {
				return err
			}
			if f == jsonFormat {
				return render.JSON(cmd.OutOrStdout(), render.WeighJSON(k, &obs, answer, int(most)))
			}
			return render.Weigh(render.To(cmd.OutOrStdout()), k, &obs, answer, int(most))
		},
	}
	s.flags(cmd)
	cmd.Flags().Var(&most, "limit", "show this many candidates at the most (text shows 5 unless told, JSON all)")
	cmd.Flags().Var(&f, "format", "how to write the answer")
	completeFlags(cmd)
	return cmd
}
