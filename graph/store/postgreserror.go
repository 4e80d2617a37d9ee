package store

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"strings"
	"syscall"

	"github.com/lib/pq"
)

// errGone is the answer of a database that stopped answering.
var errGone = errors.New("the database went away in the middle")

// explain says in words what went wrong with a database.
func (d database) explain(err error) error {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	why := d.refused(err)
	if why == "" {
		why, _, _ = strings.Cut(err.Error(), "\nquery:") // which Cayley appends
	}
	if !strings.Contains(why, d.String()) {
		why = d.String() + ": " + why
	}
	return &storeError{why, err}
}

// storeError is an error in words, over the one that the store gave.
type storeError struct {
	words string
	err   error
}

func (e *storeError) Error() string { return e.words }
func (e *storeError) Unwrap() error { return e.err }

func (d database) refused(err error) string {
	var dialled *net.OpError
	var named *net.DNSError
	switch {
	case errors.Is(err, errNoGraph):
		return fmt.Sprintf("%v: load one with telltale graph load --graph %s", errNoGraph, d)
	case isCode(err, wrongPassword):
		return fmt.Sprintf("PostgreSQL does not take the password of %s", d.user())
	case isCode(err, wrongUser):
		return fmt.Sprintf("PostgreSQL does not let %s in (%s)", d.user(), message(err))
	case isCode(err, undefinedDB):
		return "there is no such database: make it first (createdb)"
	case isCode(err, notPermitted):
		return fmt.Sprintf("%s may not do this (%s): to read, GRANT USAGE ON SCHEMA telltale and load again; to load, GRANT CREATE ON DATABASE", d.user(), message(err))
	case isCode(err, readOnlyDB):
		return "this database takes no writing"
	case isCode(err, diskFull):
		return "the disk of the database is full"
	case isCode(err, tooManyClients):
		return "the database has too many visitors: try again later"
	case isCode(err, cannotConnectNow):
		return "PostgreSQL is starting or stopping: try again in a moment"
	case errors.As(err, &named):
		return fmt.Sprintf("there is no host %q", named.Name)
	case errors.As(err, &dialled) && dialled.Op == "dial":
		return fmt.Sprintf("PostgreSQL does not answer (%v): is it running there?", dialled.Err)
	case gone(err):
		return errGone.Error() + ": nothing here can be relied on; ask again"
	}
	return ""
}

// gone tells whether an error means that the database went away. Cayley hands some
// errors on as text only.
func gone(err error) bool {
	for _, e := range []error{errGone, driver.ErrBadConn, io.EOF, io.ErrUnexpectedEOF, syscall.ECONNRESET, syscall.EPIPE, net.ErrClosed, os.ErrDeadlineExceeded} {
		if errors.Is(err, e) {
			return true
		}
	}
	if isCode(err, adminShutdown, crashShutdown) {
		return true
	}
	for _, text := range []string{"terminating connection", "bad connection", "failed: dial", "connection reset", "broken pipe"} {
		if strings.Contains(err.Error(), text) {
			return true
		}
	}
	return false
}

func message(err error) string {
	var e *pq.Error
	if errors.As(err, &e) {
		return e.Message
	}
	return err.Error()
}

func (d database) user() string {
	if d.url.User != nil && d.url.User.Username() != "" {
		return fmt.Sprintf("the user %q", d.url.User.Username())
	}
	if name := os.Getenv("PGUSER"); name != "" {
		return fmt.Sprintf("the user %q", name)
	}
	return "you"
}
