package rules_test

import (
	"fmt"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/rules"
)

// A rule is put to three people's looks at a plant: one who read all it asks for,
// one who saw enough to know that it does not fire, and one who has to look again.
func Example() {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly"),
		graphtest.Plant("hemlock", "deadly"),
		graphtest.Rule(`leave any when stem.surface == "hairless" && stage == "rosette"`),
	)
	set, err := rules.NewSet(k)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, obs := range []graph.Observation{
		graphtest.Seen(k, "rosette", "stem.surface=hairless"),
		graphtest.Seen(k, "", "stem.surface=bristly"),
		graphtest.Seen(k, "rosette", "stem.surface=hairless?"),
	} {
		got, err := set.Rules[0].Try(rules.NewFacts(k.Vocabulary, &obs, "", nil))
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(got.Outcome)
		if got.Outcome == graph.Waits {
			fmt.Println("for", got.WaitsFor, "since this is left:", got.Residual)
		}
	}
	// Output:
	// fires
	// quiet
	// waits
	// for [stem.surface] since this is left: stem.surface == "hairless"
}

// A misspelt state is an error that names its place and the nearest real one.
func ExampleEnv_Compile() {
	k := graphtest.Knowledge(graphtest.States("stem.surface", "hairless bristly"))
	env, err := rules.NewEnv(k)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = env.Compile(&graph.Rule{
		ID: "no-hairs", Then: graph.Leave, When: `stem.surface == "hairles"`,
		WhenAt: graph.Place{File: "rules/umbels.yaml", Line: 4, Column: 11},
	})
	fmt.Println(err)
	// Output:
	// rules/umbels.yaml:4:27: rule no-hairs: there is no state of stem.surface "hairles" (known: hairless, bristly); the nearest is "hairless"
}
