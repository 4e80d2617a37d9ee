package rules

import (
	"fmt"
	"slices"

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
	got, err := r.Try(NewFacts(r.env.vocabulary, &t.Given, t.Hoped, nil))
	if err != nil {
		res.Why = err.Error()
		return res
	}
	res.Got = got
	switch {
	case got.Outcome != t.Expect:
		res.Why = fmt.Sprintf("expected that it %s, and it %s", t.Expect, got.Outcome)
	case len(t.For) > 0 && !sameNames(t.For, got.WaitsFor):
		res.Why = fmt.Sprintf("expected that it waits for %v, and it waits for %v", t.For, got.WaitsFor)
	default:
		res.Passed = true
	}
	return res
}

func sameNames(a, b []string) bool {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	return slices.Equal(a, b)
}
