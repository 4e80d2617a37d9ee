package store_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"telltale/graph/store"
)

// loadsInto is set where the test program runs as a loader to be killed.
const loadsInto = "TELLTALE_TEST_LOADS_INTO"

// many is how many plants the loader loads, in some thirty batches.
const many = 150

// loadAndTell loads them, telling each batch on a line of its own.
func loadAndTell(where string) int {
	s, err := store.At(where)
	if err == nil {
		_, err = s.Load(context.Background(), meadow(many), store.Loading{Batch: 150, Report: func(p store.Progress) { fmt.Println(p.Done) }})
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// killAfter starts a loader and kills it, as the kernel would, when it has told so
// many lines, or a random moment later.
func killAfter(t *testing.T, where string, lines int) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(os.Environ(), loadsInto+"="+where)
	var words strings.Builder
	cmd.Stderr = &words
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	told := bufio.NewScanner(out)
	for range lines {
		told.Scan()
	}
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = cmd.Wait()
	if words.Len() > 0 {
		t.Fatalf("the loader failed before it was killed: %s", words.String())
	}
}

func TestALoaderThatIsKilledLeavesTheOldGraph(t *testing.T) {
	t.Parallel()
	kills := func(t *testing.T, where string) {
		s := at(t, where)
		load(t, s, meadow(5))
		const lines = 11 // of about 33: the load does not get to its end
		for range 3 {
			killAfter(t, where, rand.IntN(lines))
			holds(t, open(t, s), meadow(5))
		}
		killAfter(t, where, lines)
		holds(t, open(t, s), meadow(5))
		done := load(t, s, meadow(many))
		if done.Resumed == 0 {
			t.Error("nothing of what the killed loads had made sure of was used")
		}
		holds(t, open(t, s), meadow(many))
	}
	t.Run("bbolt file", func(t *testing.T) { kills(t, filepath.Join(t.TempDir(), "herbs.db")) })
	t.Run("PostgreSQL", func(t *testing.T) { kills(t, postgres(t).Database(t)) })
}

// Killed anywhere, also while the new graph takes the place of the old one, the
// graph is one of the two.
func TestALoaderThatIsKilledAtItsEndLeavesOneOfTheTwoGraphs(t *testing.T) {
	t.Parallel()
	kills := func(t *testing.T, where string) {
		s := at(t, where)
		for range 2 {
			load(t, s, meadow(5))
			killAfter(t, where, 100)
			g := open(t, s)
			want := meadow(many)
			if g.Stamp.Quads == len(meadow(5).Quads()) {
				want = meadow(5)
			}
			holds(t, g, want)
		}
	}
	t.Run("bbolt file", func(t *testing.T) { kills(t, filepath.Join(t.TempDir(), "herbs.db")) })
	t.Run("PostgreSQL", func(t *testing.T) { kills(t, postgres(t).Database(t)) })
}
