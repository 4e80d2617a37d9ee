package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"telltale/graph"
	"telltale/graph/files"
	"telltale/rules/reason"
)

// dataVariable names folders of own data where --data does not, parted like the
// folders of PATH.
const dataVariable = "TELLTALE_DATA"

func knowledgeFlags(root *cobra.Command) {
	root.PersistentFlags().StringArray("data", nil, "a folder of your own data, laid over what comes with the program (repeatable; also "+dataVariable+")")
	graphFlag(root)
}

// ownData lists the folders of own data, in the order they are laid.
func ownData(cmd *cobra.Command) []string {
	if dirs, err := cmd.Flags().GetStringArray("data"); err == nil && len(dirs) > 0 {
		return dirs
	}
	var out []string
	for _, dir := range filepath.SplitList(os.Getenv(dataVariable)) {
		if dir != "" {
			out = append(out, dir)
		}
	}
	return out
}

// openKnowledge opens what comes with the program and lays own data over it.
func openKnowledge(cmd *cobra.Command) (*graph.Knowledge, error) {
	return openWith(cmd, ownData(cmd))
}

// openWith lays these folders over what comes with the program, or over the graph
// that is named.
func openWith(cmd *cobra.Command, dirs []string) (*graph.Knowledge, error) {
	k, err := openBase(cmd)
	if err != nil {
		return nil, err
	}
	return lay(k, dirs)
}

// lay lays folders of own data over what is known.
func lay(k *graph.Knowledge, dirs []string) (*graph.Knowledge, error) {
	var err error
	for _, dir := range dirs {
		if k, err = files.Over(k, dir, os.DirFS(dir)); err != nil {
			return nil, err
		}
	}
	return k, nil
}

// newReasoner opens the knowledge and makes it ready to reason with.
func newReasoner(cmd *cobra.Command) (*reason.Reasoner, error) {
	k, err := openKnowledge(cmd)
	if err != nil {
		return nil, err
	}
	return reason.New(k)
}
