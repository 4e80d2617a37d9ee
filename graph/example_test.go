package graph_test

import (
	"fmt"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// A plant is described by statements; what somebody saw is a reading.
func Example() {
	k := graphtest.Knowledge(
		graphtest.States("leaf.margin", "entire serrate dentate", "toothed means serrate dentate"),
		graphtest.Measure("leaf.length", "cm"),
		graphtest.Plant("herba-bona", "leaf.margin usually serrate at rosette", "leaf.length always (2-)5-15(-20) cm"),
	)
	plant, _ := k.FindTaxon("Herba bona")
	for _, s := range plant.Statements {
		fmt.Println(s.Trait, s.Frequency, s.Value())
	}
	for _, text := range []string{"leaf.margin=toothed?", "leaf.length=3.2in", "leaf.length=3.2inn"} {
		r, err := graph.ParseReading(k.Vocabulary, text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(r.Notation(k.Vocabulary))
	}
	// Output:
	// leaf.margin usually serrate
	// leaf.length always (2-)5-15(-20)
	// leaf.margin=serrate|dentate?
	// leaf.length=8.128 cm
	// reading "leaf.length=3.2inn", column 13: leaf.length takes a length such as 12 cm: there is no unit "inn" (known: mm, cm, m, in, ft); the nearest is "in"
}
