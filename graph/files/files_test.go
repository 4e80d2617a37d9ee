package files_test

import (
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"telltale/graph"
)

// ignoreBlanks compares what people wrote, and takes no list for an empty one.
var ignoreBlanks = cmp.Options{
	cmpopts.IgnoreUnexported(graph.Knowledge{}, graph.Vocabulary{}, graph.Statement{}, graph.Range{}), cmpopts.EquateEmpty(),
}
