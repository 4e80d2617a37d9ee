package store_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/quad"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/store"
	"telltale/graph/store/storetest"
)

func TestMain(m *testing.M) {
	if where := os.Getenv(loadsInto); where != "" {
		os.Exit(loadAndTell(where))
	}
	code := m.Run()
	if shared.Server != nil {
		shared.Remove()
	}
	os.Exit(code)
}

// everyStore runs a test on each kind of store; empty makes one with nothing in
// it. Memory is the reference.
func everyStore(t *testing.T, test func(t *testing.T, empty func(t *testing.T) store.Store)) {
	t.Parallel()
	t.Run("memory", func(t *testing.T) {
		test(t, func(*testing.T) store.Store { return store.Memory() })
	})
	t.Run("bbolt file", func(t *testing.T) {
		test(t, func(t *testing.T) store.Store { return at(t, filepath.Join(t.TempDir(), "herbs.db")) })
	})
	t.Run("PostgreSQL", func(t *testing.T) {
		server := postgres(t)
		test(t, func(t *testing.T) store.Store { return at(t, server.Database(t)) })
	})
}

// shared is the server that most tests use, each with a database of its own.
var shared struct {
	sync.Mutex
	*storetest.Server
}

func postgres(t *testing.T) *storetest.Server {
	t.Helper()
	shared.Lock()
	defer shared.Unlock()
	if shared.Server == nil {
		shared.Server = storetest.Start(outlives{t})
	}
	return shared.Server
}

// outlives keeps what a test starts: it ends with the program.
type outlives struct{ testing.TB }

func (outlives) Cleanup(func()) {}

func at(t testing.TB, where string) store.Store {
	t.Helper()
	s, err := store.At(where)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func load(t testing.TB, s store.Store, k *graph.Knowledge) *store.Loaded {
	t.Helper()
	done, err := s.Load(context.Background(), k, store.Loading{})
	if err != nil {
		t.Fatalf("loading: %v", err)
	}
	return done
}

func open(t testing.TB, s store.Store) *store.Graph {
	t.Helper()
	g, err := s.Open(context.Background())
	if err != nil {
		t.Fatalf("opening: %v", err)
	}
	t.Cleanup(func() { _ = g.Close() })
	return g
}

// holds fails the test unless the graph holds just that knowledge.
func holds(t testing.TB, g *store.Graph, want *graph.Knowledge) {
	t.Helper()
	got, err := g.Knowledge(context.Background())
	if err != nil {
		t.Fatalf("reading the graph: %v", err)
	}
	if d := cmp.Diff(want, got, sameKnowledge()...); d != "" {
		t.Fatalf("the graph holds something else (-loaded +held):\n%s", d)
	}
}

func sameKnowledge() []cmp.Option {
	return []cmp.Option{cmpopts.IgnoreUnexported(graph.Knowledge{}, graph.Vocabulary{}, graph.Statement{}, graph.Range{}), cmpopts.EquateEmpty()}
}

// meadow is a made graph with as many plants as told.
func meadow(plants int) *graph.Knowledge {
	pieces := []graphtest.Piece{
		graphtest.States("stem.surface", "hairless bristly woolly", "bristly ~ woolly", "group hairs"),
		graphtest.States("leaf.margin", "entire serrate crenate"),
	}
	for i := range plants {
		pieces = append(pieces, graphtest.Plant(fmt.Sprintf("herba-%03d", i),
			"stem.surface usually bristly at rosette", "stem.surface rarely hairless", "leaf.margin always serrate on upper", "serious"))
	}
	return graphtest.Knowledge(pieces...)
}

func TestWhatIsLoadedIsHeld(t *testing.T) {
	everyStore(t, func(t *testing.T, empty func(*testing.T) store.Store) {
		s := empty(t)
		for seed := range 6 {
			k := graphtest.AnyKnowledge().Example(seed)
			load(t, s, k)
			holds(t, open(t, s), k)
		}
	})
}

func TestALoadReplacesAllThatWasThere(t *testing.T) {
	everyStore(t, func(t *testing.T, empty func(*testing.T) store.Store) {
		s := empty(t)
		for _, plants := range []int{30, 2, 2} {
			load(t, s, meadow(plants))
			holds(t, open(t, s), meadow(plants))
		}
	})
}

func TestWhoHasTheGraphOpenGoesOnAskingTheOldOne(t *testing.T) {
	everyStore(t, func(t *testing.T, empty func(*testing.T) store.Store) {
		s := empty(t)
		load(t, s, meadow(3))
		old := open(t, s)
		for plants := range 3 { // old graphs are cleared away by loads after the next
			load(t, s, meadow(plants))
		}
		holds(t, old, meadow(3))
		holds(t, open(t, s), meadow(2))
	})
}

func TestTheStampTellsWhatWasLoaded(t *testing.T) {
	everyStore(t, func(t *testing.T, empty func(*testing.T) store.Store) {
		s := empty(t)
		done := load(t, s, meadow(4))
		stamp := open(t, s).Stamp
		if stamp != done.Stamp {
			t.Errorf("the stamp read is %+v, the one written %+v", stamp, done.Stamp)
		}
		if stamp.Format != store.Format() || stamp.Quads == 0 || stamp.Sum == "" || stamp.Loaded.IsZero() {
			t.Errorf("the stamp is not filled in: %+v", stamp)
		}
	})
}

func TestALoadThatIsStoppedChangesNothing(t *testing.T) {
	everyStore(t, func(t *testing.T, empty func(*testing.T) store.Store) {
		s := empty(t)
		load(t, s, meadow(2))
		total := stopAfter(t, s, meadow(40), 2)
		holds(t, open(t, s), meadow(2))
		if total < 300 {
			t.Fatalf("the load is too short to be stopped half-way: %d arrows", total)
		}
	})
}

// stopAfter loads until so many batches of 100 are there, and stops.
func stopAfter(t *testing.T, s store.Store, k *graph.Knowledge, batches int) (total int) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	_, err := s.Load(ctx, k, store.Loading{Batch: 100, Report: func(p store.Progress) {
		total = p.Total
		if p.Done >= 100*batches {
			stop()
		}
	}})
	if err == nil || !strings.Contains(err.Error(), "is as it was") {
		t.Fatalf("the load was stopped, and said %v", err)
	}
	return total
}

