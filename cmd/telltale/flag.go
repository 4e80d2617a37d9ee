package main

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"telltale/graph"
)

// format is the value of --format.
type format string

const (
	textFormat format = "text"
	jsonFormat format = "json"
)

func formats() []string { return []string{string(textFormat), string(jsonFormat)} }

func (f *format) String() string { return string(*f) }

// Set takes one of the formats.
func (f *format) Set(s string) error {
	switch format(s) {
	case textFormat, jsonFormat:
		*f = format(s)
		return nil
	}
	return graph.Unknown(graph.Place{}, "format", s, formats())
}

// Type names the flag's kind in help.
func (f *format) Type() string { return "text|json" }

// limit is the value of --limit, 0 where it is not given.
type limit int

func (l *limit) String() string {
	if *l == 0 {
		return ""
	}
	return strconv.Itoa(int(*l))
}

// Set takes a whole number from 1.
func (l *limit) Set(s string) error {
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 {
		return fmt.Errorf("%q is no number of candidates, expected a whole number from 1", s)
	}
	*l = limit(n)
	return nil
}

// Type names the flag's kind in help.
func (l *limit) Type() string { return "number" }

// flagProblem puts what is wrong with a flag into our words.
func flagProblem(cmd *cobra.Command, err error) error {
	var missing *pflag.NotExistError
	var bad *pflag.InvalidValueError
	var empty *pflag.ValueRequiredError
	switch {
	case errors.As(err, &missing) && missing.GetSpecifiedShortnames() == "":
		return graph.Unknown(graph.Place{}, "flag", "--"+missing.GetSpecifiedName(), flagNames(cmd))
	case errors.As(err, &bad):
		return fmt.Errorf("--%s: %w", bad.GetFlag().Name, bad.Unwrap())
	case errors.As(err, &empty):
		_, usage := pflag.UnquoteUsage(empty.GetFlag())
		return fmt.Errorf("--%s needs a value: %s", empty.GetSpecifiedName(), usage)
	}
	return err
}

func flagNames(cmd *cobra.Command) []string {
	var out []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { out = append(out, "--"+f.Name) })
	return out
}
