package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph/files"
	"telltale/rules/reason"
)

func newScore() *cobra.Command {
	f := textFormat
	cmd := &cobra.Command{
		Use:   "score FILE",
		Short: "Try the answers on descriptions of plants whose names are known",
		Long: `Reads a JSON list of descriptions, each with id, truth (the taxon), kind, stage
and traits, and tells how often the true plant comes first and among three, how
often it is ruled out, whether strangers are called strangers, and whether any
herb is cleared though the plant was another. Exits non-zero if one is.`,
		Args: cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := newReasoner(cmd)
			if err != nil {
				return err
			}
			file, err := os.Open(args[0])
			if err != nil {
				return fmt.Errorf("opening the descriptions: %w", err)
			}
			defer func() { _ = file.Close() }()
			list, err := files.ReadDescribed(r.Matrix.Knowledge.Vocabulary, args[0], file)
			if err != nil {
				return err
			}
			var described []reason.Described
			for _, d := range list {
				described = append(described, reason.Described{ID: d.ID, Truth: d.Truth, Kind: d.Kind, Observation: d.Observation})
			}
			score, err := r.Score(described)
			if err != nil {
				return err
			}
			if f == jsonFormat {
				err = render.JSON(cmd.OutOrStdout(), score)
			} else {
				err = render.Score(render.To(cmd.OutOrStdout()), score)
			}
			if err == nil && score.Cleared > 0 {
				err = fmt.Errorf("%d herbs were cleared though the plant was another", score.Cleared)
			}
			return err
		},
	}
	cmd.Flags().Var(&f, "format", "text or json")
	return cmd
}
