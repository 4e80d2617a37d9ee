package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"reflect"

	"github.com/fxamacker/cbor/v2"

	"telltale/graph"
	"telltale/graph/files"
)

// SnapshotFile is the name of the compiled form beside the data files.
const SnapshotFile = "knowledge.cbor"

// snapshot is the knowledge as the graph gave it, with the digest of the files
// that it was made from.
type snapshot struct {
	Digest    string
	Knowledge *graph.Knowledge
}

// Embedded opens the knowledge under fsys. If a snapshot is there and was made
// from these very files it is used; otherwise the files are read, put into the
// graph, and the graph is asked. Both ways give the same, the first sooner.
func Embedded(ctx context.Context, fsys fs.FS) (*graph.Knowledge, error) {
	digest, err := Digest(fsys)
	if err != nil {
		return nil, err
	}
	if k := fromSnapshot(fsys, digest); k != nil {
		return k, nil
	}
	return Build(ctx, fsys)
}

func fromSnapshot(fsys fs.FS, digest string) *graph.Knowledge {
	raw, err := fs.ReadFile(fsys, SnapshotFile)
	if err != nil {
		return nil
	}
	var s snapshot
	if err := cbor.Unmarshal(raw, &s); err != nil || s.Digest != digest || s.Knowledge == nil {
		return nil
	}
	s.Knowledge.Index()
	return s.Knowledge
}

// Build reads the files under fsys and sends them through the graph.
func Build(ctx context.Context, fsys fs.FS) (*graph.Knowledge, error) {
	k, err := files.Load(fsys)
	if err != nil {
		return nil, err
	}
	return ThroughGraph(ctx, k)
}

// Snapshot makes the compiled form of the files under fsys.
func Snapshot(ctx context.Context, fsys fs.FS) ([]byte, error) {
	digest, err := Digest(fsys)
	if err != nil {
		return nil, err
	}
	k, err := Build(ctx, fsys)
	if err != nil {
		return nil, err
	}
	mode, err := cbor.CanonicalEncOptions().EncMode()
	if err != nil {
		return nil, err
	}
	return mode.Marshal(snapshot{Digest: digest, Knowledge: k})
}

// Digest sums the data files under fsys and the types they are read into: any
// change of a name, a byte or a field changes it.
func Digest(fsys fs.FS) (string, error) {
	sum := sha256.New()
	writeType(sum, reflect.TypeFor[snapshot](), map[reflect.Type]bool{})
	names, err := files.Names(fsys)
	if err != nil {
		return "", fmt.Errorf("listing the data files: %w", err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(fsys, name)
		if err != nil {
			return "", fmt.Errorf("summing the data files: %w", err)
		}
		fmt.Fprintln(sum, name, len(text))
		sum.Write(text)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// writeType spells a type out, field by field, so that a snapshot of other types
// is not taken for one of these.
func writeType(w io.Writer, t reflect.Type, seen map[reflect.Type]bool) {
	switch t.Kind() {
	case reflect.Pointer, reflect.Slice:
		writeType(w, t.Elem(), seen)
	case reflect.Struct:
		if seen[t] {
			return
		}
		seen[t] = true
		for i := range t.NumField() {
			if f := t.Field(i); f.IsExported() {
				fmt.Fprintln(w, t.Name(), f.Name, f.Type)
				writeType(w, f.Type, seen)
			}
		}
	}
}
