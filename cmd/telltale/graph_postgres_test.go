package main

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"telltale/graph/store/storetest"
)

// tell runs a command line and gives what it says and what is wrong.
func tell(args ...string) (string, error) {
	root := newRoot()
	var out bytes.Buffer
	root.SetOut(&out)
	root.SetErr(&out)
	root.SetArgs(args)
	err := root.ExecuteContext(context.Background())
	return out.String(), err
}

// A group shares one graph in a database: commands answer from it, and say what is
// wrong when it is not there.
func TestCommandsAnswerFromADatabase(t *testing.T) {
	server := storetest.Start(t)
	where := server.Database(t)
	if _, err := tell("weigh", "--graph", where, "stem.surface=hairless"); err == nil || !strings.Contains(err.Error(), "there is no graph in this database yet") {
		t.Errorf("of an empty database it is said %v", err)
	}
	keep(t, where, garden())
	for want, args := range map[string][]string{
		"Garden bane":                    {"weigh", "stem.surface=hairless"},
		"garden-bane":                    {"taxon", "list"},
		"taxon/garden-bane":              {"graph", "query", `g.V("deadly").in("<severity>").in("<toxicity>").all()`},
		"urn:telltale:taxon/garden-bane": {"graph", "export"},
	} {
		said, err := tell(append(args, "--graph", where)...)
		if err != nil || !strings.Contains(said, want) {
			t.Errorf("%v says %v and\n%s\nwithout %q", args, err, said, want)
		}
	}
	server.Stop()
	if said, err := tell("weigh", "--graph", where, "stem.surface=hairless"); err == nil || !strings.Contains(err.Error(), "PostgreSQL does not answer") || said != "" {
		t.Errorf("of a database that is down it is said %v, and %q", err, said)
	}
}
