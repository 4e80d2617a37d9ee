package store_test

import (
	"context"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/fxamacker/cbor/v2"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"telltale/data"
	"telltale/graph"
	"telltale/graph/files"
	"telltale/graph/graphtest"
	"telltale/graph/store"
)

// asWritten compares what people wrote, not the indexes made of it.
var asWritten = cmp.Options{cmpopts.IgnoreUnexported(graph.Knowledge{}, graph.Vocabulary{}), cmpopts.EquateEmpty()}

// snapped is the made folder with a snapshot in it.
func snapped(t testing.TB) fstest.MapFS {
	t.Helper()
	folder := graphtest.Folder()
	raw, err := store.Snapshot(context.Background(), folder)
	if err != nil {
		t.Fatal(err)
	}
	folder[store.SnapshotFile] = &fstest.MapFile{Data: raw}
	return folder
}

// counted counts how often the files of plants are opened: once to sum them, and
// once more to read them.
type counted struct {
	fs.FS
	plants int
}

func (c *counted) Open(name string) (fs.File, error) {
	if strings.HasPrefix(name, "taxa/") {
		c.plants++
	}
	return c.FS.Open(name)
}

// opened opens a folder and tells whether its files had to be read.
func opened(t *testing.T, fsys fs.FS) (k *graph.Knowledge, read bool) {
	t.Helper()
	c := &counted{FS: fsys}
	k, err := store.Embedded(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	if plants := len(k.Taxa); c.plants != plants && c.plants != 2*plants {
		t.Fatalf("%d plants were opened %d times", plants, c.plants)
	}
	return k, c.plants > len(k.Taxa)
}

func checkSame(t *testing.T, want, got *graph.Knowledge) {
	t.Helper()
	if d := cmp.Diff(want, got, asWritten); d != "" {
		t.Errorf("-want +got:\n%s", d)
	}
	if plant, err := got.FindTaxon("goodwort"); err != nil || plant.ID != "herba-bona" {
		t.Errorf("it cannot be asked: %v", err)
	}
}

func TestSnapshotIsUsedOnlyWhereItFits(t *testing.T) {
	want, err := files.Load(graphtest.Folder())
	if err != nil {
		t.Fatal(err)
	}
	got, read := opened(t, snapped(t))
	if read {
		t.Error("a fitting snapshot was not used")
	}
	checkSame(t, want, got)

	whole := snapped(t)[store.SnapshotFile].Data
	general := map[string]any{"Digest": "x", "Knowledge": map[string]any{}}
	other, err := cbor.Marshal(general)
	if err != nil {
		t.Fatal(err)
	}
	for shows, raw := range map[string][]byte{
		"none":                       nil,
		"an empty one":               {},
		"one cut off at the head":    whole[:40],
		"one cut off in the middle":  whole[:len(whole)/2],
		"one cut off at the end":     whole[:len(whole)-1],
		"one with something behind":  append(append([]byte(nil), whole...), 0),
		"one of another form":        other,
		"a file that is no snapshot": []byte("stages: {}\n"),
	} {
		t.Run(shows, func(t *testing.T) {
			folder := graphtest.Folder()
			if raw != nil {
				folder[store.SnapshotFile] = &fstest.MapFile{Data: raw}
			}
			got, read := opened(t, folder)
			if !read {
				t.Error("it was used")
			}
			checkSame(t, want, got)
		})
	}
}

// A poison must not get lost because a file was changed and the snapshot not made
// anew.
func TestAnyChangeOfAFileMakesTheSnapshotStale(t *testing.T) {
	for shows, change := range map[string]func(fstest.MapFS){
		"a blank more":       func(f fstest.MapFS) { f["sources.yaml"].Data = append(f["sources.yaml"].Data, '\n') },
		"a rule less":        func(f fstest.MapFS) { delete(f, "rules/general.yaml") },
		"a file renamed":     func(f fstest.MapFS) { f["rules/other.yaml"] = f["rules/general.yaml"]; delete(f, "rules/general.yaml") },
		"a file more":        func(f fstest.MapFS) { f["rules/other.yaml"] = &fstest.MapFile{Data: []byte("rules: []\n")} },
		"an empty file more": func(f fstest.MapFS) { f["rules/other.yaml"] = &fstest.MapFile{Data: []byte("{}\n")} },
		"a severity": func(f fstest.MapFS) {
			f["taxa/herba-mala.yaml"].Data = []byte(strings.Replace(string(f["taxa/herba-mala.yaml"].Data), "deadly", "mild", 1))
		},
		"a comment": func(f fstest.MapFS) {
			f["taxa/herba-bona.yaml"].Data = append(f["taxa/herba-bona.yaml"].Data, "# x\n"...)
		},
	} {
		t.Run(shows, func(t *testing.T) {
			folder := snapped(t)
			change(folder)
			want, err := files.Load(folder)
			if err != nil {
				t.Fatal(err)
			}
			got, read := opened(t, folder)
			if !read {
				t.Error("the stale snapshot was used")
			}
			if d := cmp.Diff(want, got, asWritten); d != "" {
				t.Errorf("-want +got:\n%s", d)
			}
		})
	}
}

// What stands at the end of one file could stand at the start of the next.
func TestDigestKnowsWhereAFileEnds(t *testing.T) {
	two, one := graphtest.Folder(), graphtest.Folder()
	two["rules/one.yaml"] = &fstest.MapFile{Data: []byte("# a\n")}
	two["rules/two.yaml"] = &fstest.MapFile{Data: []byte("# b\n")}
	one["rules/one.yaml"] = &fstest.MapFile{Data: []byte("# a\nrules/two.yaml\n# b\n")}
	a, err := store.Digest(two)
	if err != nil {
		t.Fatal(err)
	}
	b, err := store.Digest(one)
	if err != nil {
		t.Fatal(err)
	}
	if a == b {
		t.Error("two files sum like one")
	}
}

// Whichever byte of a snapshot is spoilt, the answers stay what the files say.
func TestDamagedSnapshotsNeverChangeAnAnswer(t *testing.T) {
	want, err := files.Load(graphtest.Folder())
	if err != nil {
		t.Fatal(err)
	}
	whole := snapped(t)[store.SnapshotFile].Data
	random := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		raw := append([]byte(nil), whole...)
		at := random.IntN(len(raw))
		raw[at] ^= byte(1 << random.IntN(8))
		folder := graphtest.Folder()
		folder[store.SnapshotFile] = &fstest.MapFile{Data: raw}
		got, read := opened(t, folder)
		if !read {
			t.Errorf("a snapshot with byte %d of %d spoilt was used", at, len(raw))
		}
		if d := cmp.Diff(want, got, asWritten); d != "" {
			t.Fatalf("byte %d: %s", at, d)
		}
	}
}

