package query_test

import (
	"context"
	"fmt"

	"telltale/graph/query"
	"telltale/graph/store"
)

// The deadly plants of a graph: from the text "deadly" back along severity to what
// is deadly, and back along toxicity to the plants.
func Example() {
	quads := store.ForQueries(world())
	text := `g.V("deadly").in("<severity>").in("<toxicity>").save("<name>", "name").all()`
	answer, err := query.Run(context.Background(), quads, query.Query{Language: query.Gizmo, Name: "query", Text: text}, query.Limits{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, row := range answer.Rows {
		fmt.Println(row["id"], "is", row["name"])
	}
	// Output:
	// taxon/dry-bane is Dry bane
	// taxon/water-bane is Water bane
}
