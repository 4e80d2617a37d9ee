package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
)

func newTrait() *cobra.Command {
	return group("trait", "What a trait and its states mean, and who shows them", newTraitShow(), newTraitList())
}

const aboutTraitShow = `Explains a trait: what is looked at and how, when, with what effort and caution,
its states with their everyday words and what each is taken for, how often it is
misread, and which plants show which state how often.

TRAIT is an id such as leaf.margin, or its everyday name.`

func newTraitShow() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "show TRAIT",
		Short: "What a trait means, and which plants show what",
		Long:  aboutTraitShow,
		Example: `  telltale trait show leaf.margin
  telltale trait show "leaf edge" --format markdown`,
		Args:              needs("a trait"),
		ValidArgsFunction: completeTrait,
	}
	f := documentFlag(cmd)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		t, problem := findTrait(k.Vocabulary, strings.Join(args, " "))
		if problem != nil {
			return problem
		}
		return f.write(cmd, render.TraitSheet(k, t), render.TraitJSON(k, t))
	}
	return cmd
}

// findTrait finds the one trait of an id or everyday name. Others are what can be
// asked for in its place, for the nearest name of a misspelt one.
func findTrait(v *graph.Vocabulary, name string, others ...string) (*graph.Trait, *graph.Problem) {
	at := graph.Place{File: fmt.Sprintf("trait %q", name)}
	found := v.TraitsCalled(name)
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		known := append(v.TraitIDs(), others...)
		if !strings.Contains(name, ".") {
			for _, t := range v.Traits {
				known = append(append(known, t.Label), t.Words...)
			}
		}
		return nil, graph.Unknown(at, "trait", name, known)
	}
	var ids []string
	for _, t := range found {
		ids = append(ids, t.ID)
	}
	return nil, &graph.Problem{Place: at, Message: fmt.Sprintf("%q can be %s: write which", name, strings.Join(ids, " or "))}
}

func newTraitList() *cobra.Command {
	var organ, stage string
	cmd := &cobra.Command{
		Use:               "list",
		Short:             "The traits that are known",
		Example:           `  telltale trait list --organ leaf --stage rosette`,
		Args:              cobra.NoArgs,
		ValidArgsFunction: cobra.NoFileCompletions,
	}
	f := documentFlag(cmd)
	cmd.Flags().StringVar(&organ, "organ", "", "only of this organ: leaf, stem, root and so on")
	cmd.Flags().StringVar(&stage, "stage", "", "only what can be seen at this stage")
	_ = cmd.RegisterFlagCompletionFunc("organ", completeOf(organs))
	_ = cmd.RegisterFlagCompletionFunc("stage", cobra.FixedCompletions(graph.StageNames(), cobra.ShellCompDirectiveNoFileComp))
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		k, err := openKnowledge(cmd)
		if err != nil {
			return err
		}
		var problems graph.Problems
		knownName(&problems, "--organ", "organ", &organ, organs(k))
		at := stageTold(&problems, stage)
		if err := problems.Err(); err != nil {
			return err
		}
		scored := plantsScored(k)
		var rows []render.TraitRow
		for _, t := range k.Vocabulary.Traits {
			if (organ == "" || t.Organ == organ) && t.Visible(at) {
				rows = append(rows, render.TraitRow{Trait: t, Plants: scored[t.ID]})
			}
		}
		return f.write(cmd, render.TraitsSheet(rows), render.TraitsJSON(rows))
	}
	return cmd
}

// stageTold reads the value of --stage, AnyStage where it is not given.
func stageTold(problems *graph.Problems, name string) graph.Stage {
	stage, ok := graph.StageNamed(name)
	if !ok {
		problems.AddUnknown(graph.Place{File: "--stage"}, "stage", name, graph.StageNames())
	}
	return stage
}

func organs(k *graph.Knowledge) []string {
	return distinct(k.Vocabulary.Traits, func(t *graph.Trait) string { return t.Organ })
}

// plantsScored counts for each trait the plants of which something is stated.
func plantsScored(k *graph.Knowledge) map[string]int {
	out := map[string]int{}
	for _, t := range k.Taxa {
		seen := map[string]bool{}
		for i := range t.Statements {
			if trait := t.Statements[i].Trait; !seen[trait] {
				seen[trait] = true
				out[trait]++
			}
		}
	}
	return out
}
