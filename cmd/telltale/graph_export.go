package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"telltale/graph"
	"telltale/graph/exchange"
)

// The formats that knowledge and observations go out in.
const (
	nquadsFormat exchangeFormat = "nquads"
	jsonldFormat exchangeFormat = "jsonld"
	csvFormat    exchangeFormat = "csv"
	dwcFormat    exchangeFormat = "dwc"
)

// exchangeFormat is the value of --format of an export.
type exchangeFormat string

func exchangeFormats() []string {
	return []string{string(nquadsFormat), string(jsonldFormat), string(csvFormat), string(dwcFormat)}
}

func (f *exchangeFormat) String() string { return string(*f) }

// Set takes one of the formats.
func (f *exchangeFormat) Set(s string) error {
	if !slices.Contains(exchangeFormats(), s) {
		return graph.Unknown(graph.Place{}, "format", s, exchangeFormats())
	}
	*f = exchangeFormat(s)
	return nil
}

// Type names the flag's kind in help.
func (f *exchangeFormat) Type() string { return strings.Join(exchangeFormats(), "|") }

// export holds the flags of an export.
type export struct {
	format       exchangeFormat
	out          string
	force        bool
	context      bool
	taxa         []string
	observations []string
	identified   string
	qualifier    string
}

func newGraphExport() *cobra.Command {
	e := export{format: nquadsFormat}
	cmd := &cobra.Command{
		Use:   "export",
		Short: "Write the graph, or observations, for other programs",
		Long: `Writes all that is known as a graph in N-Quads or JSON-LD, or what is stated of
plants as a sheet in CSV, one row a statement:

  taxon,trait,value,frequency,stage,part,source,note

Every node has an IRI that does not change, such as
<urn:telltale:taxon/daucus-carota>; an arrow such as <urn:telltale:arrow/source>.
--context prints the JSON-LD context. Parts of plants and traits have arrows to
terms of the Plant Ontology and of PATO where the term is sure.

With --observations, writes observation files as Simple Darwin Core in CSV. A
plant that nobody has named goes out as Plantae; --identified-as says what it was
taken for, and --qualifier with how much doubt.`,
		Example: `  telltale graph export --out graph.nq
  telltale graph export --format jsonld --out graph.jsonld
  telltale graph export --format csv --taxon daucus-carota --taxon conium-maculatum --out carrots.csv
  telltale graph export --format dwc --observations walk1.yaml --observations walk2.yaml --identified-as "wild carrot" --qualifier cf.`,
		RunE: func(cmd *cobra.Command, args []string) error { return e.run(cmd, args) },
	}
	f := cmd.Flags()
	f.Var(&e.format, "format", "how to write it")
	f.StringVar(&e.out, "out", "", "write to this file instead of standard output")
	f.BoolVar(&e.force, "force", false, "overwrite the file if it is there already")
	f.BoolVar(&e.context, "context", false, "print the JSON-LD context and nothing else")
	f.StringArrayVar(&e.taxa, "taxon", nil, "only what is stated of this plant (repeatable, for csv)")
	f.StringArrayVar(&e.observations, "observations", nil, "an observation file in YAML or JSON (repeatable, for dwc; further files may follow)")
	f.StringVar(&e.identified, "identified-as", "", "what the observed plants were taken for (for dwc)")
	f.StringVar(&e.qualifier, "qualifier", "", "the doubt in that: cf. or aff. (for dwc)")
	_ = cmd.RegisterFlagCompletionFunc("format", cobra.FixedCompletions(exchangeFormats(), cobra.ShellCompDirectiveNoFileComp))
	return cmd
}

