package main

import (
	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph/query"
)

func newGraphSchema() *cobra.Command {
	f := textFormat
	cmd := &cobra.Command{
		Use:   "schema",
		Short: "What the graph is made of, for whoever writes a query",
		Long: `Lists the kinds of node, the arrows that lead from each and to what, and the
examples that come with the program (telltale graph query --example NAME).`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if f == jsonFormat {
				return render.JSON(cmd.OutOrStdout(), render.SchemaJSON(query.Nodes(), query.Arrows(), query.Examples()))
			}
			return render.Schema(render.To(cmd.OutOrStdout()), query.Nodes(), query.Arrows(), query.Examples())
		},
	}
	cmd.Flags().Var(&f, "format", "text or json")
	complete(cmd, map[string][]string{"format": formats()})
	return cmd
}
