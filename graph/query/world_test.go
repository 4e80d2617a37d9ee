package query_test

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	cayley "github.com/cayleygraph/cayley/graph"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/query"
	"telltale/graph/store"
	"telltale/graph/store/storetest"
)

// world is a made graph: two deadly plants of which one stands in the water, a
// carrot whose seed is both used and mild, and a daisy of another family that only
// irritates.
func world() *graph.Knowledge {
	return graphtest.Knowledge(
		graphtest.States("plant.habitat", "wetland streamside wet_meadow meadow"),
		graphtest.States("inflorescence.type", "compound_umbel head"),
		graphtest.Measure("plant.height", "cm"),
		family("Umbelbush", graphtest.Plant("water-bane", "deadly", "plant.habitat usually wetland", "plant.habitat sometimes streamside",
			"inflorescence.type always compound_umbel", "plant.height always 50-150 cm", "looks like carrot at rosette leafy_shoot")),
		family("Umbelbush", graphtest.Plant("dry-bane", "deadly", "plant.habitat always meadow", "plant.habitat never wetland", "inflorescence.type always compound_umbel")),
		family("Umbelbush", graphtest.Plant("carrot", "plant.habitat always meadow", "inflorescence.type always compound_umbel", "looks like dry-bane"), carrotSeed),
		family("Daisyworts", graphtest.Plant("daisy", "plant.habitat usually wetland", "inflorescence.type always head"), daisyLeaf),
		graphtest.Rule(`leave carrot when plant.height > 90.0`),
	)
}

// family puts a made plant into a family and says more of it.
func family(name string, plant graphtest.Piece, more ...func(*graph.Taxon)) graphtest.Piece {
	return func(k *graph.Knowledge) {
		plant(k)
		t := k.Taxa[len(k.Taxa)-1]
		t.Family = name
		for _, say := range more {
			say(t)
		}
	}
}

func carrotSeed(t *graph.Taxon) {
	t.Uses = []graph.Use{
		{Parts: []string{"seed"}, Category: "medicine", Use: "wind", Sources: []string{graph.Memory}},
		{Parts: []string{"root"}, Category: "food", Use: "soup", Sources: []string{graph.Memory}},
	}
	t.Toxicity = []graph.Toxicity{{Parts: []string{"seed"}, Severity: graph.Mild, Route: graph.Ingestion, Effect: "hiccups", Sources: []string{graph.Memory}}}
}

func daisyLeaf(t *graph.Taxon) {
	t.Uses = []graph.Use{{Parts: []string{"leaf"}, Category: "food", Use: "salad", Sources: []string{graph.Memory}}}
	t.Toxicity = []graph.Toxicity{{Parts: []string{"whole_plant"}, Irritant: true, Route: graph.Skin, Effect: "a rash", Sources: []string{graph.Memory}}}
}

// everyGraph runs a test on the same knowledge in each kind of store.
func everyGraph(t *testing.T, k *graph.Knowledge, test func(t *testing.T, g *store.Graph)) {
	t.Run("memory", func(t *testing.T) { test(t, opened(t, store.Memory(), k)) })
	t.Run("bbolt file", func(t *testing.T) { test(t, loaded(t, filepath.Join(t.TempDir(), "herbs.db"), k)) })
	t.Run("PostgreSQL", func(t *testing.T) { test(t, loaded(t, postgres(t).Database(t), k)) })
}

func loaded(t testing.TB, where string, k *graph.Knowledge) *store.Graph {
	t.Helper()
	s, err := store.At(where)
	if err != nil {
		t.Fatal(err)
	}
	return opened(t, s, k)
}

func inMemory(t testing.TB, k *graph.Knowledge) *store.Graph { return opened(t, store.Memory(), k) }

func opened(t testing.TB, s store.Store, k *graph.Knowledge) *store.Graph {
	t.Helper()
	if _, err := s.Load(context.Background(), k, store.Loading{}); err != nil {
		t.Fatal(err)
	}
	g, err := s.Open(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = g.Close() })
	return g
}

var shared struct {
	sync.Mutex
	*storetest.Server
}

// postgres is a server for all tests, each with a database of its own.
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

// ask runs a query in Gizmo and gives the rows, each in one line.
func ask(t testing.TB, g *store.Graph, text string) []string {
	t.Helper()
	return askIn(t, g, query.Query{Language: query.Gizmo, Name: "query", Text: text})
}

func askIn(t testing.TB, g *store.Graph, q query.Query) []string {
	t.Helper()
	a, err := query.Run(context.Background(), quadsOf(t, g), q, query.Limits{})
	if err != nil {
		t.Fatalf("%s: %v", q.Text, err)
	}
	return lines(a)
}

func quadsOf(t testing.TB, g *store.Graph) cayley.QuadStore {
	t.Helper()
	quads, err := g.Quads(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return quads
}

func lines(a *query.Answer) []string {
	var out []string
	for _, r := range a.Rows {
		var cells []string
		for _, c := range a.Columns {
			cells = append(cells, query.Text(r[c]))
		}
		out = append(out, strings.Join(cells, " | "))
	}
	return out
}

func TestMain(m *testing.M) {
	code := m.Run()
	if shared.Server != nil {
		shared.Remove()
	}
	os.Exit(code)
}

func sameLines(t testing.TB, got, want []string) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("got\n\t%s\nwant\n\t%s", strings.Join(got, "\n\t"), strings.Join(want, "\n\t"))
	}
}
