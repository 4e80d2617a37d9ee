package query

import (
	"context"
	"errors"
	"fmt"
	"runtime/debug"
	"runtime/metrics"
	"strings"
	"time"

	cayley "github.com/cayleygraph/cayley/graph"

	"telltale/graph"
)

// Query is a question in one of the languages. Name is where it comes from, for
// errors: a file, "query".
type Query struct {
	Language string
	Name     string
	Text     string
}

// The languages of Cayley that a graph is asked in.
const (
	Gizmo   = "gizmo"   // paths in JavaScript
	GraphQL = "graphql" // trees
	MQL     = "mql"     // patterns in JSON
)

// Languages lists them.
func Languages() []string { return []string{Gizmo, GraphQL, MQL} }

// Limits is what a query may take; 0 is the usual.
type Limits struct {
	Time   time.Duration
	Rows   int    // -1 for as many as there are
	Memory uint64 // bytes
}

// What a query may take where nothing is told (common practice, no source).
const (
	UsualTime   = 10 * time.Second
	UsualRows   = 1000
	usualMemory = 1 << 30
	LongestText = 64 << 10 // bytes of the query itself
)

func (l Limits) filled() Limits {
	if l.Time == 0 {
		l.Time = UsualTime
	}
	if l.Rows == 0 {
		l.Rows = UsualRows
	}
	if l.Memory == 0 {
		l.Memory = usualMemory
	}
	return l
}

var (
	errTime   = errors.New("time")
	errMemory = errors.New("memory")
)

// Run asks a graph. A query that takes too long or too much memory is stopped, and
// is an error; one that has too many rows is answered with as many as may be.
func Run(ctx context.Context, quads cayley.QuadStore, q Query, limits Limits) (*Answer, error) {
	ask, known := askers[q.Language]
	switch {
	case !known:
		return nil, graph.Unknown(graph.Place{}, "query language", q.Language, Languages())
	case len(q.Text) > LongestText:
		return nil, fmt.Errorf("%s: a query of %d bytes is too long, expected %d at the most", q.Name, len(q.Text), LongestText)
	case strings.TrimSpace(q.Text) == "":
		return nil, fmt.Errorf("%s: it asks nothing", q.Name)
	}
	if err := checkNames(quads, q); err != nil {
		return nil, err
	}
	limits = limits.filled()
	ctx, stop := context.WithTimeoutCause(ctx, limits.Time, errTime)
	defer stop()
	ctx, end := context.WithCancelCause(ctx)
	defer end(nil)
	go watchMemory(ctx, limits.Memory, end)
	rows := &collector{limit: max(limits.Rows, 0)}
	err := answerOrGiveUp(ctx, func() error { return ask(ctx, quads, q, rows) })
	switch cause := context.Cause(ctx); {
	case errors.Is(cause, errTime):
		return nil, fmt.Errorf("%s: stopped after %v, which is all the time it has (--timeout)", q.Name, limits.Time)
	case errors.Is(cause, errMemory):
		return nil, fmt.Errorf("%s: stopped, because it takes more than %d MB of memory", q.Name, limits.Memory>>20)
	case cause != nil:
		return nil, cause
	case err != nil:
		return nil, err
	}
	return rows.finish(q.Text), nil
}

// asker asks a graph in a language and hands over the rows. It may go on for a
// moment after the context ended, but then hands over nothing.
type asker func(ctx context.Context, quads cayley.QuadStore, q Query, rows *collector) error

var askers = map[string]asker{Gizmo: askGizmo, GraphQL: askGraphQL, MQL: askMQL}

// answerOrGiveUp does not wait for a query that is stuck where it cannot be
// stopped, in a regular expression or in a database that does not answer.
func answerOrGiveUp(ctx context.Context, ask func() error) error {
	done := make(chan error, 1)
	go func() { done <- caught(ask) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// caught makes an error of what Cayley panics at: some queries that mean nothing,
// and damaged files.
func caught(do func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if what := recover(); what != nil {
			err = fmt.Errorf("this cannot be asked: %v", what)
		}
	}()
	return do()
}

// watchMemory ends a query that makes the program grow by more than so many bytes.
// A stack may grow by an eighth of that: the program ends when one is full.
func watchMemory(ctx context.Context, most uint64, end func(error)) {
	heapBefore, stacksBefore := memory()
	tick := time.NewTicker(50 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			heap, stacks := memory()
			if heap > heapBefore+most || stacks > stacksBefore+most/8 {
				end(errMemory)
				return
			}
		}
	}
}

func memory() (heap, stacks uint64) {
	samples := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}, {Name: "/memory/classes/heap/stacks:bytes"}}
	metrics.Read(samples)
	return samples[0].Value.Uint64(), samples[1].Value.Uint64()
}
