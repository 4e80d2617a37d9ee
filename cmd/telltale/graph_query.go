package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"time"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/spf13/cobra"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/graph/query"
	"telltale/graph/store"
)

const aboutGraphQuery = `Asks the graph in one of Cayley's languages: gizmo (paths in JavaScript), graphql
(trees) or mql (patterns in JSON). telltale graph schema lists the arrows there are
and the examples that come with the program.

In gizmo, names in angle brackets are nodes and arrows, other texts are values.
Arrows are followed with out and in, and a path ends in all():

  g.V("deadly").in("<severity>").in("<toxicity>").unique().all()

A query lists what is stated and draws no conclusions: what the graph does not list
is not thereby harmless. It cannot write.`

// graphQuery holds the flags of a query.
type graphQuery struct {
	language, file, example string
	columns                 []string
	limit                   int
	timeout                 time.Duration
	format                  tableFormat
}

func newGraphQuery() *cobra.Command {
	q := graphQuery{format: tableText}
	cmd := &cobra.Command{
		Use:   "query [QUERY]",
		Short: "Ask the graph whatever no other command does",
		Long:  aboutGraphQuery,
		Example: `  telltale graph query 'g.V("deadly").in("<severity>").in("<toxicity>").save("<name>", "name").unique().all()'
  telltale graph query --example deadly-umbels-of-wet-places
  telltale graph query --file mine.js --format csv
  telltale graph query --lang graphql '{ nodes(id: "<taxon/conium-maculatum>") { name toxicity { route effect } } }'`,
		Args: cobra.MaximumNArgs(1),
	}
	f := cmd.Flags()
	f.StringVar(&q.language, "lang", "", "gizmo, graphql or mql (otherwise by the end of the file's name: .js, .graphql, .json; gizmo where nothing tells)")
	f.StringVar(&q.file, "file", "", "take the query from a file, - for standard input")
	f.StringVar(&q.example, "example", "", "run an example that comes with the program")
	f.StringSliceVar(&q.columns, "columns", nil, "show these columns, in this order")
	f.IntVar(&q.limit, "limit", query.UsualRows, "give this many rows at the most, 0 for all")
	f.DurationVar(&q.timeout, "timeout", query.UsualTime, "stop a query that takes longer")
	f.Var(&q.format, "format", "how to write the rows")
	complete(cmd, map[string][]string{"lang": query.Languages(), "format": tableFormats(), "example": exampleNames()})
	cmd.RunE = q.run
	return cmd
}

func complete(cmd *cobra.Command, values map[string][]string) {
	for name, list := range values {
		_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(list, cobra.ShellCompDirectiveNoFileComp))
	}
}

func exampleNames() []string {
	var out []string
	for _, e := range query.Examples() {
		out = append(out, e.Name)
	}
	return out
}

func (q *graphQuery) run(cmd *cobra.Command, args []string) error {
	if q.limit < 0 || q.timeout <= 0 {
		return errors.New("--limit is a number from 0, --timeout a time above 0")
	}
	asked, err := q.asked(cmd, args)
	if err != nil {
		return err
	}
	quads, err := openQuads(cmd)
	if err != nil {
		return err
	}
	limits := query.Limits{Time: q.timeout, Rows: q.limit}
	if q.limit == 0 {
		limits.Rows = -1
	}
	answer, err := query.Run(cmd.Context(), quads, *asked, limits)
	if err != nil {
		return err
	}
	if len(q.columns) > 0 {
		for _, c := range q.columns {
			if !slices.Contains(answer.Columns, c) && len(answer.Rows) > 0 {
				return graph.Unknown(graph.Place{File: "--columns"}, "column", c, answer.Columns)
			}
		}
		answer.Columns = q.columns
	}
	return q.write(cmd, answer)
}

func (q *graphQuery) write(cmd *cobra.Command, a *query.Answer) error {
	w := cmd.OutOrStdout()
	switch q.format {
	case tableJSON:
		return render.JSON(w, render.AnswerJSON(a))
	case tableCSV:
		if err := render.AnswerCSV(w, a); err != nil || !a.More {
			return err
		}
		_, err := fmt.Fprintf(cmd.ErrOrStderr(), "There are more rows than these (%d): --limit 0 gives all.\n", len(a.Rows))
		return err
	}
	return render.Answer(render.To(w), a)
}

// asked puts the query together from the argument, the file or the example.
func (q *graphQuery) asked(cmd *cobra.Command, args []string) (*query.Query, error) {
	ways := len(args)
	for _, named := range []string{q.file, q.example} {
		if named != "" {
			ways++
		}
	}
	if ways != 1 {
		return nil, errors.New("give one query: as an argument, with --file, or with --example")
	}
	if q.example != "" {
		e, err := query.ExampleNamed(q.example)
		if err != nil {
			return nil, err
		}
		return &e.Query, nil
	}
	out := &query.Query{Language: q.language, Name: "query"}
	if len(args) > 0 {
		out.Text = args[0]
	} else if err := q.read(cmd, out); err != nil {
		return nil, err
	}
	if out.Language == "" {
		out.Language = query.Gizmo
	}
	return out, nil
}

func (q *graphQuery) read(cmd *cobra.Command, into *query.Query) error {
	in := cmd.InOrStdin()
	into.Name = "standard input"
	if q.file != "-" {
		f, err := os.Open(q.file)
		if err != nil {
			return fmt.Errorf("opening the query: %w", err)
		}
		defer func() { _ = f.Close() }()
		in, into.Name = f, q.file
		if into.Language == "" {
			into.Language = query.LanguageOf(q.file)
		}
	}
	text, err := io.ReadAll(io.LimitReader(in, query.LongestText+1))
	into.Text = string(text)
	return err
}

// openQuads opens the graph that is named, or what comes with the program with own
// data laid over it, for queries.
func openQuads(cmd *cobra.Command) (cayley.QuadStore, error) {
	where, named := graphNamed(cmd)
	if !named || len(ownData(cmd)) > 0 {
		k, err := openKnowledge(cmd)
		if err != nil {
			return nil, err
		}
		return store.ForQueries(k), nil
	}
	g, err := openGraph(cmd, where)
	if err != nil {
		return nil, err
	}
	defer func() { _ = g.Close() }()
	return g.Quads(cmd.Context())
}

// tableFormat is the value of --format of commands that answer in rows.
type tableFormat string

const (
	tableText tableFormat = "table"
	tableJSON tableFormat = "json"
	tableCSV  tableFormat = "csv"
)

func tableFormats() []string { return []string{string(tableText), string(tableJSON), string(tableCSV)} }

func (f *tableFormat) String() string { return string(*f) }

// Set takes one of the formats.
func (f *tableFormat) Set(s string) error {
	if !slices.Contains(tableFormats(), s) {
		return graph.Unknown(graph.Place{}, "format", s, tableFormats())
	}
	*f = tableFormat(s)
	return nil
}

// Type names the flag's kind in help.
func (f *tableFormat) Type() string { return "table|json|csv" }
