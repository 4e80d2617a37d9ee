// Command compile makes knowledge.cbor, the compiled form of the data files in
// the folder it is started in.
package main

import (
	"context"
	"fmt"
	"os"

	"telltale/graph/store"
)

func main() {
	raw, err := store.Snapshot(context.Background(), os.DirFS("."))
	if err == nil {
		err = os.WriteFile(store.SnapshotFile, raw, 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
