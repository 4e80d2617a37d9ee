package exchange_test

import (
	"fmt"
	"os"
	"strings"

	"telltale/graph/exchange"
	"telltale/graph/graphtest"
)

// A teacher takes out what is stated of a plant, corrects it, and brings it back.
func Example() {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly"),
		graphtest.Plant("wild-carrot", "stem.surface usually bristly", "stem.surface rarely hairless at rosette"),
	)
	var sheet strings.Builder
	if err := exchange.WriteStatements(&sheet, k.Taxa); err != nil {
		fmt.Println(err)
	}
	fmt.Print(sheet.String())

	corrected := strings.Replace(sheet.String(), "hairless,rarely", "hairless,sometimes", 1)
	scored, err := exchange.ReadStatements(k, "carrot.csv", strings.NewReader(corrected))
	if err != nil {
		fmt.Println(err)
	}
	_ = exchange.WriteStatements(os.Stdout, exchange.Merged(k, scored).Taxa)
	// Output:
	// taxon,trait,value,frequency,stage,part,source,note
	// wild-carrot,stem.surface,bristly,usually,any,,memory,
	// wild-carrot,stem.surface,hairless,rarely,rosette,,memory,
	// taxon,trait,value,frequency,stage,part,source,note
	// wild-carrot,stem.surface,bristly,usually,any,,memory,
	// wild-carrot,stem.surface,hairless,sometimes,rosette,,memory,
}
