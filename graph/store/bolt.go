package store

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"
	"time"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/kv"
	hidalgo "github.com/hidal-go/hidalgo/kv/bbolt"
	"go.etcd.io/bbolt"
	bolterrors "go.etcd.io/bbolt/errors"
)

// boltFile is a graph in a file of its own.
type boltFile struct{ path string }

func (b boltFile) String() string { return b.path }

// lockWait is how long to wait for whoever has the file locked (common practice,
// no source).
const lockWait = time.Second

func (b boltFile) Open(context.Context) (*Graph, error) {
	var g *Graph
	err := guarded(func() (err error) {
		g, err = b.open()
		return err
	})
	return g, b.explain(err)
}

func (b boltFile) open() (*Graph, error) {
	db, err := b.read()
	if err != nil {
		return nil, err
	}
	g, err := b.graph(db)
	if err != nil {
		_ = db.Close()
	}
	return g, err
}

func (b boltFile) graph(db *bbolt.DB) (*Graph, error) {
	note, err := noteIn(db)
	switch {
	case err != nil:
		return nil, err
	case !note.Whole:
		return nil, fmt.Errorf("loading %s was never finished: run telltale graph load again", b)
	}
	if err := note.readable(b.String()); err != nil {
		return nil, err
	}
	quads, err := kv.New(hidalgo.New(db), cayley.Options{kv.OptNoBloom: true})
	if err != nil {
		return nil, err
	}
	return &Graph{
		Stamp: note.Stamp, kept: quads,
		close: db.Close, guard: guarded, explain: b.explain,
	}, nil
}

// read opens the file for reading.
func (b boltFile) read() (*bbolt.DB, error) {
	info, err := os.Stat(b.path)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, fmt.Errorf("%s is a folder: expected the file of a graph", b)
	case info.Size() == 0:
		return nil, fmt.Errorf("%s is empty: make a graph of it with telltale graph load --graph %s", b, b)
	}
	db, err := bbolt.Open(b.path, 0, &bbolt.Options{ReadOnly: true, Timeout: lockWait})
	switch {
	case errors.Is(err, bolterrors.ErrTimeout), errors.Is(err, fs.ErrPermission):
		return nil, err
	case err != nil:
		return nil, fmt.Errorf("%s is no graph (%w): expected a file made by telltale graph load", b, err)
	}
	if err := uncut(db); err != nil {
		_ = db.Close()
		return nil, err
	}
	return db, nil
}

// uncut tells whether the file is as long as its own bookkeeping says. bbolt does
// not look, and would read past the end.
func uncut(db *bbolt.DB) error {
	return db.View(func(tx *bbolt.Tx) error {
		info, err := os.Stat(db.Path())
		if err != nil {
			return err
		}
		if info.Size() < tx.Size() {
			return fmt.Errorf("%s is cut short (%d of %d bytes are there): load it again", db.Path(), info.Size(), tx.Size())
		}
		return nil
	})
}

// explain says in words what went wrong with a file.
func (b boltFile) explain(err error) error {
	var path *fs.PathError
	switch {
	case err == nil:
		return nil
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no graph in %s: make one with telltale graph load --graph %s", b, b)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s may not be opened by you: permission denied", b)
	case errors.Is(err, bolterrors.ErrTimeout):
		return fmt.Errorf("%s is being written by another program", b)
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("the disk is full: %w", err)
	case errors.As(err, &path):
		return fmt.Errorf("opening the graph: %w", err)
	}
	return err
}

// note is what Telltale writes beside the graph in a file.
type note struct {
	Stamp
	Written int  `json:"written"` // how many of the arrows are made sure of
	Whole   bool `json:"whole"`
}

var (
	noteBucket = []byte("telltale")
	noteKey    = []byte("graph")
)

// errNoNote is what is wrong with a bbolt file that is no graph of ours.
var errNoNote = errors.New("it was not made by telltale graph load")

func noteIn(db *bbolt.DB) (note, error) {
	var n note
	err := db.View(func(tx *bbolt.Tx) error {
		bucket := tx.Bucket(noteBucket)
		if bucket == nil {
			return fmt.Errorf("%s is no graph: %w", db.Path(), errNoNote)
		}
		if err := json.Unmarshal(bucket.Get(noteKey), &n); err != nil {
			return fmt.Errorf("%s is no graph: %w (%w)", db.Path(), errNoNote, err)
		}
		return nil
	})
	return n, err
}

func (n note) put(db *bbolt.DB) error {
	text, err := json.Marshal(n)
	if err != nil {
		return err
	}
	return db.Update(func(tx *bbolt.Tx) error {
		bucket, err := tx.CreateBucketIfNotExists(noteBucket)
		if err != nil {
			return err
		}
		return bucket.Put(noteKey, text)
	})
}
