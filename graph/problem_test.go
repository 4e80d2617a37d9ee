package graph_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"telltale/graph"
)

func TestProblemsTellThePlaceAndTheNearestName(t *testing.T) {
	for want, p := range map[string]*graph.Problem{
		`a.yaml:3:7: no such thing; the nearest is "leaf"`: {Place: graph.Place{File: "a.yaml", Line: 3, Column: 7}, Message: "no such thing", Nearest: "leaf"},
		"a.yaml:3: no such thing":                          {Place: graph.Place{File: "a.yaml", Line: 3}, Message: "no such thing"},
		"a.yaml: no such thing":                            {Place: graph.Place{File: "a.yaml"}, Message: "no such thing"},
		"--stage, column 4: no such thing":                 {Place: graph.Place{File: "--stage", Column: 4}, Message: "no such thing"},
		"no such thing":                                    {Message: "no such thing"},
	} {
		if p.Error() != want {
			t.Errorf("%s, want %s", p, want)
		}
	}
}

func TestProblemsAreToldInTheOrderOfTheFiles(t *testing.T) {
	var ps graph.Problems
	if err := ps.Err(); err != nil {
		t.Errorf("no problems are an error: %v", err)
	}
	for _, at := range []graph.Place{{File: "b", Line: 1}, {File: "a", Line: 10, Column: 2}, {File: "a", Line: 9}, {File: "a", Line: 10, Column: 1}} {
		ps.Add(at, "is wrong")
	}
	err := ps.Err()
	if want := "a:9: is wrong\na:10:1: is wrong\na:10:2: is wrong\nb:1: is wrong"; err.Error() != want {
		t.Errorf("%s\nwant\n%s", err, want)
	}
	var p *graph.Problem
	if !errors.As(fmt.Errorf("loading: %w", err), &p) || p.Place.Line != 9 {
		t.Errorf("the first problem is %v", p)
	}
}

func TestManyProblemsAreCountedNotListed(t *testing.T) {
	var ps graph.Problems
	for i := range 100 {
		ps.Add(graph.Place{File: "a", Line: i + 1}, "is wrong")
	}
	lines := strings.Split(ps.Err().Error(), "\n")
	if len(lines) != 21 || lines[20] != "and 80 more" {
		t.Errorf("%d lines, the last: %s", len(lines), lines[len(lines)-1])
	}
}

func TestNearestNames(t *testing.T) {
	known := []string{"leaf.margin", "leaf.shape", "stem_surface", "écuelle", "mm", "cm"}
	for name, want := range map[string]string{
		"leaf.magrin": "leaf.margin", "leaf shape": "leaf.shape", "stem-surface": "stem_surface", "STEM SURFACE": "stem_surface", "ecuelle": "écuelle",
		"flower": "", "": "", "cmm": "cm", "mmm": "mm", strings.Repeat("leaf.margin", 100): "",
	} {
		if got := graph.Nearest(name, known); got != want {
			t.Errorf("the nearest to %q is %q, want %q", name, got, want)
		}
	}
	if got := graph.Nearest("a", nil); got != "" {
		t.Error(got)
	}
}
