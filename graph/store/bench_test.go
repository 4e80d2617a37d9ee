package store_test

import (
	"context"
	"testing"

	"telltale/data"
	"telltale/graph/files"
	"telltale/graph/matrix"
	"telltale/graph/store"
)

// BenchmarkStart keeps in sight what every command waits for before it looks at
// what it was asked, and what is saved by not reading the files. Reading them is
// the last and by far the longest.
func BenchmarkStart(b *testing.B) {
	ctx := context.Background()
	k, err := store.Embedded(ctx, data.Files)
	if err != nil {
		b.Fatal(err)
	}
	for _, part := range []struct {
		name string
		do   func() error
	}{
		{"digest", func() error { _, err := store.Digest(data.Files); return err }},
		{"digest+snapshot+index", func() error { _, err := store.Embedded(ctx, data.Files); return err }},
		{"index", func() error { k.Index(); return nil }},
		{"matrix", func() error { matrix.Compile(k); return nil }},
		{"files", func() error { _, err := files.Load(data.Files); return err }},
		{"files+graph", func() error { _, err := store.Build(ctx, data.Files); return err }},
	} {
		b.Run(part.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := part.do(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
