package store

import (
	"context"
	"errors"
	"fmt"

	"github.com/cayleygraph/quad"

	"telltale/graph"
)

// Loading is how to load: how many arrows at a time, and whom to tell.
type Loading struct {
	Batch  int            // 0 for as many as usual
	Report func(Progress) // called after every batch; may be nil
}

// Progress is how far a load has come.
type Progress struct{ Done, Total int }

// Loaded is what a load came to.
type Loaded struct {
	Stamp
	// Resumed is how many arrows an interrupted load of the same knowledge had
	// left, which were not written again.
	Resumed int
	// Dropped tells that an interrupted load of other knowledge was thrown away.
	Dropped bool
}

// usualBatch is how many arrows are made sure of at a time: some hundred
// milliseconds' worth (measured; any number would do).
const usualBatch = 5000

func (l Loading) batch() int {
	if l.Batch > 0 {
		return l.Batch
	}
	return usualBatch
}

func (l Loading) report(done, total int) {
	if l.Report != nil {
		l.Report(Progress{Done: done, Total: total})
	}
}

// batches hands out the quads from the one at place done on, some at a time. put
// gets how many will be there after it.
func (l Loading) batches(ctx context.Context, done int, quads []quad.Quad, put func(batch []quad.Quad, done int) error) error {
	total := len(quads)
	for l.report(done, total); done < total; l.report(done, total) {
		if err := ctx.Err(); err != nil {
			return err
		}
		n := min(l.batch(), total-done)
		if err := put(quads[done:done+n], done+n); err != nil {
			return err
		}
		done += n
	}
	return nil
}

// quadsOf writes knowledge as a graph, each arrow once.
func quadsOf(k *graph.Knowledge) []quad.Quad {
	all := k.Quads()
	seen := make(map[quad.Quad]bool, len(all))
	out := all[:0]
	for _, q := range all {
		if !seen[q] {
			seen[q] = true
			out = append(out, q)
		}
	}
	return out
}

// stopped says what an interrupted load left behind.
func stopped(err error, where string) error {
	if err == nil {
		return nil
	}
	if errors.Is(err, context.Canceled) {
		return fmt.Errorf("stopped loading: %s is as it was; the same command again goes on from here", where)
	}
	return fmt.Errorf("not loaded, and what was there is as it was: %w", err)
}
