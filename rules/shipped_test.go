package rules

import (
	"errors"
	"os"
	"testing"

	"telltale/graph"
	"telltale/graph/files"
)

// shipped loads the knowledge that comes with the program from its files.
func shipped(t testing.TB) *graph.Knowledge {
	t.Helper()
	k, err := files.Load(os.DirFS("../data"))
	if err != nil {
		failEach(t, err)
		t.FailNow()
	}
	return k
}

// failEach reports every problem on a line of its own.
func failEach(t testing.TB, err error) {
	t.Helper()
	var problems graph.Problems
	if !errors.As(err, &problems) {
		t.Error(err)
	}
	for _, p := range problems {
		t.Error(p)
	}
}

func TestEveryShippedRulePassesItsOwnTests(t *testing.T) {
	set, err := NewSet(shipped(t))
	if err != nil {
		failEach(t, err)
		return
	}
	for _, r := range set.Rules {
		outcomes := map[string]bool{}
		for _, res := range r.RunTests() {
			outcomes[res.Test.Expect] = true
			if !res.Passed {
				t.Errorf("%s: rule %s: %s", res.Test.Place, r.ID, res.Why)
			}
		}
		if !outcomes[graph.Fires] || !outcomes[graph.Quiet] {
			t.Errorf("%s: rule %s has no test in which it fires and one in which it keeps quiet", r.Place, r.ID)
		}
	}
}
