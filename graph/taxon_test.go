package graph_test

import (
	"slices"
	"strings"
	"testing"

	"telltale/graph"
)

// The first level of the Economic Botany Data Collection Standard (Cook 1995,
// TDWG). Two of its categories part the poisons, by what they kill.
var useCategories = []string{
	"FOOD", "FOOD ADDITIVES", "ANIMAL FOOD", "BEE PLANTS", "INVERTEBRATE FOOD", "MATERIALS", "FUELS", "SOCIAL USES", "VERTEBRATE POISONS",
	"NON-VERTEBRATE POISONS", "MEDICINES", "ENVIRONMENTAL USES", "GENE SOURCES",
}

func TestUseCategoriesAreThoseOfTheStandard(t *testing.T) {
	var ours []string
	for _, c := range graph.UseCategories() {
		ours = append(ours, strings.ToUpper(strings.NewReplacer("non_", "NON-", "_", " ").Replace(c)))
	}
	if !slices.Equal(ours, useCategories) {
		t.Errorf("categories are\n%v, the standard has\n%v", ours, useCategories)
	}
	for short, want := range map[string]string{"food": "food", "medicine": "medicines", "material": "materials", "environmental": "environmental_uses", "social": "social_uses", "poison": "vertebrate_poisons"} {
		if got := graph.UseCategory(short); got != want || !slices.Contains(graph.UseCategories(), got) {
			t.Errorf("%s stands for %q, want %s", short, got, want)
		}
	}
}

func TestSeverityIsTheWorstThatEatingDoes(t *testing.T) {
	plant := &graph.Taxon{Name: "Herba mala", Toxicity: []graph.Toxicity{
		{Parts: []string{"leaf"}, Severity: graph.Mild, Route: graph.Ingestion},
		{Parts: []string{"root"}, Severity: graph.Deadly, Route: graph.Ingestion},
		{Parts: []string{"sap"}, Severity: graph.Serious, Route: graph.SkinAndSun, Effect: "burns"},
		{Parts: []string{"leaf"}, Irritant: true, Route: graph.Skin},
	}}
	for part, want := range map[string]graph.Severity{"": graph.Deadly, "root": graph.Deadly, "leaf": graph.Mild, "sap": graph.NoneKnown, "seed": graph.NoneKnown} {
		if got := plant.PartSeverity(part); got != want {
			t.Errorf("to eat its %s is %s, want %s", part, got, want)
		}
	}
	if !plant.Poisonous() || plant.ContactHarm().Effect != "burns" || plant.Genus() != "Herba" || plant.CommonName() != "Herba mala" {
		t.Errorf("%+v", plant)
	}
	plant.Toxicity = append(plant.Toxicity[:1], graph.Toxicity{Parts: []string{"whole_plant"}, Severity: graph.Serious, Route: graph.Ingestion})
	if got := plant.PartSeverity("seed"); got != graph.Serious {
		t.Errorf("what is said of the whole plant is not said of its seed: %s", got)
	}
	harmless := &graph.Taxon{}
	if harmless.Poisonous() || harmless.Severity() != graph.NoneKnown || harmless.ContactHarm() != nil {
		t.Errorf("%+v", harmless)
	}
}

func TestSeveritiesRise(t *testing.T) {
	for i, name := range graph.SeverityNames() {
		s, ok := graph.SeverityNamed(name)
		if !ok || s.String() != name || s.Poisonous() != (name == "deadly" || name == "serious") {
			t.Errorf("%s is %s, poisonous: %v", name, s, s.Poisonous())
		}
		if i > 0 {
			if before, _ := graph.SeverityNamed(graph.SeverityNames()[i-1]); before >= s {
				t.Errorf("%s is no worse than %s", s, before)
			}
		}
	}
	for _, name := range []string{"", "fatal", "irritant"} {
		if s, ok := graph.SeverityNamed(name); ok {
			t.Errorf("%q passes for %s", name, s)
		}
	}
}
