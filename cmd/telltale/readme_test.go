package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var shellBlock = regexp.MustCompile("(?s)```sh\n(.*?)```")

// shown lists the telltale commands of a document's shell examples. A backslash
// carries a command on to the next line.
func shown(document string) []string {
	var out []string
	for _, block := range shellBlock.FindAllStringSubmatch(document, -1) {
		for _, line := range strings.Split(strings.ReplaceAll(block[1], "\\\n", " "), "\n") {
			line = strings.TrimSpace(line)
			for _, lead := range []string{"go run ./cmd/telltale ", "telltale "} {
				if rest, ok := strings.CutPrefix(line, lead); ok {
					out = append(out, "telltale "+rest)
				}
			}
		}
	}
	return out
}

func TestReadmeCommandsDoWhatTheyShow(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	commands := shown(string(text))
	if len(commands) < 2 {
		t.Fatalf("the README shows only %d commands", len(commands))
	}
	var script strings.Builder
	for _, c := range commands {
		// testscript quotes with ' only
		script.WriteString("exec " + strings.ReplaceAll(c, `"`, "'") + "\nstdout .\n! stderr .\n")
	}
	for name, content := range exampleFiles(t, string(text)) {
		script.WriteString("-- " + name + " --\n" + content)
	}
	file := filepath.Join(t.TempDir(), "readme.txtar")
	if err := os.WriteFile(file, []byte(script.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{Files: []string{file}, RequireExplicitExec: true, Setup: plainly})
}

var yamlBlock = regexp.MustCompile("(?s)```yaml\n# ([a-z-]+\\.yaml)\\b[^\n]*\n(.*?)```")

// exampleFiles lists the example files of a document: blocks of YAML whose first line is
// a comment that begins with a file name.
func exampleFiles(t *testing.T, document string) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, m := range yamlBlock.FindAllStringSubmatch(document, -1) {
		out[m[1]] = m[2]
	}
	if len(out) == 0 {
		t.Error("the README shows no observation file")
	}
	return out
}

// The README begins with the two commands that a newcomer is to run.
func TestReadmeBeginsWithAnAnswerAndTheTests(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	first := shellBlock.FindAllStringSubmatch(string(text), 2)
	if len(first) < 1 {
		t.Fatal("the README shows no command")
	}
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(first[0][1], "\\\n", " ")), "\n")
	if len(lines) != 2 || !strings.HasPrefix(lines[0], "go run ./cmd/telltale weigh ") || lines[1] != "go test ./..." {
		t.Errorf("the README begins with %q", lines)
	}
}
