package main

import (
	"strings"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
)

// completeFlags lets a shell complete the values of the flags that a command has.
func completeFlags(cmd *cobra.Command) {
	for name, values := range map[string][]string{"stage": graph.StageNames(), "part": graph.Parts(), "format": formats()} {
		if cmd.Flags().Lookup(name) != nil {
			_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(values, cobra.ShellCompDirectiveNoFileComp))
		}
	}
}

// completion is what a shell asks for: what can stand where something was typed.
type completion = func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective)

// completeOf completes one of the names that the knowledge has of something.
func completeOf(list func(*graph.Knowledge) []string) completion {
	return func(cmd *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		k, err := openKnowledge(cmd)
		if err != nil {
			return nil, cobra.ShellCompDirectiveError
		}
		return startingWith(list(k), typed), cobra.ShellCompDirectiveNoFileComp
	}
}

// onlyFirst completes the first argument and nothing behind it.
func onlyFirst(first completion) completion {
	return func(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return first(cmd, args, typed)
	}
}

var (
	completeTaxon  = onlyFirst(completeOf(taxaDescribed))
	completeTrait  = onlyFirst(completeOf(traitsDescribed))
	completeStudy  = onlyFirst(completeOf(studiesDescribed))
	completeSource = onlyFirst(completeOf(sourcesDescribed))
	completeWhy    = completeOf(func(k *graph.Knowledge) []string {
		return append(traitsDescribed(k), render.WhyToxicity, render.WhyUses)
	})
)

// described puts beside a name what a shell shows of it.
func described(name, what string) string {
	return name + "\t" + strings.Join(strings.Fields(what), " ")
}

func taxaDescribed(k *graph.Knowledge) []string {
	var out []string
	for _, t := range k.Taxa {
		out = append(out, described(t.ID, t.CommonName()))
	}
	return out
}

func traitsDescribed(k *graph.Knowledge) []string {
	var out []string
	for _, t := range k.Vocabulary.Traits {
		out = append(out, described(t.ID, t.Label))
	}
	return out
}

func studiesDescribed(k *graph.Knowledge) []string {
	var out []string
	for _, s := range k.Studies {
		if t, ok := k.Taxon(s.Taxon); ok {
			out = append(out, described(t.ID, t.CommonName()))
		}
	}
	return out
}

func sourcesDescribed(k *graph.Knowledge) []string {
	out := []string{described(graph.Memory, "what no publication stands behind")}
	for _, s := range k.Sources {
		out = append(out, described(s.ID, s.Title))
	}
	return out
}

// completeTaxonThenReadings completes a plant first and readings after it.
func completeTaxonThenReadings(cmd *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return completeReadings(cmd, args, typed)
	}
	return completeTaxon(cmd, args, typed)
}

// completeReadings completes a reading piece by piece: the trait with its sign,
// behind an @ the position, behind the sign the states, and behind a | those that
// are left.
func completeReadings(cmd *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
	k, err := openKnowledge(cmd)
	if err != nil {
		return nil, cobra.ShellCompDirectiveError
	}
	if name, _, signed := strings.Cut(typed, "="); signed {
		return completeStates(k.Vocabulary, name, typed)
	}
	return startingWith(traitsSigned(k.Vocabulary, typed), typed), cobra.ShellCompDirectiveNoSpace | cobra.ShellCompDirectiveNoFileComp
}

// traitsSigned lists the traits as readings begin, or the positions of the one that
// was typed before an @.
func traitsSigned(v *graph.Vocabulary, typed string) []string {
	var out []string
	name, _, positioned := strings.Cut(typed, "@")
	for _, t := range v.Traits {
		switch {
		case !positioned:
			out = append(out, described(t.ID+"=", t.Label))
		case t.ID == name:
			for _, p := range v.Positions {
				out = append(out, described(t.ID+"@"+p.Name+"=", p.Means))
			}
		}
	}
	return out
}

// completeStates lists the states that can still be named of the trait before the
// sign. For a number there is nothing to list, only to say.
func completeStates(v *graph.Vocabulary, name, typed string) ([]string, cobra.ShellCompDirective) {
	name, _, _ = strings.Cut(strings.TrimSuffix(name, "!"), "@")
	t, ok := v.Trait(name)
	if !ok {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	if t.Kind != graph.StateKind {
		return cobra.AppendActiveHelp(nil, numberHelp(t)), cobra.ShellCompDirectiveNoFileComp
	}
	so := typed[:strings.LastIndexAny(typed, "=|")+1]
	_, named, _ := strings.Cut(so, "=")
	var out []string
	for _, s := range t.States {
		if !strings.Contains("|"+named, "|"+s.ID+"|") {
			out = append(out, described(so+s.ID, s.Means))
		}
	}
	return startingWith(out, typed), cobra.ShellCompDirectiveNoFileComp
}

func numberHelp(t *graph.Trait) string {
	switch t.Kind {
	case graph.MeasureKind:
		return "a length, such as 12" + t.Unit + " or 3.2in"
	case graph.CountKind:
		return "a whole number"
	}
	return "a month, 1 to 12"
}

func startingWith(all []string, typed string) []string {
	var out []string
	for _, s := range all {
		if strings.HasPrefix(s, typed) {
			out = append(out, s)
		}
	}
	return out
}
