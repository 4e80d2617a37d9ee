package reason

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"telltale/graph"
	"telltale/graph/graphtest"
)

func TestSourcesDispute(t *testing.T) {
	tests := []struct {
		what  string
		lines []string // "source: statement"
		want  []string
	}{
		{"always against something else", []string{"a: always hairless", "b: sometimes bristly"}, []string{"a | b excludes"}},
		{"never against sometimes", []string{"a: never bristly", "b: sometimes bristly"}, []string{"a | b excludes"}},
		{"the variation named against what it leaves out", []string{"a: usually hairless", "a: rarely bristly", "b: sometimes woolly"}, []string{"a | b excludes"}},
		{"usually alone leaves room for the rest", []string{"a: usually hairless", "b: sometimes bristly"}, nil},
		{"another state usual", []string{"a: usually hairless", "b: usually woolly"}, []string{"a | b usual"}},
		{"a near state usual", []string{"a: usually bristly", "b: usually woolly"}, nil},
		{"the same words", []string{"a: always hairless", "b: always hairless"}, nil},
		{"several against one", []string{"a: always hairless", "b: always hairless", "c: rarely bristly"}, []string{"a b | c excludes"}},
		{"a source that gives both quarrels with nobody but him who gives one", []string{"a: always hairless", "b: always hairless", "b: rarely bristly"}, []string{"a | b excludes"}},
		{"at other stages", []string{"a: always hairless at rosette", "b: sometimes bristly at flowering"}, nil},
		{"at one stage of two", []string{"a: always hairless at rosette flowering", "b: sometimes bristly at flowering"}, []string{"a | b excludes at flowering"}},
		{"on other parts", []string{"a: always hairless on upper", "b: sometimes bristly on lower"}, nil},
		{"on a part, against what is said of all", []string{"a: always hairless", "b: sometimes bristly on lower"}, []string{"a | b excludes on lower"}},
		{"memory is a source too", []string{"memory: always hairless", "b: sometimes bristly"}, []string{"memory | b excludes"}},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			k := graphtest.Knowledge(graphtest.States("stem.surface", "hairless bristly woolly", "bristly ~ woolly"))
			check(t, k, "stem.surface", tt.lines, tt.want)
		})
	}
}

func TestSourcesDisputeNumbers(t *testing.T) {
	tests := []struct {
		what  string
		lines []string
		want  []string
	}{
		{"beyond the extremes", []string{"a: always 5-10 cm", "b: always 8-15 cm"}, []string{"a | b excludes"}},
		{"within the extremes", []string{"a: always (2-)5-10(-20) cm", "b: always 8-15 cm"}, []string{"a | b excludes"}},
		{"each within the other's extremes", []string{"a: always (2-)5-10(-20) cm", "b: always (3-)8-15(-20) cm"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			check(t, graphtest.Knowledge(graphtest.Measure("leaf.length", "cm")), "leaf.length", tt.lines, tt.want)
		})
	}
	k := graphtest.Knowledge(graphtest.Months("season.flowering"))
	check(t, k, "season.flowering", []string{"a: usually 5-8", "b: usually 6-9", "c: usually 11-2"}, []string{"a | c excludes", "b | c excludes"})
}

func check(t *testing.T, k *graph.Knowledge, trait string, lines, want []string) {
	t.Helper()
	tr, _ := k.Vocabulary.Trait(trait)
	taxon := &graph.Taxon{ID: "plant"}
	for _, l := range lines {
		source, text, _ := strings.Cut(l, ": ")
		s := graphtest.Statement(tr, text)
		s.Sources = []string{source}
		taxon.Statements = append(taxon.Statements, s)
	}
	var got []string
	for _, d := range Disputes(taxon, tr) {
		how := "usual"
		if d.Excludes {
			how = "excludes"
		}
		if d.Stages != graph.AllStages() {
			how += " at " + strings.Join(d.Stages.Names(), " ")
		}
		if d.Position != "" {
			how += " on " + d.Position
		}
		got = append(got, fmt.Sprintf("%s | %s %s", strings.Join(d.A.Sources, " "), strings.Join(d.B.Sources, " "), how))
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestHarmIsDisputedOnlyOfTheSamePart(t *testing.T) {
	harm := func(part string, s graph.Severity, source string) graph.Toxicity {
		return graph.Toxicity{Parts: []string{part}, Severity: s, Route: graph.Ingestion, Sources: []string{source}}
	}
	tests := []struct {
		what string
		all  []graph.Toxicity
		want int
	}{
		{"two grades", []graph.Toxicity{harm("root", graph.Mild, "a"), harm("root", graph.Deadly, "b")}, 1},
		{"the whole plant is every part", []graph.Toxicity{harm("whole_plant", graph.Serious, "a"), harm("root", graph.Deadly, "b")}, 1},
		{"another part", []graph.Toxicity{harm("leaf", graph.Mild, "a"), harm("root", graph.Deadly, "b")}, 0},
		{"one source that knows both", []graph.Toxicity{harm("root", graph.Mild, "a"), harm("root", graph.Deadly, "a")}, 0},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			if got := len(HarmDisputes(&graph.Taxon{Toxicity: tt.all})); got != tt.want {
				t.Errorf("%d disputes, want %d", got, tt.want)
			}
		})
	}
	taxon := &graph.Taxon{Toxicity: []graph.Toxicity{harm("root", graph.Deadly, "a"), harm("leaf", graph.Mild, "a")}, Uses: []graph.Use{
		{Parts: []string{"root"}, Category: "food"}, {Parts: []string{"leaf"}, Category: "food"}, {Parts: []string{"root"}, Category: "material"},
	}}
	if got := UseDisputes(taxon); len(got) != 1 || got[0].Use != &taxon.Uses[0] {
		t.Errorf("disputed uses %+v, want the eating of the root alone", got)
	}
}
