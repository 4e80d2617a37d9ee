package graphtest_test

import (
	"fmt"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
)

func Example() {
	k := graphtest.Knowledge(
		graphtest.States("stem.surface", "hairless bristly woolly", "bristly ~ woolly", "group hairs"),
		graphtest.Measure("leaf.length", "cm"),
		graphtest.Plant("carrot", "stem.surface usually bristly at rosette leafy_shoot on lower", "leaf.length always (2-)5-15(-20) cm", "looks like hemlock"),
		graphtest.Plant("hemlock", "deadly", "stem.surface always hairless"),
		graphtest.Study("carrot", "root at rosette", "stem.surface is bristly|woolly"),
		graphtest.Rule(`leave carrot when stem.surface == "hairless"`),
	)
	for _, t := range k.Taxa {
		for _, s := range t.Statements {
			fmt.Printf("%s: %s %s %s, at %v on %q\n", t.ID, s.Trait, s.Frequency, s.Value(), s.Stages.Names(), s.Position)
		}
	}
	fmt.Println(k.LinksOf("hemlock")[0].Other, k.Studies[0].Gather[0].Checks[0].States, k.Rules[0].For)
	obs := graphtest.Seen(k, "rosette", "month=May", "part=root", "stem.surface!=hairless")
	fmt.Println(obs.Stage, obs.Month, obs.Part, obs.Readings[0].States)
	// Output:
	// carrot: stem.surface usually bristly, at [rosette leafy_shoot] on "lower"
	// carrot: leaf.length always (2-)5-15(-20), at [] on ""
	// hemlock: stem.surface always hairless, at [] on ""
	// carrot [bristly woolly] carrot
	// rosette 5 root [bristly woolly]
}

// A test that misspells what it is about must not pass by testing nothing.
func TestMisspeltLinesPanic(t *testing.T) {
	surface := graphtest.States("stem.surface", "hairless bristly")
	tests := map[string]func(){
		"state":      func() { graphtest.Knowledge(surface, graphtest.Plant("a", "stem.surface always hairles")) },
		"trait":      func() { graphtest.Knowledge(surface, graphtest.Plant("a", "stem.surfac always hairless")) },
		"frequency":  func() { graphtest.Knowledge(surface, graphtest.Plant("a", "stem.surface mostly hairless")) },
		"stage":      func() { graphtest.Knowledge(surface, graphtest.Plant("a", "stem.surface always hairless at roset")) },
		"line":       func() { graphtest.Knowledge(surface, graphtest.Plant("a", "deadley")) },
		"near":       func() { graphtest.States("stem.surface", "hairless bristly", "bristly ~ wooly") },
		"trait line": func() { graphtest.States("stem.surface", "hairless", "excludes never") },
		"rule":       func() { graphtest.Rule(`leaves carrot when stem.surface == "hairless"`) },
		"study":      func() { graphtest.Study("a", "root") },
		"check": func() {
			graphtest.Knowledge(surface, graphtest.Plant("a"), graphtest.Study("a", "root at rosette", "hairs is long"))
		},
		"reading": func() { graphtest.Seen(graphtest.Knowledge(surface), "", "stem.surface=hairles") },
	}
	for name, misspelt := range tests {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("it was read")
				}
			}()
			misspelt()
		})
	}
}

// What the builder makes has what the files demand: sources, groups, labels.
func TestMadeFactsSayThatTheyAreFromMemory(t *testing.T) {
	k := graphtest.Knowledge(
		graphtest.Count("flower.petals", "group petals"), graphtest.Months("season.flowering"),
		graphtest.Plant("a", "flower.petals always 5", "season.flowering usually 11-2", "mild", "flower.petals is exhaustive"),
		graphtest.Study("a", "flower at flowering", "flower.petals as stated"), graphtest.Rule("note any when month == 5"),
	)
	a, _ := k.Taxon("a")
	for what, sources := range map[string][]string{
		"statement": a.Statements[0].Sources, "toxicity": a.Toxicity[0].Sources, "overrule": a.Overrules[0].Sources,
		"study": k.Studies[0].Sources, "check": k.Studies[0].Gather[0].Checks[0].Sources, "rule": k.Rules[0].Sources,
	} {
		if len(sources) != 1 || sources[0] != graph.Memory {
			t.Errorf("the %s is from %v", what, sources)
		}
	}
	for _, trait := range k.Vocabulary.Traits {
		if trait.Group == "" || trait.Label == "" || trait.Question == "" || trait.Organ == "" {
			t.Errorf("%s lacks something: %+v", trait.ID, trait)
		}
	}
}
