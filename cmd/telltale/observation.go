package main

import (
	"errors"
	"fmt"
	"io"
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
	cmd.Flags().StringVar(&s.stage, "stage", "", "stage of growth: seedling, rosette, leafy_shoot, flowering, fruiting or dormant")
	cmd.Flags().StringVar(&s.part, "part", "", "the part to be gathered: leaf, root, seed, ...")
	cmd.Flags().StringVar(&s.month, "month", "", "the month, 1 to 12 or its name")
	cmd.Flags().StringVar(&s.file, "file", "", "take the observation from a YAML or JSON file, - for standard input")
}

// observation puts together what the file, the flags and the arguments tell.
// Flags go over the file. All that is wrong is told at once.
func (s *seen) observation(cmd *cobra.Command, v *graph.Vocabulary, readings []string) (graph.Observation, error) {
	var problems graph.Problems
	obs, err := s.fromFile(cmd, v)
	if err != nil {
		return obs, err
	}
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
		return obs, fmt.Errorf("nothing was read: give readings such as stem.surface=hairless, or --file")
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
	f, err := os.Open(s.file)
	if err != nil {
		return graph.Observation{}, fmt.Errorf("opening the observation: %w", err)
	}
	defer func() { _ = f.Close() }()
	return files.ReadObservation(v, s.file, io.Reader(f))
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
			problems.AddUnknown(graph.Place{File: "--month"}, "month", s.month, []string{"1 to 12", "January to December"})
		}
		obs.Month = month
	}
}
