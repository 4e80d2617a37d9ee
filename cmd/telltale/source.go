package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
)

func newSource() *cobra.Command {
	return group("source", "The publications that facts are taken from", newSourceShow(), newSourceList())
}

func newSourceShow() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "show SOURCE",
		Short: "A source in full, and what rests on it",
		Example: `  telltale source show isu-conium
  telltale source show memory`,
		Args:              cobra.MatchAll(needs("a source"), cobra.MaximumNArgs(1)),
		ValidArgsFunction: completeSource,
	}
	f := documentFlag(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		s, err := findSource(k, args[0])
		if err != nil {
			return err
		}
		cited := k.CitationsOf(s.ID)
		return f.write(cmd, render.SourceSheet(k, s, cited), render.SourceJSON(k, s, cited))
	}
	return cmd
}

// findSource finds a source by its id. Memory is one, though no publication.
func findSource(k *graph.Knowledge, id string) (*graph.Source, error) {
	if s, ok := k.Source(id); ok {
		return s, nil
	}
	if id == graph.Memory {
		return &graph.Source{ID: graph.Memory, Title: "Memory"}, nil
	}
	return nil, graph.Unknown(graph.Place{File: fmt.Sprintf("source %q", id)}, "source", id, sourceIDs(k))
}

func sourceIDs(k *graph.Knowledge) []string {
	out := []string{graph.Memory}
	for _, s := range k.Sources {
		out = append(out, s.ID)
	}
	return out
}

func newSourceList() *cobra.Command {
	var kind string
	var unused bool
	cmd := &cobra.Command{
		Use:               "list",
		Short:             "The sources, and how often each is cited",
		Example:           `  telltale source list --kind flora`,
		Args:              cobra.NoArgs,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	f := documentFlag(cmd)
	cmd.Flags().StringVar(&kind, "kind", "", "only of this kind: flora, extension, journal and so on")
	cmd.Flags().BoolVar(&unused, "unused", false, "only those that nothing rests on")
	_ = cmd.RegisterFlagCompletionFunc("kind", completeOf(sourceKinds))
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		var problems graph.Problems
		knownName(&problems, "--kind", "kind of source", &kind, sourceKinds(k))
		if err := problems.Err(); err != nil {
			return err
		}
		counts := k.CitationCounts()
		var rows []render.SourceRow
		for _, s := range k.Sources {
			if (kind == "" || s.Kind == kind) && (!unused || counts[s.ID] == 0) {
				rows = append(rows, render.SourceRow{Source: s, Cited: counts[s.ID]})
			}
		}
		return f.write(cmd, render.SourcesSheet(rows), render.SourcesJSON(rows))
	}
	return cmd
}

func sourceKinds(k *graph.Knowledge) []string {
	return distinct(k.Sources, func(s *graph.Source) string { return s.Kind })
}
