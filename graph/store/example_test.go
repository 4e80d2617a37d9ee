package store_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"telltale/graph/store"
)

// A graph is loaded into a file, and asked there.
func Example() {
	folder, err := os.MkdirTemp("", "herbs")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer func() { _ = os.RemoveAll(folder) }()
	ctx := context.Background()
	s, err := store.At(filepath.Join(folder, "herbs.db"))
	if err != nil {
		fmt.Println(err)
		return
	}
	if _, err := s.Load(ctx, meadow(2), store.Loading{}); err != nil {
		fmt.Println(err)
		return
	}
	g, err := s.Open(ctx)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer func() { _ = g.Close() }()
	k, err := g.Knowledge(ctx)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(k.TaxonIDs())
	// Output: [herba-000 herba-001]
}
