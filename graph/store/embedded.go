package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"reflect"

	"telltale/graph"
	"telltale/graph/files"
)

// SnapshotFile is the name of the compiled form beside the data files.
const SnapshotFile = "knowledge.cbor"

// A SnapshotFS is a folder that hands its snapshot out without a copy being made.
type SnapshotFS interface {
	fs.FS
	Snapshot() string
}

// Embedded opens the knowledge under fsys. If a snapshot is there and was made
// from these very files it is used; otherwise the files are read, put into the
// graph, and the graph is asked. Both ways give the same, the first sooner.
func Embedded(ctx context.Context, fsys fs.FS) (*graph.Knowledge, error) {
	digest, err := Digest(fsys)
	if err != nil {
		return nil, err
	}
	if k, err := unpackSnapshot(digest, snapshotOf(fsys)); err == nil {
		k.Index()
		k.MarkRulesChecked() // the compiler of snapshots refuses a rule that is wrong
		return k, nil
	}
	return Build(ctx, fsys)
}

// snapshotOf gives the snapshot that lies in a folder, "" if there is none.
func snapshotOf(fsys fs.FS) string {
	if s, ok := fsys.(SnapshotFS); ok {
		return s.Snapshot()
	}
	raw, _ := fs.ReadFile(fsys, SnapshotFile) // where there is none, the files are read
	return string(raw)
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
	return packSnapshot(digest, k)
}

// Digest sums the data files under fsys and the types they are read into: any
// change of a name, a byte, a field or a word that stands for a number changes it.
func Digest(fsys fs.FS) (string, error) {
	sum := sha256.New()
	writeType(sum, reflect.TypeFor[graph.Knowledge](), map[reflect.Type]bool{})
	fmt.Fprintln(sum, graph.StageNames(), graph.KindNames(), graph.FrequencyNames(), graph.SeverityNames())
	names, err := files.Names(fsys)
	if err != nil {
		return "", fmt.Errorf("listing the data files: %w", err)
	}
	buffer := make([]byte, 32<<10)
	for _, name := range names {
		if err := sumFile(sum, fsys, name, buffer); err != nil {
			return "", fmt.Errorf("summing the data files: %w", err)
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

func sumFile(sum hash.Hash, fsys fs.FS, name string, buffer []byte) error {
	f, err := fsys.Open(name)
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	fmt.Fprintln(sum, name)
	n, err := io.CopyBuffer(sum, struct{ io.Reader }{f}, buffer)
	fmt.Fprintln(sum, n)
	return err
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