func TestAStoppedLoadGoesOnWhereItStopped(t *testing.T) {
	lasting(t, func(t *testing.T, s store.Store) {
		load(t, s, meadow(2))
		stopAfter(t, s, meadow(40), 3)
		done := load(t, s, meadow(40))
		if done.Resumed != 300 || done.Dropped {
			t.Errorf("resumed %d arrows (dropped %v), want the 300 that were there", done.Resumed, done.Dropped)
		}
		holds(t, open(t, s), meadow(40))
	})
}

func TestAStoppedLoadOfOtherKnowledgeIsDropped(t *testing.T) {
	lasting(t, func(t *testing.T, s store.Store) {
		stopAfter(t, s, meadow(40), 3)
		done := load(t, s, meadow(39))
		if done.Resumed != 0 || !done.Dropped {
			t.Errorf("resumed %d arrows (dropped %v), want none, and the rest dropped", done.Resumed, done.Dropped)
		}
		holds(t, open(t, s), meadow(39))
	})
}

// lasting runs a test on the stores that outlast the program.
func lasting(t *testing.T, test func(*testing.T, store.Store)) {
	everyStore(t, func(t *testing.T, empty func(*testing.T) store.Store) {
		if s := empty(t); s.String() != "memory" {
			test(t, s)
		}
	})
}

func TestWhatCayleyLeavesHalfWrittenIsNotTakenForAGraph(t *testing.T) {
	lasting(t, func(t *testing.T, s store.Store) {
		stopAfter(t, s, meadow(40), 3)
		if _, err := s.Open(context.Background()); err == nil || !strings.Contains(err.Error(), "telltale graph load") {
			t.Errorf("a graph was opened that was never finished, or it is not said what to do: %v", err)
		}
	})
}

func TestTwoLoadsAtOnceAreOneTooMany(t *testing.T) {
	lasting(t, func(t *testing.T, s store.Store) {
		var second error
		_, err := s.Load(context.Background(), meadow(20), store.Loading{Batch: 200, Report: func(p store.Progress) {
			if second == nil && p.Done > 0 {
				_, second = s.Load(context.Background(), meadow(3), store.Loading{})
			}
		}})
		if err != nil {
			t.Fatalf("the first load: %v", err)
		}
		if second == nil || !strings.Contains(second.Error(), "another load into") {
			t.Errorf("the second load said %v", second)
		}
		holds(t, open(t, s), meadow(20))
	})
}

func TestWhoeverAsksCannotWrite(t *testing.T) {
	everyStore(t, func(t *testing.T, empty func(*testing.T) store.Store) {
		s := empty(t)
		load(t, s, meadow(2))
		g := open(t, s)
		quads, err := g.Quads(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		more := quad.Quad{Subject: quad.IRI("taxon/herba-000"), Predicate: quad.IRI("note"), Object: quad.String("eat it")}
		for what, err := range map[string]error{
			"added":      quads.ApplyDeltas([]cayley.Delta{{Quad: more, Action: cayley.Add}}, cayley.IgnoreOpts{}),
			"taken away": quads.ApplyDeltas([]cayley.Delta{{Quad: meadow(2).Quads()[0], Action: cayley.Delete}}, cayley.IgnoreOpts{}),
			"written":    write(quads, more),
		} {
			if !errors.Is(err, store.ErrReadOnly) {
				t.Errorf("an arrow was %s: %v", what, err)
			}
		}
		holds(t, g, meadow(2))
		holds(t, open(t, s), meadow(2))
	})
}

func write(quads cayley.QuadStore, q quad.Quad) error {
	w, err := quads.NewQuadWriter()
	if err != nil {
		return err
	}
	_, err = w.WriteQuads([]quad.Quad{q})
	return errors.Join(err, w.Close())
}

func TestProgressGoesUpToAllThereIs(t *testing.T) {
	everyStore(t, func(t *testing.T, empty func(*testing.T) store.Store) {
		last := store.Progress{Done: -1}
		done, err := empty(t).Load(context.Background(), meadow(20), store.Loading{Batch: 70, Report: func(p store.Progress) {
			if p.Done <= last.Done || p.Done > p.Total {
				t.Errorf("after %+v came %+v", last, p)
			}
			last = p
		}})
		if err != nil {
			t.Fatal(err)
		}
		if last.Done != done.Quads || last.Total != done.Quads {
			t.Errorf("the last progress is %+v, %d arrows were loaded", last, done.Quads)
		}
	})
}
