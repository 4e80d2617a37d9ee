// Command compile makes knowledge.cbor, the compiled form of the data files in
// the folder it is started in.
package main

import (
	"context"
	"fmt"
	"os"

	"telltale/graph/store"
	"telltale/rules"
)

func main() {
	if err := compile(context.Background()); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// compile refuses data whose rules are wrong: whoever opens the compiled form does
// not check them again.
func compile(ctx context.Context) error {
	here := os.DirFS(".")
	k, err := store.Build(ctx, here)
	if err != nil {
		return err
	}
	if _, err := rules.NewSet(k); err != nil {
		return err
	}
	raw, err := store.Snapshot(ctx, here)
	if err != nil {
		return err
	}
	return os.WriteFile(store.SnapshotFile, raw, 0o644)
}
