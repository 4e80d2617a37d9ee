package exchange

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/cayleygraph/quad"
	"github.com/cayleygraph/quad/nquads"

	"telltale/graph"
)

// The bounds on a graph that is read: the shipped one has about 25 MB in 140,000
// lines, of which the longest has some 2 kB. Ten times that is more than one
// teacher writes (common practice, no source).
const (
	maxGraph = 256 << 20
	maxLine  = 1 << 20
)

// WriteNQuads writes the knowledge in N-Quads (W3C Recommendation 2014), one arrow
// a line, always in the same order.
func WriteNQuads(w io.Writer, k *graph.Knowledge) error {
	out := nquads.NewWriter(w)
	if _, err := out.WriteQuads(Quads(k)); err != nil {
		return fmt.Errorf("writing N-Quads: %w", err)
	}
	return out.Close()
}

// ReadNQuads reads a graph in N-Quads; name is what problems call it. The error is
// a graph.Problems that lists everything wrong.
func ReadNQuads(ctx context.Context, name string, r io.Reader) (*Received, error) {
	in, err := newIntake(name)
	if err != nil {
		return nil, err
	}
	lines := bufio.NewScanner(&limited{r: r, left: maxGraph})
	lines.Buffer(make([]byte, 0, 64<<10), maxLine)
	at := graph.Place{File: name}
	for lines.Scan() && !in.full() {
		at.Line++
		if at.Line%1024 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		line := bytes.TrimPrefix(lines.Bytes(), []byte("\ufeff"))
		if text := strings.TrimSpace(string(line)); text != "" && text[0] != '#' {
			in.takeLine(text, at)
		}
	}
	if err := lines.Err(); err != nil {
		at.Line++
		in.problems.Add(at, "%s", unread(err))
	}
	return in.received(ctx)
}

// unread says why reading stopped.
func unread(err error) string {
	switch {
	case errors.Is(err, bufio.ErrTooLong):
		return fmt.Sprintf("this line has more than the %d bytes that are read of one", maxLine)
	case errors.Is(err, errTooLarge):
		return fmt.Sprintf("this file has more than the %d MB that are read", maxGraph>>20)
	}
	return "cannot be read: " + err.Error()
}

var errTooLarge = errors.New("too large")

// limited reads so many bytes and then fails, where io.LimitedReader would end as
// if the file did.
type limited struct {
	r    io.Reader
	left int64
}

func (l *limited) Read(p []byte) (int, error) {
	if l.left <= 0 {
		var one [1]byte
		if n, err := l.r.Read(one[:]); n == 0 {
			return 0, err
		}
		return 0, errTooLarge
	}
	n, err := l.r.Read(p[:min(int64(len(p)), l.left)])
	l.left -= int64(n)
	return n, err
}

func (in *intake) takeLine(line string, at graph.Place) {
	if !utf8.ValidString(line) {
		in.problems.Add(at, "this is not UTF-8: N-Quads are written in that encoding")
		return
	}
	q, err := parseLine(line)
	if err != nil {
		in.problems.Add(at, "this is no line of N-Quads: %s; expected <node> <arrow> <node> . or <node> <arrow> \"text\" .", err)
		return
	}
	in.take(q, at)
}

func parseLine(line string) (q quad.Quad, err error) {
	// The parser panics on some broken escapes; a hostile line must end in an error.
	defer func() {
		if r := recover(); r != nil {
			err = errors.New("an escape is broken")
		}
	}()
	if q, err = nquads.Parse(line); err != nil {
		return q, errors.New("it ends early, or a mark stands in the wrong place")
	}
	if _, ok := q.Predicate.(quad.IRI); !ok || !q.IsValid() {
		return q, errors.New("no arrow stands in second place")
	}
	if _, word := q.Object.(quad.String); word && !strings.Contains(line, `"`) {
		return q, errors.New("a text stands without quotes")
	}
	return q, nil
}
