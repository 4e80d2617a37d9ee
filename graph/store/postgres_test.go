package store_test

import (
	"context"
	"net/url"
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/store"
	"telltale/graph/store/storetest"
)

func TestWhatIsWrongWithADatabaseIsSaidInWords(t *testing.T) {
	t.Parallel()
	server := postgres(t)
	empty := server.Database(t)
	herbs := server.Database(t)
	load(t, at(t, herbs), meadow(2))
	name := storetest.NameOf(herbs)
	future := server.Database(t)
	load(t, at(t, future), meadow(2))
	run(t, server, storetest.NameOf(future), `UPDATE telltale.generation SET format = 'hemlock'`)
	run(t, server, name, `CREATE USER stranger PASSWORD 'x'`)
	for _, r := range []struct{ name, address, want string }{
		{"an empty database", empty, "there is no graph in this database yet: load one with telltale graph load"},
		{"a database that is not there", server.Address(storetest.Superuser, "nowhere"), "there is no such database"},
		{"a wrong password", server.Network(url.UserPassword(storetest.Superuser, "guess"), name), `does not take the password of the user "gatherer"`},
		{"a user who is not known", server.Address("nobody_at_all", name), `does not let the user "nobody_at_all" in`},
		{"a user without rights", server.Address("stranger", name), `the user "stranger" may not do this`},
		{"a graph of another version", future, "its format is hemlock, this version reads " + store.Format()},
		{"no server there", "postgres://gatherer@127.0.0.1:1/herbs", "PostgreSQL does not answer"},
		{"no such host", "postgres://gatherer@host.invalid/herbs", `there is no host "host.invalid"`},
		{"no such socket", "postgres://gatherer@/herbs?host=/nowhere", "PostgreSQL does not answer"},
	} {
		t.Run(r.name, func(t *testing.T) {
			g, err := at(t, r.address).Open(context.Background())
			if err == nil {
				_ = g.Close()
				t.Fatal("it was opened")
			}
			if !strings.Contains(err.Error(), r.want) {
				t.Errorf("it is said %q, want %q", err, r.want)
			}
			if strings.Contains(err.Error(), "guess") {
				t.Errorf("the password is shown: %q", err)
			}
		})
	}
}

func run(t *testing.T, server *storetest.Server, database, statements string) {
	t.Helper()
	if err := server.Exec(database, statements); err != nil {
		t.Fatalf("%s: %v", statements, err)
	}
}

func TestThePasswordOpensTheGraphAndIsNeverShown(t *testing.T) {
	server := postgres(t)
	name := storetest.NameOf(server.Database(t))
	s := at(t, server.Network(url.UserPassword(storetest.Superuser, storetest.Password), name))
	load(t, s, meadow(2))
	holds(t, open(t, s), meadow(2))
	for _, secret := range []string{storetest.Password, url.QueryEscape(storetest.Password), url.PathEscape(storetest.Password)} {
		if strings.Contains(s.String(), secret) {
			t.Errorf("the store calls itself %s", s)
		}
	}
	t.Run("from the environment", func(t *testing.T) {
		t.Setenv("PGPASSWORD", storetest.Password)
		holds(t, open(t, at(t, server.Network(url.User(storetest.Superuser), name))), meadow(2))
	})
}

func TestReadersWhoAreLetInMayReadEveryLoadAndLoadNone(t *testing.T) {
	t.Parallel()
	server := postgres(t)
	herbs := server.Database(t)
	name := storetest.NameOf(herbs)
	s := at(t, herbs)
	load(t, s, meadow(1))
	run(t, server, name, `CREATE USER teacher; GRANT USAGE ON SCHEMA telltale TO teacher`)
	teacher := at(t, server.Address("teacher", name))
	for plants := range 3 {
		load(t, s, meadow(plants))
		holds(t, open(t, teacher), meadow(plants))
	}
	if _, err := teacher.Load(context.Background(), meadow(5), store.Loading{}); err == nil || !strings.Contains(err.Error(), "may not do this") {
		t.Errorf("loading as a reader said %v", err)
	}
	holds(t, open(t, teacher), meadow(2))
}

func TestOldGenerationsAreDroppedWhenNobodyReadsThem(t *testing.T) {
	t.Parallel()
	server := postgres(t)
	herbs := server.Database(t)
	s := at(t, herbs)
	load(t, s, meadow(1))
	g, err := s.Open(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	load(t, s, meadow(2))
	if n := schemas(t, herbs); n != 2 {
		t.Errorf("there are %d generations, want the one that is read and the new one", n)
	}
	if err := g.Close(); err != nil {
		t.Fatal(err)
	}
	load(t, s, meadow(3))
	if n := schemas(t, herbs); n != 1 {
		t.Errorf("there are %d generations, want one", n)
	}
}

// A database that goes away never gives an answer as if all were there.
func TestADatabaseThatGoesAwayIsAnError(t *testing.T) {
	t.Parallel()
	server := storetest.Start(t)
	s := at(t, server.Database(t))
	load(t, s, meadow(40))
	g := open(t, s)
	server.Stop()
	k, err := g.Knowledge(context.Background())
	if err == nil || !strings.Contains(err.Error(), "went away in the middle") && !strings.Contains(err.Error(), "does not answer") {
		t.Errorf("reading from a database that is gone gave %d plants and %v", plants(k), err)
	}
	server.Restart(t)

	_, err = s.Load(context.Background(), meadow(80), store.Loading{Batch: 300, Report: func(p store.Progress) {
		if p.Done == 600 {
			server.Stop()
		}
	}})
	if err == nil || !strings.Contains(err.Error(), "is as it was") || !strings.Contains(err.Error(), "went away in the middle") {
		t.Errorf("loading into a database that went away said %v", err)
	}
	server.Restart(t)
	holds(t, open(t, s), meadow(40))
	if done := load(t, s, meadow(80)); done.Resumed != 600 {
		t.Errorf("resumed %d arrows, want the 600 that were made sure of", done.Resumed)
	}
	holds(t, open(t, s), meadow(80))
}

func plants(k *graph.Knowledge) int {
	if k == nil {
		return 0
	}
	return len(k.Taxa)
}

// What somebody does to the tables by hand is found out.
func TestADamagedDatabaseIsAnError(t *testing.T) {
	t.Parallel()
	server := postgres(t)
	for name, damage := range map[string]string{
		"an arrow is gone":          `DELETE FROM %.quads WHERE horizon = 7`,
		"a name is changed":         `UPDATE %.nodes SET value_string = 'none_known' WHERE value_string = 'serious'`,
		"a node is not what it was": `UPDATE %.nodes SET iri = NULL WHERE value_string = 'source/memory'`,
		"a node has no name":        `UPDATE %.nodes SET value_string = NULL WHERE value_string = 'serious'`,
	} {
		t.Run(name, func(t *testing.T) {
			herbs := server.Database(t)
			s := at(t, herbs)
			load(t, s, meadow(2))
			run(t, server, storetest.NameOf(herbs), strings.ReplaceAll(damage, "%", "telltale_1"))
			if _, err := open(t, s).Knowledge(context.Background()); err == nil || !strings.Contains(err.Error(), "the graph is damaged") {
				t.Errorf("it is said %v", err)
			}
			load(t, s, meadow(2))
			holds(t, open(t, s), meadow(2))
		})
	}
}

func schemas(t *testing.T, address string) int {
	t.Helper()
	return storetest.Count(t, address, `SELECT count(*) FROM pg_namespace WHERE nspname LIKE 'telltale\_%'`)
}
