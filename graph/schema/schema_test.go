package schema

import (
	"context"
	"os"
	"testing"

	"telltale/graph/store"
)

func TestX(t *testing.T) {
	k, err := store.Build(context.Background(), os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	fs, err := All(k)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range fs {
		t.Log(f.Name, len(f.Text))
		if f.Name != "taxon.schema.json" && f.Name != "vocabulary.schema.json" {
			t.Log(string(f.Text[:min(len(f.Text), 1500)]))
		}
	}
}