func TestFoldersThatCannotBeOpened(t *testing.T) {
	folder := snapped(t)
	delete(folder, "sources.yaml")
	if k, err := store.Embedded(context.Background(), folder); k != nil || !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("without its sources: %v, %v", k, err)
	}
	folder = snapped(t)
	folder["rules/general.yaml"] = &fstest.MapFile{Data: []byte("rules: [\n")}
	if k, err := store.Embedded(context.Background(), folder); k != nil || err == nil || !strings.HasPrefix(err.Error(), "rules/general.yaml:") {
		t.Errorf("with a broken file: %v, %v", k, err)
	}
	if _, err := store.Snapshot(context.Background(), folder); err == nil || !strings.HasPrefix(err.Error(), "rules/general.yaml:") {
		t.Errorf("a snapshot was made of a broken file: %v", err)
	}
}

func TestSnapshotsAreTheSameEveryTime(t *testing.T) {
	a, b := snapped(t), snapped(t)
	if d := cmp.Diff(a[store.SnapshotFile].Data, b[store.SnapshotFile].Data); d != "" {
		t.Error(d)
	}
}

// A snapshot is CBOR as RFC 8949 has it: a library that knows nothing of it reads
// it, and finds the plants in it.
func TestSnapshotsAreCBOR(t *testing.T) {
	var parts []any
	rest, err := cbor.UnmarshalFirst(snapped(t)[store.SnapshotFile].Data, &parts)
	if err == nil && len(parts) == 2 {
		t.Fatalf("%d parts", len(parts))
	}
	if err != nil || len(rest) > 0 || len(parts) != 3 {
		t.Fatalf("%d parts, %d bytes left, %v", len(parts), len(rest), err)
	}
	knowledge := parts[2].([]any)
	bona := knowledge[2].([]any)[0].([]any)
	if bona[0] != "herba-bona" || bona[1] != "Herba bona" {
		t.Errorf("the first plant is %v", bona[:2])
	}
}

// What comes with the program has been through the graph, which changed nothing of
// what the files say.
func TestShippedKnowledgeIsWhatItsFilesSay(t *testing.T) {
	want, err := files.Load(os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	got, err := store.Embedded(context.Background(), data.Files)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got, asWritten); d != "" {
		t.Errorf("the graph changed what it was given (-files +graph):\n%s", d)
	}
}

// What comes with the program is opened from its snapshot. If it was made from
// other files than those beside it, every start of the program is slow.
func TestShippedSnapshotIsNotStale(t *testing.T) {
	fresh, err := store.Snapshot(context.Background(), os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	shipped, err := os.ReadFile(filepath.Join("../../data", store.SnapshotFile))
	if err != nil {
		t.Fatal(err)
	}
	if string(fresh) != string(shipped) {
		t.Error("data/knowledge.cbor was made from other files, or by other code: make it anew with `go generate ./data`")
	}
	if data.Files.Snapshot() != string(shipped) {
		t.Error("the program carries another snapshot than data/knowledge.cbor")
	}
}
