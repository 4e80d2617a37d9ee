package main

import (
	"os"

	"github.com/spf13/cobra"

	"telltale/data"
	"telltale/graph"
	"telltale/graph/store"
)

// graphVariable names the graph where --graph does not: a database's address can
// hold a password, which does not belong on a command line.
const graphVariable = "TELLTALE_GRAPH"

func graphFlag(root *cobra.Command) {
	root.PersistentFlags().String("graph", "", "answer from this graph instead of the one that comes with the program: FILE.db or postgres://HOST/DATABASE (also "+graphVariable+")")
}

// graphNamed gives the place of the graph to use, where one is named.
func graphNamed(cmd *cobra.Command) (where string, named bool) {
	if where, err := cmd.Flags().GetString("graph"); err == nil && cmd.Flags().Changed("graph") {
		return where, true
	}
	where = os.Getenv(graphVariable)
	return where, where != ""
}

// openBase opens the graph that is named, or what comes with the program.
func openBase(cmd *cobra.Command) (*graph.Knowledge, error) {
	where, named := graphNamed(cmd)
	if !named {
		return store.Embedded(cmd.Context(), data.Files)
	}
	g, err := openGraph(cmd, where)
	if err != nil {
		return nil, err
	}
	defer func() { _ = g.Close() }()
	return g.Knowledge(cmd.Context())
}

func openGraph(cmd *cobra.Command, where string) (*store.Graph, error) {
	s, err := store.At(where)
	if err != nil {
		return nil, err
	}
	return s.Open(cmd.Context())
}
