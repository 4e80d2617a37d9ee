package main

import (
	"slices"

	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
)

// The formats of a document, besides those of every answer.
const (
	markdownFormat format = "markdown"
	htmlFormat     format = "html"
)

func documentFormats() []string {
	return []string{string(textFormat), string(markdownFormat), string(htmlFormat), string(jsonFormat)}
}

// document is the value of --format of the commands that look things up.
type document struct{ format }

// documentFlag gives a command the flag.
func documentFlag(cmd *cobra.Command) *document {
	d := &document{textFormat}
	cmd.Flags().Var(d, "format", "how to write it")
	_ = cmd.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(documentFormats(), cobra.ShellCompDirectiveNoFileComp))
	return d
}

// Set takes one of the formats.
func (d *document) Set(s string) error {
	if !slices.Contains(documentFormats(), s) {
		return graph.Unknown(graph.Place{}, "format", s, documentFormats())
	}
	d.format = format(s)
	return nil
}

// Type names the flag's kind in help.
func (d *document) Type() string { return "text|markdown|html|json" }

// write writes a sheet, or what JSON has in its place.
func (d *document) write(cmd *cobra.Command, sheet *render.Sheet, doc any) error {
	w := cmd.OutOrStdout()
	switch d.format {
	case jsonFormat:
		return render.JSON(w, doc)
	case markdownFormat:
		return sheet.Markdown(w)
	case htmlFormat:
		return sheet.HTML(w)
	}
	return sheet.Text(w)
}

// group makes a command that only holds others.
func group(use, short string, commands ...*cobra.Command) *cobra.Command {
	cmd := &cobra.Command{Use: use, Short: short, Args: cobra.ArbitraryArgs, RunE: func(cmd *cobra.Command, args []string) error {
		if len(args) > 0 {
			return unknownCommand(cmd, args[0])
		}
		return cmd.Help()
	}}
	cmd.AddCommand(commands...)
	return cmd
}
