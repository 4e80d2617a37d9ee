package main

import "github.com/spf13/cobra"

// newGraph holds the commands about the graph itself.
func newGraph() *cobra.Command {
	return group("graph", "The graph itself: ask it, keep it, take it out and bring it in",
		newGraphQuery(), newGraphSchema(), newGraphLoad(), newGraphExport(), newGraphImport(), newGraphCheck())
}
