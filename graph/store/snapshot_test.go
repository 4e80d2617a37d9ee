package store

import (
	"context"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
)

var asDrawn = cmp.Options{cmpopts.IgnoreUnexported(graph.Knowledge{}, graph.Vocabulary{}), cmpopts.EquateEmpty()}

func TestSnapshotNeverChangesWhatItIsGiven(t *testing.T) {
	digest := strings.Repeat("0", 64)
	rapid.Check(t, func(t *rapid.T) {
		k := graphtest.AnyKnowledge().Draw(t, "knowledge")
		raw, err := packSnapshot(digest, k)
		if err != nil {
			t.Fatal(err)
		}
		back, err := unpackSnapshot(digest, string(raw))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(k, back, asDrawn); d != "" {
			t.Fatalf("-given +read:\n%s", d)
		}
	})
}

// Lists are cut from one piece; adding to one must not write into the next.
func TestListsOfASnapshotAreTheirOwn(t *testing.T) {
	k := graphtest.Knowledge(graphtest.States("stem.surface", "hairless bristly"), graphtest.Plant("herba-bona", "stem.surface always bristly"), graphtest.Plant("herba-mala", "stem.surface always hairless"))
	raw, err := packSnapshot("", k)
	if err != nil {
		t.Fatal(err)
	}
	back, err := unpackSnapshot("", string(raw))
	if err != nil {
		t.Fatal(err)
	}
	_ = append(back.Taxa[0].Sources, "flora")
	if d := cmp.Diff(k, back, asDrawn); d != "" {
		t.Errorf("-given +read:\n%s", d)
	}
}

func TestWhatASnapshotHasNoRoomForIsAnError(t *testing.T) {
	for shows, k := range map[string]*graph.Knowledge{
		"a number below zero": {Sources: []*graph.Source{{Year: -44}}},
	} {
		if raw, err := packSnapshot("", k); err == nil {
			t.Errorf("%s: %x", shows, raw)
		}
	}
	p := &packer{}
	if p.value(reflect.ValueOf(map[string]int{})); p.err == nil {
		t.Error("a map was written")
	}
}

// FuzzUnpack reads what is no snapshot, past the digest and the checksum: an error,
// never a panic.
func FuzzUnpack(f *testing.F) {
	folder := graphtest.Folder()
	raw, err := Snapshot(context.Background(), folder)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(raw[72:]))
	f.Add("\x86\xf6\x80\x80")
	f.Add("\x87\xf6\x9b\xff\xff\xff\xff\xff\xff\xff\xff")
	f.Fuzz(func(t *testing.T, text string) {
		u := &unpacker{rest: text, fields: map[reflect.Type][]int{}}
		k := &graph.Knowledge{}
		if err := u.value(reflect.ValueOf(k).Elem()); err == nil && len(u.rest) == len(text) {
			t.Error("nothing was read")
		}
	})
}
