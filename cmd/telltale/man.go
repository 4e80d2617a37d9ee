package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

const aboutMan = `Writes a manual page for every command into a folder, which is made if it is not
there. Read one with man -l DIR/telltale-weigh.1, or put them where man looks.`

func newMan() *cobra.Command {
	return &cobra.Command{
		Use:     "man DIR",
		Short:   "Write manual pages into a folder",
		Long:    aboutMan,
		Example: `  telltale man ~/.local/share/man/man1`,
		Args:    cobra.MatchAll(needs("a folder"), cobra.MaximumNArgs(1)),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			pages, err := manPages(cmd.Root())
			if err != nil {
				return err
			}
			if err := os.MkdirAll(args[0], 0o755); err != nil {
				return fmt.Errorf("making the folder for the manual pages: %w", err)
			}
			for name, page := range pages {
				if err := os.WriteFile(filepath.Join(args[0], name), page, 0o644); err != nil {
					return fmt.Errorf("writing the manual pages: %w", err)
				}
			}
			_, err = fmt.Fprintf(cmd.OutOrStdout(), "%d manual pages written to %s\n", len(pages), args[0])
			return err
		},
	}
}

// manPages sets the page of each command, by the name of its file. All are set
// before the first is written.
func manPages(cmd *cobra.Command) (map[string][]byte, error) {
	out := map[string][]byte{}
	var set func(*cobra.Command) error
	set = func(c *cobra.Command) error {
		if !c.IsAvailableCommand() && c.HasParent() || c.IsAdditionalHelpTopicCommand() {
			return nil
		}
		c.DisableAutoGenTag = true
		name := strings.ReplaceAll(c.CommandPath(), " ", "-")
		var page bytes.Buffer
		header := &doc.GenManHeader{Title: strings.ToUpper(name), Section: "1", Source: "telltale", Manual: "Telltale"}
		if err := doc.GenMan(c, header, &page); err != nil {
			return fmt.Errorf("setting the manual page of %s: %w", c.CommandPath(), err)
		}
		out[name+".1"] = page.Bytes()
		for _, sub := range c.Commands() {
			if err := set(sub); err != nil {
				return err
			}
		}
		return nil
	}
	return out, set(cmd)
}
