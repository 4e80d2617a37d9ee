// Command compile makes what is kept beside the data files in the folder it is
// started in: knowledge.cbor, their compiled form, and schema, the JSON Schemas
// with which an editor completes and checks them.
package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"telltale/graph/schema"
	"telltale/graph/store"
)

func main() {
	if err := compile("."); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func compile(dir string) error {
	raw, err := store.Snapshot(context.Background(), os.DirFS(dir))
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, store.SnapshotFile), raw, 0o644); err != nil {
		return err
	}
	return schemas(dir)
}

func schemas(dir string) error {
	k, err := store.Build(context.Background(), os.DirFS(dir))
	if err != nil {
		return err
	}
	all, err := schema.All(k)
	if err != nil {
		return err
	}
	folder := filepath.Join(dir, "schema")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, s := range all {
		if err := os.WriteFile(filepath.Join(folder, s.Name), s.Text, 0o644); err != nil {
			return err
		}
	}
	return nil
}
