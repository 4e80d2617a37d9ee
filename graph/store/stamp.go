package store

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"io"
	"reflect"
	"time"

	"github.com/cayleygraph/quad"

	"telltale/graph"
)

// Format names the way in which knowledge is written as a graph: a sum of the
// arrows and of what they lead from and to. A program that reads a graph of another
// format could miss what keeps a plant from being cleared, so it reads none.
func Format() string {
	sum := sha256.New()
	writeShape(sum, reflect.TypeFor[graph.Knowledge](), map[reflect.Type]bool{})
	return hex.EncodeToString(sum.Sum(nil))[:8]
}

func writeShape(w io.Writer, t reflect.Type, seen map[reflect.Type]bool) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || seen[t] {
		return
	}
	seen[t] = true
	for i := range t.NumField() {
		f := t.Field(i)
		if arrow := f.Tag.Get("graph"); arrow != "" {
			_, _ = fmt.Fprintln(w, t.Name(), arrow, f.Type)
			writeShape(w, f.Type, seen)
		}
	}
}

// Stamp tells what was loaded: the format, how many arrows, a sum of them all
// that does not depend on their order, and when.
type Stamp struct {
	Format string    `json:"format"`
	Quads  int       `json:"arrows"`
	Sum    string    `json:"sum"`
	Loaded time.Time `json:"loaded"`
}

func stampOf(quads []quad.Quad) Stamp {
	return Stamp{Format: Format(), Quads: len(quads), Sum: sumOf(quads), Loaded: time.Now().UTC().Truncate(time.Second)}
}

// sumOf adds up the SHA-256 sums of the arrows, each written as an N-Quad.
func sumOf(quads []quad.Quad) string {
	var total [sha256.Size / 8]uint64
	for _, q := range quads {
		sum := sha256.Sum256([]byte(q.NQuad()))
		for i := range total {
			total[i] += binary.BigEndian.Uint64(sum[8*i:])
		}
	}
	var out []byte
	for _, t := range total {
		out = binary.BigEndian.AppendUint64(out, t)
	}
	return hex.EncodeToString(out)
}

// same tells whether two stamps are of the same knowledge in the same format,
// whenever they were made.
func (s Stamp) same(other Stamp) bool {
	return s.Format == other.Format && s.Quads == other.Quads && s.Sum == other.Sum
}

// check holds what was read against the stamp.
func (s Stamp) check(quads []quad.Quad) error {
	if len(quads) != s.Quads {
		return fmt.Errorf("the graph is damaged: %d of its %d arrows are there; load it again", len(quads), s.Quads)
	}
	if sumOf(quads) != s.Sum {
		return fmt.Errorf("the graph is damaged: some of its %d arrows are not those that were loaded; load it again", s.Quads)
	}
	return nil
}

// readable tells whether this program can read a graph of that format.
func (s Stamp) readable(where string) error {
	if own := Format(); s.Format != own {
		return fmt.Errorf("%s was loaded by another version of Telltale: its format is %s, this version reads %s; load it again with this version (telltale graph load)", where, s.Format, own)
	}
	return nil
}
