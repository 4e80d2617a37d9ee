package store_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"telltale/graph"
	"telltale/graph/store"
)

// file puts bytes into a file.
func file(t testing.TB, content []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "herbs.db")
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// graphFile gives the bytes of a file with a graph in it.
func graphFile(t testing.TB, k *graph.Knowledge) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "herbs.db")
	load(t, at(t, path), k)
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

// otherDatabase gives the bytes of a bbolt file of another program.
func otherDatabase(t *testing.T) []byte {
	path := filepath.Join(t.TempDir(), "other.db")
	db, err := bbolt.Open(path, 0o644, nil)
	if err == nil {
		err = db.Update(func(tx *bbolt.Tx) error {
			_, err := tx.CreateBucket([]byte("letters"))
			return err
		})
	}
	if err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return content
}

func TestAFileThatIsNoGraphIsSaidToBeNone(t *testing.T) {
	whole := graphFile(t, meadow(3))
	locked := file(t, whole)
	if err := os.Chmod(locked, 0); err != nil {
		t.Fatal(err)
	}
	future := bytes.ReplaceAll(whole, []byte(`"format":"`+store.Format()), []byte(`"format":"hemlocks`))
	rows := []struct{ name, path, want string }{
		{"no file", filepath.Join(t.TempDir(), "none.db"), "there is no graph in"},
		{"an empty file", file(t, nil), "is empty: make a graph of it with telltale graph load"},
		{"a folder", t.TempDir(), "is a folder"},
		{"a page of YAML", file(t, []byte("traits:\n  leaf.margin: {kind: state}\n")), "is no graph"},
		{"a long text", file(t, bytes.Repeat([]byte("hemlock "), 100_000)), "is no graph"},
		{"zeros", file(t, make([]byte, 1<<17)), "is no graph"},
		{"another program's database", file(t, otherDatabase(t)), "it was not made by telltale graph load"},
		{"the first pages of a graph", file(t, whole[:100_000]), "is cut short"},
		{"a graph of another version", file(t, future), "its format is hemlocks, this version reads " + store.Format()},
	}
	if os.Geteuid() != 0 { // root may read everything
		rows = append(rows, struct{ name, path, want string }{"a file of somebody else", locked, "permission denied"})
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			g, err := at(t, r.path).Open(context.Background())
			if err == nil {
				_ = g.Close()
				t.Fatal("it was opened")
			}
			if !strings.Contains(err.Error(), r.want) || !strings.Contains(err.Error(), r.path) {
				t.Errorf("it is said %q, want %q and the name of the file", err, r.want)
			}
		})
	}
}

func TestALoadOverwritesNothingButGraphs(t *testing.T) {
	for name, content := range map[string][]byte{"a letter": []byte("Dear Anna"), "another program's database": otherDatabase(t), "half a graph": graphFile(t, meadow(3))[:40_000]} {
		t.Run(name, func(t *testing.T) {
			path := file(t, content)
			_, err := at(t, path).Load(context.Background(), meadow(2), store.Loading{})
			if err == nil || !strings.Contains(err.Error(), "move it away first") {
				t.Errorf("the load said %v", err)
			}
			if left, _ := os.ReadFile(path); !bytes.Equal(left, content) {
				t.Error("the file was changed")
			}
		})
	}
}

func TestALoadKeepsTheRightsOfTheFileAndTheLinkToIt(t *testing.T) {
	path := file(t, graphFile(t, meadow(2)))
	link := filepath.Join(t.TempDir(), "link.db")
	if err := os.Symlink(path, link); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	load(t, at(t, link), meadow(5))
	info, err := os.Lstat(path)
	if err != nil || info.Mode() != 0o600 {
		t.Errorf("the file is %v, %v, want what it was, -rw-------", info.Mode(), err)
	}
	holds(t, open(t, at(t, path)), meadow(5))
}

func TestNothingIsLeftBesideAFileThatWasLoaded(t *testing.T) {
	path := filepath.Join(t.TempDir(), "herbs.db")
	load(t, at(t, path), meadow(3))
	left, err := os.ReadDir(filepath.Dir(path))
	if err != nil || len(left) != 1 {
		t.Errorf("beside the graph there is %v, %v", left, err)
	}
}

func TestWhatALoadKilledInItsFirstStepLeavesIsNotInTheWay(t *testing.T) {
	for name, content := range map[string][]byte{"nothing": nil, "less than a header": make([]byte, 4096)} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "herbs.db")
			if err := os.WriteFile(path+".loading", content, 0o644); err != nil {
				t.Fatal(err)
			}
			load(t, at(t, path), meadow(3))
			holds(t, open(t, at(t, path)), meadow(3))
		})
	}
}

func TestAFileInTheWayOfALoadIsNotThrownAway(t *testing.T) {
	path := filepath.Join(t.TempDir(), "herbs.db")
	letter := bytes.Repeat([]byte("Dear Anna, "), 10_000)
	if err := os.WriteFile(path+".loading", letter, 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := at(t, path).Load(context.Background(), meadow(3), store.Loading{})
	if err == nil || !strings.Contains(err.Error(), "is in the way") {
		t.Errorf("the load said %v", err)
	}
	if left, _ := os.ReadFile(path + ".loading"); !bytes.Equal(left, letter) {
		t.Error("the file was changed")
	}
}

// A file that was damaged is an error or still holds all that was loaded; it never
// holds less, and never ends the program.
func FuzzADamagedFileNeverHoldsLess(f *testing.F) {
	small := meadow(1)
	whole := graphFile(f, small)
	want := len(small.Quads())
	f.Add(uint32(0), []byte{1}, uint32(0))
	f.Add(uint32(16), []byte("\xff\xff\xff\xff\xff"), uint32(0))
	f.Add(uint32(4096), []byte("page"), uint32(0))
	f.Add(uint32(4096*8+10), []byte{2, 0, 200}, uint32(0))
	f.Add(uint32(4096*11), []byte("\x00\x00\x00\x00\x00\x00\x00\x00\x01\x00\xff\xff"), uint32(0))
	f.Add(uint32(0), []byte{}, uint32(5000))
	f.Fuzz(func(t *testing.T, offset uint32, damage []byte, cut uint32) {
		content := bytes.Clone(whole)
		copy(content[int(offset)%len(content):], damage)
		content = content[:len(content)-int(cut)%len(content)]
		g, err := at(t, file(t, content)).Open(context.Background())
		if err != nil {
			return
		}
		defer func() { _ = g.Close() }()
		k, err := g.Knowledge(context.Background())
		if err == nil && len(k.Quads()) != want {
			t.Errorf("it holds %d arrows of %d, and nothing is said", len(k.Quads()), want)
		}
	})
}
