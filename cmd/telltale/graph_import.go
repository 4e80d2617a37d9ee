package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"telltale/graph/exchange"
	"telltale/rules"
)

// importing holds the flags of an import.
type importing struct {
	csv   bool
	out   string
	force bool
	whole bool
}

func newGraphImport() *cobra.Command {
	var i importing
	cmd := &cobra.Command{
		Use:   "import FILE",
		Short: "Read a graph or a sheet of statements, and write it as data files",
		Long: `Reads a graph in N-Quads (.nq) or JSON-LD (.jsonld) and writes it as a data folder:
vocabulary.yaml, sources.yaml, taxa, studies and rules.

With --csv, or from a file that ends in .csv, reads a sheet with one row a
statement:

  taxon,trait,value,frequency,stage,part,source,note

and writes a file for each plant of the sheet, to be laid over what is known with
--data DIR. A trait that the sheet scores replaces all that was stated of it; the
others stay. With --whole, the file holds all that is known of the plant then.

Everything is checked before anything is written. FILE may be - for standard input.`,
		Example: `  telltale graph import graph.nq --out mine
  telltale graph import --csv carrots.csv --out mine && telltale weigh --data mine stem.surface=bristly`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("expected one file to read, not %d", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return i.run(cmd, args[0]) },
	}
	f := cmd.Flags()
	f.BoolVar(&i.csv, "csv", false, "the file is a sheet of statements in CSV")
	f.StringVar(&i.out, "out", "", "the folder to write to, made if it is not there")
	f.BoolVar(&i.force, "force", false, "overwrite files that are there already")
	f.BoolVar(&i.whole, "whole", false, "from a sheet, write all that is known of its plants, not only what it scores")
	return cmd
}

func (i *importing) run(cmd *cobra.Command, name string) error {
	if i.out == "" {
		return errors.New("no folder is named to write to: give --out DIR")
	}
	r, shown, err := openInput(cmd, name)
	if err != nil {
		return err
	}
	defer func() { _ = r.Close() }()
	ending := strings.ToLower(filepath.Ext(name))
	if i.csv || ending == ".csv" || ending == ".tsv" {
		return i.sheet(cmd, shown, r)
	}
	if i.whole {
		return errors.New("--whole goes with a sheet of statements: a graph is whole")
	}
	return i.graph(cmd, shown, ending, r)
}

// openInput opens the file to read, and gives the name that problems call it by.
func openInput(cmd *cobra.Command, name string) (io.ReadCloser, string, error) {
	if name == "-" {
		return io.NopCloser(cmd.InOrStdin()), "standard input", nil
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, "", fmt.Errorf("opening what is to be read: %w", err)
	}
	return f, name, nil
}

// sheet reads statements and writes a file for each plant.
func (i *importing) sheet(cmd *cobra.Command, name string, r io.Reader) error {
	k, err := openKnowledge(cmd)
	if err != nil {
		return err
	}
	scored, err := exchange.ReadStatements(k, name, r)
	if err != nil {
		return err
	}
	if len(scored) == 0 {
		return fmt.Errorf("%s: no statements stand below the header", name)
	}
	files, err := exchange.SheetFiles(k, scored, i.whole)
	if err != nil {
		return err
	}
	if err := files.WriteTo(i.out, i.force); err != nil {
		return err
	}
	statements := 0
	for _, s := range scored {
		statements += len(s.Statements)
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "%s of %s written to %s: lay them over what is known with --data %s\n",
		counted(statements, "statement"), counted(len(scored), "plant"), i.out, i.out)
	return err
}

// graph reads a graph and writes it as a data folder.
func (i *importing) graph(cmd *cobra.Command, name, ending string, r io.Reader) error {
	read, r, err := graphReader(name, ending, r)
	if err != nil {
		return err
	}
	in, err := read(cmd.Context(), name, r)
	if err != nil {
		return err
	}
	k := in.Knowledge
	if _, err := rules.NewSet(k); err != nil {
		return fmt.Errorf("the rules in %s: %w", name, err)
	}
	files, err := exchange.Folder(k)
	if err != nil {
		return err
	}
	if err := files.WriteWhole(i.out, i.force); err != nil {
		return err
	}
	out := cmd.OutOrStdout()
	if in.Foreign > 0 {
		fmt.Fprintf(out, "%s of other vocabularies left out\n", counted(in.Foreign, "arrow"))
	}
	_, err = fmt.Fprintf(out, "%s, %s and %s written to %s\n",
		counted(len(k.Taxa), "plant"), counted(len(k.Studies), "herb worked up"), counted(len(k.Rules), "rule"), i.out)
	return err
}

type graphRead = func(ctx context.Context, name string, r io.Reader) (*exchange.Received, error)

// graphReader finds how to read a graph by the ending of its file, and where it
// has none by how it begins: JSON begins with a bracket.
func graphReader(name, ending string, r io.Reader) (graphRead, io.Reader, error) {
	switch {
	case slices.Contains([]string{".nq", ".nt", ".nquads"}, ending):
		return exchange.ReadNQuads, r, nil
	case slices.Contains([]string{".jsonld", ".json"}, ending):
		return exchange.ReadJSONLD, r, nil
	case ending != "" && name != "standard input":
		return nil, nil, fmt.Errorf("%s: a file that ends in %s cannot be read here: expected .nq, .jsonld or .csv", name, ending)
	}
	begin := bufio.NewReader(r)
	start, _ := begin.Peek(64)
	if start = bytes.TrimLeft(start, "\ufeff \t\r\n"); len(start) > 0 && (start[0] == '{' || start[0] == '[') {
		return exchange.ReadJSONLD, begin, nil
	}
	return exchange.ReadNQuads, begin, nil
}

// counted puts a number before a word, which takes an s unless there is one.
func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	first, rest, _ := strings.Cut(what, " ")
	return strings.TrimSpace(fmt.Sprintf("%d %ss %s", n, first, rest))
}
