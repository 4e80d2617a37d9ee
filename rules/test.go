package rules

import (
	"fmt"
	"slices"
	"strings"

	"telltale/graph"
)

// TestResult is how one test of a rule came out.
type TestResult struct {
	Rule   *graph.Rule
	Test   *graph.RuleTest
	Got    Result
	Passed bool
	Why    string // what was expected and came instead
}

// RunTests runs the tests that stand in the rule's own file.
func (r *Rule) RunTests() []TestResult {
	var out []TestResult
	for i := range r.Tests {
		out = append(out, r.runTest(&r.Tests[i]))
	}
	return out
}

func (r *Rule) runTest(t *graph.RuleTest) TestResult {
	res := TestResult{Rule: r.Rule, Test: t}
	hoped := t.Hoped
	if hoped == "" {
		hoped = r.For
	}
	var err error
	if res.Got, err = r.Try(NewFacts(r.env.vocabulary, &t.Given, hoped, nil)); err != nil {
		res.Why = err.Error()
		return res
	}
	res.Passed = res.Got.Outcome == t.Expect && (len(t.For) == 0 || sameNames(t.For, res.Got.WaitsFor))
	if !res.Passed {
		res.Why = fmt.Sprintf("expected that it %s, and it %s", outcomeWords(t.Expect, t.For), outcomeWords(res.Got.Outcome, res.Got.WaitsFor))
	}
	return res
}

func outcomeWords(outcome string, waitsFor []string) string {
	switch {
	case outcome == graph.Quiet:
		return "keeps quiet"
	case outcome == graph.Waits && len(waitsFor) > 0:
		return "waits for " + strings.Join(waitsFor, ", ")
	}
	return outcome
}

func sameNames(a, b []string) bool {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	return slices.Equal(a, b)
}
