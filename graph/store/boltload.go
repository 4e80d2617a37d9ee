package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/kv"
	"github.com/cayleygraph/quad"
	hidalgo "github.com/hidal-go/hidalgo/kv/bbolt"
	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"

	telltale "telltale/graph"
)

// Load fills FILE.loading and renames it to FILE.
func (b boltFile) Load(ctx context.Context, k *telltale.Knowledge, how Loading) (*Loaded, error) {
	if real, err := filepath.EvalSymlinks(b.path); err == nil {
		b.path = real // the file that is meant is replaced, not the link to it
	}
	if err := b.replaceable(); err != nil {
		return nil, err
	}
	var done *Loaded
	err := guarded(func() (err error) {
		done, err = b.load(ctx, quadsOf(k), how)
		return err
	})
	return done, stopped(b.explain(err), b.String())
}

// replaceable keeps a load from overwriting what is no graph.
func (b boltFile) replaceable() error {
	db, err := b.read()
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("%w; it is not overwritten: move it away first", b.explain(err))
	}
	defer func() { _ = db.Close() }()
	if _, err = noteIn(db); err != nil {
		return fmt.Errorf("%w; it is not overwritten: move it away first", err)
	}
	return nil
}

func (b boltFile) load(ctx context.Context, quads []quad.Quad, how Loading) (*Loaded, error) {
	f, done, err := b.begin(stampOf(quads))
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	store, err := kv.New(hidalgo.New(f.DB), cayley.Options{kv.OptNoBloom: true})
	if err != nil {
		return nil, err
	}
	n := note{Stamp: done.Stamp, Written: done.Resumed}
	err = how.batches(ctx, done.Resumed, quads, func(batch []quad.Quad, written int) error {
		if err := writeBatch(store, batch); err != nil {
			return err
		}
		n.Written = written
		return n.put(f.DB)
	})
	if err != nil {
		return nil, err
	}
	if err := verify(ctx, store, done.Stamp); err != nil {
		return nil, errors.Join(err, os.Remove(f.Path())) // so that the next load begins anew
	}
	n.Whole = true
	if err := n.put(f.DB); err != nil {
		return nil, err
	}
	return done, b.replaceWith(f.Path())
}

// writeBatch makes sure of some arrows. Those that are there already, because a
// load was killed before it could note them, are no error.
func writeBatch(store cayley.QuadStore, batch []quad.Quad) error {
	w, err := store.NewQuadWriter()
	if err != nil {
		return err
	}
	if _, err := quad.CopyBatch(w.(quad.BatchWriter), quad.NewReader(batch), len(batch)); err != nil {
		_ = w.Close()
		return err
	}
	return w.Close()
}

// verify reads a graph back before it takes the place of another.
func verify(ctx context.Context, store cayley.QuadStore, stamp Stamp) error {
	back, err := telltale.Fetch(ctx, store)
	if err != nil {
		return err
	}
	return stamp.check(back)
}

// loadingFile is the file that a load fills, locked against other loads.
type loadingFile struct {
	*bbolt.DB
	file *os.File
}

// begin opens the file to be filled: what an interrupted load of the same
// knowledge has left, or an empty one.
func (b boltFile) begin(stamp Stamp) (*loadingFile, *Loaded, error) {
	done := &Loaded{Stamp: stamp}
	for {
		f, err := b.lock()
		if unborn(err, b.loading()) {
			if err := os.Remove(b.loading()); err != nil {
				return nil, nil, err
			}
			continue
		}
		if err != nil {
			return nil, nil, b.inTheWay(err)
		}
		n, err := noteIn(f.DB)
		switch {
		case !f.inPlace(): // the load that was waited for has renamed it
			_ = f.Close()
			continue
		case err == nil && n.same(stamp):
			done.Resumed, done.Loaded = n.Written, stamp.Loaded
			return f, done, nil
		case f.fresh():
			err = f.prepare(stamp)
			if err != nil {
				_ = f.Close()
			}
			return f, done, err
		}
		done.Dropped = true
		err = os.Remove(f.Path())
		_ = f.Close()
		if err != nil {
			return nil, nil, err
		}
	}
}

func (b boltFile) lock() (*loadingFile, error) {
	f := &loadingFile{}
	var err error
	f.DB, err = bbolt.Open(b.loading(), 0o644, &bbolt.Options{
		Timeout:         lockWait,
		InitialMmapSize: 1 << 28, // so that it need not be mapped anew while it grows
		OpenFile: func(name string, flag int, mode os.FileMode) (*os.File, error) {
			var err error
			f.file, err = os.OpenFile(name, flag, mode)
			return f.file, err
		},
	})
	return f, err
}

func (b boltFile) loading() string { return b.path + ".loading" }

// unborn tells whether the file is what a load leaves that was killed in its very
// first step, before the four pages that every bbolt file begins with were there.
func unborn(err error, path string) bool {
	if err == nil || errors.Is(err, bolterrors.ErrTimeout) {
		return false
	}
	info, err := os.Stat(path)
	return err == nil && info.Size() <= int64(4*os.Getpagesize())
}

func (b boltFile) inTheWay(err error) error {
	switch {
	case errors.Is(err, bolterrors.ErrTimeout):
		return fmt.Errorf("another load into %s is running", b)
	case errors.Is(err, bolterrors.ErrInvalid), errors.Is(err, bolterrors.ErrVersionMismatch), errors.Is(err, bolterrors.ErrChecksum):
		return fmt.Errorf("%s is in the way and was not left by a load (%w): move it away", b.loading(), err)
	}
	return err
}

// inPlace tells whether the locked file is still the one of that name.
func (f *loadingFile) inPlace() bool {
	ours, err := f.file.Stat()
	if err != nil {
		return false
	}
	there, err := os.Stat(f.Path())
	return err == nil && os.SameFile(ours, there)
}

// fresh tells whether nothing was ever written to the file.
func (f *loadingFile) fresh() bool {
	empty := true
	_ = f.View(func(tx *bbolt.Tx) error {
		key, _ := tx.Cursor().First()
		empty = key == nil
		return nil
	})
	return empty
}

func (f *loadingFile) prepare(stamp Stamp) error {
	if err := kv.Init(hidalgo.New(f.DB), nil); err != nil {
		return err
	}
	return note{Stamp: stamp}.put(f.DB)
}

// replaceWith renames the filled file to the one it is for, with the rights that
// one had.
func (b boltFile) replaceWith(filled string) error {
	if old, err := os.Stat(b.path); err == nil {
		if err := os.Chmod(filled, old.Mode().Perm()); err != nil {
			return err
		}
	}
	if err := os.Rename(filled, b.path); err != nil {
		return err
	}
	dir, err := os.Open(filepath.Dir(b.path))
	if err != nil {
		return err
	}
	defer func() { _ = dir.Close() }()
	return dir.Sync() // so that the new name outlives a power cut
}
