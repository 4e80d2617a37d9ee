package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph/files"
	"telltale/rules/reason"
)

const aboutScore = `Reads a JSON list of descriptions, each with id, truth (the taxon), kind, stage
and traits, and tells how often the true plant comes first and among three, how
often it is ruled out, whether strangers are called strangers, and whether any
herb is cleared though the plant was another. The exit status is 1 if one is.`

func newScore() *cobra.Command {
	f := textFormat
	cmd := &cobra.Command{
		Use:     "score FILE",
		Short:   "Try the answers on descriptions of plants whose names are known",
		Long:    aboutScore,
		Example: "  telltale score testdata/descriptions.json",
		Args:    needs("a file of descriptions"),
		RunE: func(cmd *cobra.Command, args []string) error {
			r, err := newReasoner(cmd)
			if err != nil {
				return err
			}
			described, err := readDescribed(r, args[0])
			if err != nil {
				return err
			}
			score, err := r.Score(described)
			if err != nil {
				return err
			}
			if f == jsonFormat {
				err = render.JSON(cmd.OutOrStdout(), render.ScoreJSON(score))
			} else {
				err = render.Score(render.To(cmd.OutOrStdout()), score)
			}
			if err == nil && score.Cleared > 0 {
				err = fmt.Errorf("herbs cleared though the plant was another: %d", score.Cleared)
			}
			return err
		},
	}
	cmd.Flags().Var(&f, "format", "how to write the score")
	completeFlags(cmd)
	return cmd
}

func readDescribed(r *reason.Reasoner, name string) ([]reason.Described, error) {
	file, err := openFile("descriptions", name)
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }()
	list, err := files.ReadDescribed(r.Matrix.Knowledge.Vocabulary, name, file)
	if err != nil {
		return nil, err
	}
	var out []reason.Described
	for _, d := range list {
		out = append(out, reason.Described{ID: d.ID, Truth: d.Truth, Kind: d.Kind, Observation: d.Observation})
	}
	return out, nil
}
