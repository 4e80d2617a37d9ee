package main

import (
	"errors"
	"fmt"
	"os"
	"slices"

	"github.com/spf13/cobra"

	"telltale/graph"
	"telltale/graph/files"
)

// seen holds the flags by which an observation is told.
type seen struct {
	stage, part, month, file string
}

func (s *seen) flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&s.stage, "stage", "", "the `STAGE` of growth: seedling, rosette, leafy_shoot, flowering, fruiting or dormant")
	cmd.Flags().StringVar(&s.part, "part", "", "the `PART` to be gathered: leaf, root, seed and so on")
	cmd.Flags().StringVar(&s.month, "month", "", "the `MONTH`, 1 to 12 or its name")
	cmd.Flags().StringVar(&s.file, "file", "", "take the observation from a YAML or JSON `FILE`, - for standard input")
}

// observation puts together what the file, the flags and the arguments tell.
// Flags go over the file. All that is wrong is told at once.
func (s *seen) observation(cmd *cobra.Command, v *graph.Vocabulary, readings []string) (graph.Observation, error) {
	obs, err := s.fromFile(cmd, v)
	if err != nil {
		return obs, err
	}
	var problems graph.Problems
	s.circumstances(&obs, &problems)
	for _, text := range readings {
		r, err := graph.ParseReading(v, text)
		var p *graph.Problem
		switch {
		case errors.As(err, &p):
			problems = append(problems, p)
		case err != nil:
			return obs, err
		default:
			obs.Readings = append(obs.Readings, r)
		}
	}
	if err := problems.Err(); err != nil {
		return obs, err
	}
	if len(obs.Readings) == 0 {
		return obs, errors.New("nothing was read: give readings such as stem.surface=hairless, or --file")
	}
	return obs, nil
}

func (s *seen) fromFile(cmd *cobra.Command, v *graph.Vocabulary) (graph.Observation, error) {
	switch s.file {
	case "":
		return graph.Observation{}, nil
	case "-":
		return files.ReadObservation(v, "standard input", cmd.InOrStdin())
	}
	f, err := openFile("observation", s.file)
	if err != nil {
		return graph.Observation{}, err
	}
	defer func() { _ = f.Close() }()
	return files.ReadObservation(v, s.file, f)
}

// openFile opens what a person names as a file; what says in an error what it was
// to hold.
func openFile(what, name string) (*os.File, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, fmt.Errorf("there is no file %s to read the %s from", name, what)
	case err != nil:
		return nil, fmt.Errorf("opening the %s: %w", what, err)
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder, expected a file with the %s", name, what)
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("opening the %s: %w", what, err)
	}
	return f, nil
}

func (s *seen) circumstances(obs *graph.Observation, problems *graph.Problems) {
	if s.stage != "" {
		stage, ok := graph.StageNamed(s.stage)
		if !ok {
			problems.AddUnknown(graph.Place{File: "--stage"}, "stage", s.stage, graph.StageNames())
		}
		obs.Stage = stage
	}
	if s.part != "" {
		if !slices.Contains(graph.Parts(), s.part) {
			problems.AddUnknown(graph.Place{File: "--part"}, "part of a plant", s.part, graph.Parts())
		}
		obs.Part = s.part
	}
	if s.month != "" {
		month, err := graph.ParseMonth(s.month)
		if err != nil {
			problems.Add(graph.Place{File: "--month"}, "%q is no month, expected 1 to 12 or a name such as May", s.month)
		}
		obs.Month = month
	}
}
