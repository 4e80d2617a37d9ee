// Package storetest starts what tests of stores need. Nothing outside tests
// imports it.
package storetest

import (
	"context"
	"database/sql"
	"fmt"
	"io"
	"net"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/lib/pq"
)

// Superuser owns the databases of a Server. Over the socket nobody needs a
// password, over the network everybody does.
const (
	Superuser = "gatherer"
	Password  = "cow parsley/50%"
)

// Server is a PostgreSQL server of its own for tests, in a folder of its own.
type Server struct {
	dir      string
	port     int
	as       *syscall.Credential
	binaries string
	process  *exec.Cmd
	stdin    io.WriteCloser
	count    atomic.Int32
}

// binaryFolder finds the newest server that is installed, where Debian has them
// or else on the path; "" if there is none.
func binaryFolder() string {
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/postgres")
	if len(found) > 0 {
		return filepath.Dir(slices.MaxFunc(found, func(a, b string) int { return version(a) - version(b) }))
	}
	if path, err := exec.LookPath("postgres"); err == nil {
		return filepath.Dir(path)
	}
	return ""
}

func version(path string) int {
	n, _ := strconv.Atoi(filepath.Base(filepath.Dir(filepath.Dir(path))))
	return n
}

// Start starts a server. Where none is installed the test is skipped, but not in
// CI, where one has to be.
func Start(t testing.TB) *Server {
	t.Helper()
	s, err := start()
	switch {
	case err != nil:
		t.Fatalf("starting PostgreSQL: %v", err)
	case s == nil && os.Getenv("CI") != "":
		t.Fatal("no PostgreSQL server is installed (Debian's package postgresql)")
	case s == nil:
		t.Skip("no PostgreSQL server is installed (Debian's package postgresql)")
	}
	t.Cleanup(s.Remove)
	return s
}

func start() (*Server, error) {
	s := &Server{binaries: binaryFolder()}
	if s.binaries == "" {
		return nil, nil
	}
	var err error
	if s.dir, err = os.MkdirTemp("", "telltale-pg"); err != nil {
		return nil, err
	}
	if err := s.prepare(); err != nil {
		s.Remove()
		return nil, err
	}
	return s, nil
}

func (s *Server) prepare() error {
	if err := s.asNobody(); err != nil {
		return err
	}
	initdb := s.command("initdb", "-D", s.data(), "-U", Superuser, "-A", "trust", "-E", "UTF8", "--no-locale", "--no-sync", "--no-instructions")
	if out, err := initdb.CombinedOutput(); err != nil {
		return fmt.Errorf("initdb: %w: %s", err, out)
	}
	access := "local all all trust\nhost all all 127.0.0.1/32 scram-sha-256\n"
	if err := os.WriteFile(filepath.Join(s.data(), "pg_hba.conf"), []byte(access), 0o644); err != nil {
		return err
	}
	var err error
	if s.port, err = freePort(); err != nil {
		return err
	}
	if err := s.run(); err != nil {
		return err
	}
	return s.Exec("postgres", "ALTER USER "+Superuser+" PASSWORD "+pq.QuoteLiteral(Password))
}

// asNobody finds a user to run as where the tests run as root, which PostgreSQL
// refuses, and gives that user the folder.
func (s *Server) asNobody() error {
	if os.Geteuid() != 0 {
		return nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, _ := strconv.Atoi(u.Uid)
		gid, _ := strconv.Atoi(u.Gid)
		s.as = &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
		return os.Chown(s.dir, uid, gid)
	}
	return fmt.Errorf("PostgreSQL does not run as root, and there is no user postgres or nobody")
}

func (s *Server) data() string { return filepath.Join(s.dir, "data") }

func (s *Server) command(program string, args ...string) *exec.Cmd {
	cmd := exec.Command(program, args...)
	if !strings.Contains(program, "/") && program != "sh" {
		cmd = exec.Command(filepath.Join(s.binaries, program), args...)
	}
	cmd.Dir = s.dir
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: s.as, Setpgid: true}
	return cmd
}