// run writes what the flags ask for.
func (e *export) run(cmd *cobra.Command, args []string) error {
	if e.context {
		return e.deliver(cmd, func(w io.Writer) error {
			_, err := w.Write(exchange.Context())
			return err
		})
	}
	if err := e.check(cmd, args); err != nil {
		return err
	}
	k, err := openKnowledge(cmd)
	if err != nil {
		return err
	}
	switch e.format {
	case jsonldFormat:
		return e.deliver(cmd, func(w io.Writer) error { return exchange.WriteJSONLD(w, k) })
	case csvFormat:
		return e.statements(cmd, k)
	case dwcFormat:
		return e.occurrences(cmd, k, append(e.observations, args...))
	}
	return e.deliver(cmd, func(w io.Writer) error { return exchange.WriteNQuads(w, k) })
}

// check refuses flags that the format has no use for.
func (e *export) check(cmd *cobra.Command, args []string) error {
	if len(e.observations) > 0 && !cmd.Flags().Changed("format") {
		e.format = dwcFormat
	}
	if e.format != dwcFormat {
		for _, name := range []string{"observations", "identified-as", "qualifier"} {
			if cmd.Flags().Changed(name) {
				return fmt.Errorf("--%s goes with --format dwc, not with %s", name, e.format)
			}
		}
		if len(args) > 0 {
			return fmt.Errorf("%q is one word too many: the file to write is named with --out", args[0])
		}
	}
	if e.format != csvFormat && len(e.taxa) > 0 {
		return fmt.Errorf("--taxon goes with --format csv: %s holds the whole graph", e.format)
	}
	if e.format == dwcFormat && len(e.observations)+len(args) == 0 {
		return errors.New("no observations are named: give --observations FILE")
	}
	if q := e.qualifier; q != "" && q != "cf." && q != "aff." {
		return graph.Unknown(graph.Place{File: "--qualifier"}, "qualifier", q, []string{"cf.", "aff."})
	}
	if e.qualifier != "" && e.identified == "" {
		return errors.New("--qualifier says how sure a name is: give the name with --identified-as")
	}
	return nil
}

func (e *export) deliver(cmd *cobra.Command, write func(io.Writer) error) error {
	if e.out == "" || e.out == "-" {
		return write(cmd.OutOrStdout())
	}
	return exchange.WriteFile(e.out, e.force, write)
}

func (e *export) statements(cmd *cobra.Command, k *graph.Knowledge) error {
	taxa := k.Taxa
	if len(e.taxa) > 0 {
		taxa = nil
	}
	for _, name := range e.taxa {
		t, err := findTaxon(k, name)
		if err != nil {
			return err
		}
		if !slices.Contains(taxa, t) {
			taxa = append(taxa, t)
		}
	}
	return e.deliver(cmd, func(w io.Writer) error { return exchange.WriteStatements(w, taxa) })
}

// occurrences writes all observations, or none if one of them cannot be read.
func (e *export) occurrences(cmd *cobra.Command, k *graph.Knowledge, names []string) error {
	named := exchange.Identification{Qualifier: e.qualifier}
	if e.identified != "" {
		t, err := findTaxon(k, e.identified)
		if err != nil {
			return err
		}
		named.Taxon = t
	}
	var list []exchange.Occurrence
	var wrong []error
	for _, name := range names {
		o, err := readOccurrence(cmd, k.Vocabulary, name)
		if err != nil {
			wrong = append(wrong, err)
		}
		list = append(list, o)
	}
	if err := errors.Join(wrong...); err != nil {
		return err
	}
	return e.deliver(cmd, func(w io.Writer) error { return exchange.WriteOccurrences(w, k.Vocabulary, list, named) })
}

func readOccurrence(cmd *cobra.Command, v *graph.Vocabulary, name string) (exchange.Occurrence, error) {
	if name == "-" {
		return exchange.ReadOccurrence(v, "standard input", cmd.InOrStdin())
	}
	f, err := os.Open(name)
	if err != nil {
		return exchange.Occurrence{}, fmt.Errorf("opening the observation: %w", err)
	}
	defer func() { _ = f.Close() }()
	return exchange.ReadOccurrence(v, name, f)
}
