package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"telltale/data"
	"telltale/graph"
	"telltale/graph/store"
	"telltale/rules/reason"
)

const about = `Telltale tells a herb from its lookalikes by what you can see, feel and smell,
and says whether it may be gathered. It never takes "not looked at" for "not
there", and it rules a poison out only by what you saw yourself.

Before anybody eats anything: have somebody who knows the plant confirm it.`

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:           "telltale",
		Short:         "Tell herbs from their lookalikes",
		Long:          about,
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
	root.AddCommand(newWeigh(), newMayGather(), newScore())
	return root
}

func unknownCommand(cmd *cobra.Command, name string) error {
	var known []string
	for _, c := range cmd.Commands() {
		known = append(known, c.Name())
	}
	return graph.Unknown(graph.Place{}, "command", name, known)
}

// newReasoner opens the knowledge that comes with the program.
func newReasoner(cmd *cobra.Command) (*reason.Reasoner, error) {
	k, err := store.Embedded(cmd.Context(), data.Files)
	if err != nil {
		return nil, err
	}
	return reason.New(k)
}

// format is the value of --format.
type format string

const (
	textFormat format = "text"
	jsonFormat format = "json"
)

func (f *format) String() string { return string(*f) }

// Set takes one of the formats.
func (f *format) Set(s string) error {
	switch format(s) {
	case textFormat, jsonFormat:
		*f = format(s)
		return nil
	}
	return fmt.Errorf("there is no format %q, expected %s", s, strings.Join([]string{string(textFormat), string(jsonFormat)}, " or "))
}

// Type names the flag's kind in help.
func (f *format) Type() string { return "text|json" }
