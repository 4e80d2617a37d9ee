package main

import (
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"telltale": main})
}

// Each file under testdata/script is one use of the command line, or one way of
// getting it wrong.
func TestCommandLine(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"wrong": wrong},
		Setup:               plainly,
	})
}

// plainly keeps the tester's own settings out of what is tested.
func plainly(env *testscript.Env) error {
	for _, name := range []string{"COLUMNS", "NO_COLOR", dataVariable, graphVariable} {
		env.Setenv(name, "")
	}
	return nil
}

// wrong runs telltale and asks for what every mistake must end in: exit status 1,
// nothing on standard output, and on standard error one line that begins with the
// program's name and holds the words given before "--".
//
//	wrong 'there is no stage' rosette -- weigh --stage roset stem.surface=hairless
func wrong(ts *testscript.TestScript, neg bool, args []string) {
	words, command := []string(nil), args
	for i, a := range args {
		if a == "--" {
			words, command = args[:i], args[i+1:]
			break
		}
	}
	if neg || len(words) == 0 {
		ts.Fatalf("usage: wrong WORDS... -- ARGUMENTS...")
	}
	err := ts.Exec("telltale", command...)
	said := strings.TrimSuffix(ts.ReadFile("stderr"), "\n")
	switch {
	case err == nil || err.Error() != "exit status 1":
		ts.Fatalf("it ended with %v, expected exit status 1", err)
	case ts.ReadFile("stdout") != "":
		ts.Fatalf("something stands on standard output:\n%s", ts.ReadFile("stdout"))
	case !strings.HasPrefix(said, "telltale: "):
		ts.Fatalf("it does not say who speaks: %q", said)
	case strings.Contains(said, "\n"):
		ts.Fatalf("one mistake makes several lines:\n%s", said)
	}
	for _, w := range words {
		if !strings.Contains(said, w) {
			ts.Fatalf("it does not say %q: %s", w, said)
		}
	}
}
