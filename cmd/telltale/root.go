package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"telltale/graph"
)

const about = `Telltale tells a herb from its lookalikes by what you can see, feel and smell,
and says whether it may be gathered. It never takes "not looked at" for "not
there", and it rules a poison out only by what you saw yourself.

A reading is one trait as you saw it:

  stem.surface=hairless          what was seen
  'stem.surface!=stinging'       looked for, and not there
  'leaf.margin=serrate|dentate'  one of these
  'plant.odour_crushed=minty?'   not sure
  leaf.shape@upper=lanceolate    read on the upper leaves
  leaf.length=3.2in              a length in mm, cm, m, in or ft
  "hollow stem"                  everyday words that can mean only one thing

Before anybody eats anything: have somebody who knows the plant confirm it.`

const starters = `  telltale weigh --stage flowering "compound umbel" stem.markings=purple_blotched
  telltale may-gather ramsons --stage leafy_shoot --part leaf plant.odour_crushed=onion_garlic`

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:           "telltale",
		Short:         "Tell herbs from their lookalikes",
		Long:          about,
		Example:       starters,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return cmd.Help()
		},
	}
	root.SetVersionTemplate("telltale {{.Version}}\n")
	root.SetFlagErrorFunc(flagProblem)
	root.SetHelpCommand(newHelp())
	knowledgeFlags(root)
	root.AddCommand(newTaxon(), newTrait(), newStudy(), newSource(), newGraph(), newMan())
	root.AddCommand(newWeigh(), newMayGather(), newScore())
	return root
}

func newHelp() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "What a command does, with examples",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Root().Help()
			}
			about, _, err := cmd.Root().Find(args)
			if err != nil || about == cmd.Root() {
				return unknownCommand(cmd.Root(), args[0])
			}
			return about.Help()
		},
	}
}

// unknownCommand is the problem of a command that the one given does not have.
func unknownCommand(cmd *cobra.Command, name string) error {
	var known []string
	for _, c := range cmd.Commands() {
		known = append(known, c.Name())
	}
	return graph.Unknown(graph.Place{}, "command", name, known)
}

// needs asks for an argument, and says what it is.
func needs(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return fmt.Errorf("%s needs %s: %s", cmd.Name(), what, cmd.UseLine())
		}
		return nil
	}
}
