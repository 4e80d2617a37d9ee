package store

import (
	"context"
	"os"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"telltale/graph"
	"telltale/graph/files"
)

func TestGraphGivesBackWhatItWasGiven(t *testing.T) {
	t0 := time.Now()
	k, err := files.Load(os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	t.Log(time.Since(t0))
	t0 = time.Now()
	back, err := ThroughGraph(context.Background(), k)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(time.Since(t0), len(k.Quads()))
	ignore := cmpopts.IgnoreUnexported(graph.Knowledge{}, graph.Vocabulary{}, graph.Statement{}, graph.Range{})
	if d := cmp.Diff(k, back, ignore, cmpopts.EquateEmpty()); d != "" {
		t.Errorf("the graph changed what it was given (-files +graph):\n%s", d)
	}
}
