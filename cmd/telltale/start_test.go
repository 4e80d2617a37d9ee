package main

import (
	"context"
	"testing"

	"telltale/data"
	"telltale/graph"
	"telltale/graph/matrix"
	"telltale/graph/store"
	"telltale/rules"
	"telltale/rules/reason"
)

// BenchmarkStart keeps in sight what an answer costs before it is printed, step by
// step. The whole process is measured by BenchmarkWeighAsAProcess.
func BenchmarkStart(b *testing.B) {
	ctx := context.Background()
	k, err := store.Embedded(ctx, data.Files)
	if err != nil {
		b.Fatal(err)
	}
	r, err := reason.New(k)
	if err != nil {
		b.Fatal(err)
	}
	obs := graph.Observation{Stage: graph.Rosette}
	for _, text := range []string{"leaf.composition=tripinnate", "plant.clothing_hairs=hairless"} {
		reading, err := graph.ParseReading(k.Vocabulary, text)
		if err != nil {
			b.Fatal(err)
		}
		obs.Readings = append(obs.Readings, reading)
	}
	for _, step := range []struct {
		name string
		do   func() error
	}{
		{"knowledge", func() error { _, err := store.Embedded(ctx, data.Files); return err }},
		{"language of rules", func() error { _, err := rules.NewEnv(k); return err }},
		{"rules", func() error { _, err := rules.NewSet(k); return err }},
		{"matrix", func() error { matrix.Compile(k); return nil }},
		{"weigh", func() error {
			_, err := (&reason.Reasoner{Matrix: matrix.Compile(k), Rules: r.Rules}).Weigh(obs)
			return err
		}},
	} {
		b.Run(step.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := step.do(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