func freePort() (int, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return 0, err
	}
	defer func() { _ = l.Close() }()
	return l.Addr().(*net.TCPAddr).Port, nil
}

// run starts the server under a shell that stops it and clears its folder away when
// the tests are gone, however they ended: then its input ends without a word.
func (s *Server) run() error {
	const script = `"$0" -D "$1" -k "$2" -p "$3" -c listen_addresses=127.0.0.1 -c fsync=off -c full_page_writes=off -c autovacuum=off -c max_connections=100 -c shared_buffers=16MB >"$2/log" 2>&1 & p=$!; word=; read -r word; kill -QUIT $p; wait $p; [ "$word" = stop ] || rm -rf "$2"`
	s.process = s.command("sh", "-c", script, filepath.Join(s.binaries, "postgres"), s.data(), s.dir, strconv.Itoa(s.port))
	var err error
	if s.stdin, err = s.process.StdinPipe(); err != nil {
		return err
	}
	if err := s.process.Start(); err != nil {
		return err
	}
	return s.answers()
}

func (s *Server) answers() error {
	var err error
	for range 300 { // half a minute
		if err = s.Exec("postgres", "SELECT 1"); err == nil {
			return nil
		}
		time.Sleep(100 * time.Millisecond)
	}
	log, _ := os.ReadFile(filepath.Join(s.dir, "log"))
	return fmt.Errorf("it does not answer: %w\n%s", err, log)
}

// Stop ends the server at once, as a crash would.
func (s *Server) Stop() {
	if s.process == nil {
		return
	}
	_, _ = io.WriteString(s.stdin, "stop\n")
	_ = s.stdin.Close()
	_ = s.process.Wait()
	s.process = nil
}

// Restart starts it again.
func (s *Server) Restart(t testing.TB) {
	t.Helper()
	s.Stop()
	if err := s.run(); err != nil {
		t.Fatalf("starting PostgreSQL again: %v", err)
	}
}

// Remove ends the server and clears its folder away.
func (s *Server) Remove() {
	s.Stop()
	_ = os.RemoveAll(s.dir)
}

// Database makes an empty database and gives its address, over the socket.
func (s *Server) Database(t testing.TB) string {
	t.Helper()
	name := fmt.Sprintf("herbs_%d", s.count.Add(1))
	if err := s.Exec("postgres", "CREATE DATABASE "+name); err != nil {
		t.Fatalf("making a database: %v", err)
	}
	return s.Address(Superuser, name)
}

// Address is where a database is over the socket, for a user.
func (s *Server) Address(user, database string) string {
	return fmt.Sprintf("postgres://%s@/%s?host=%s&port=%d", user, database, url.QueryEscape(s.dir), s.port)
}

// Network is where a database is over the network, where a password is needed.
func (s *Server) Network(user *url.Userinfo, database string) string {
	u := url.URL{Scheme: "postgres", User: user, Host: fmt.Sprintf("127.0.0.1:%d", s.port), Path: "/" + database}
	return u.String()
}

// NameOf gives the name of the database at an address.
func NameOf(address string) string {
	u, err := url.Parse(address)
	if err != nil {
		return ""
	}
	return strings.TrimPrefix(u.Path, "/")
}

// Exec runs SQL in a database as the superuser.
func (s *Server) Exec(database, statements string) error {
	db, err := sql.Open("postgres", s.Address(Superuser, database)+"&sslmode=disable&connect_timeout=2")
	if err != nil {
		return err
	}
	defer func() { _ = db.Close() }()
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()
	_, err = db.ExecContext(ctx, statements)
	return err
}

// Count asks a database for one number.
func Count(t testing.TB, address, query string) int {
	t.Helper()
	db, err := sql.Open("postgres", address+"&sslmode=disable")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	var n int
	if err := db.QueryRow(query).Scan(&n); err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	return n
}
