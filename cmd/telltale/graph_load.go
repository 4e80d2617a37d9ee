package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"telltale/cmd/telltale/render"
	"telltale/data"
	"telltale/graph/store"
)

const aboutGraphLoad = `Puts what comes with the program, with your own data (--data) laid over it, into a
file or a PostgreSQL database, in place of the graph that is there. Every command
answers from it with --graph.

A load changes all or nothing: until its very end the old graph answers. One that
was stopped or killed goes on where it stopped when the same command is given
again; of other data, it begins anew and says so.

In a database each load fills a schema of its own. Whoever loads needs the right to
create schemas; for those who only ask, say once, and load again:

  GRANT USAGE ON SCHEMA telltale TO teachers;

A password can stand in PGPASSWORD or ~/.pgpass, the whole address in
` + graphVariable + `.`

func newGraphLoad() *cobra.Command {
	var progress bool
	cmd := &cobra.Command{
		Use:   "load",
		Short: "Load the graph into a file or a database",
		Long:  aboutGraphLoad,
		Example: `  telltale graph load --graph herbs.db
  telltale graph load --graph herbs.db --data my-herbs
  telltale graph load --graph postgres://anna@db.example.org/herbs`,
		Args: cobra.NoArgs,
	}
	cmd.Flags().BoolVar(&progress, "progress", false, "tell how far it is, also where standard error is no screen")
	cmd.RunE = func(cmd *cobra.Command, _ []string) error {
		where, named := graphNamed(cmd)
		if !named {
			return errors.New("where to is not told: give --graph FILE.db or --graph postgres://HOST/DATABASE")
		}
		s, err := store.At(where)
		if err != nil {
			return err
		}
		k, err := store.Embedded(cmd.Context(), data.Files)
		if err == nil {
			k, err = lay(k, ownData(cmd))
		}
		if err != nil {
			return err
		}
		told := tellProgress(cmd.ErrOrStderr(), progress)
		done, err := s.Load(cmd.Context(), k, store.Loading{Report: told.report})
		told.end()
		if err != nil {
			return err
		}
		return render.Loaded(render.To(cmd.OutOrStdout()), s.String(), len(k.Taxa), done)
	}
	return cmd
}

// progressTold tells how far a load is: in one line that changes, on a screen;
// elsewhere, if asked, in a line for each tenth.
type progressTold struct {
	w      io.Writer
	screen bool
	asked  bool
	since  time.Time
	tenth  int
	shown  bool
}

func tellProgress(w io.Writer, asked bool) *progressTold {
	f, ok := w.(*os.File)
	return &progressTold{w: w, screen: ok && term.IsTerminal(int(f.Fd())), asked: asked, since: time.Now()}
}

// soon is how long a load may take before its progress is worth a line (common
// practice, no source).
const soon = 300 * time.Millisecond

func (p *progressTold) report(now store.Progress) {
	line := fmt.Sprintf("loading: %d of %d arrows", now.Done, now.Total)
	switch {
	case p.screen && (p.asked || p.shown || time.Since(p.since) > soon):
		p.shown = true
		_, _ = fmt.Fprintf(p.w, "\r%s", line)
	case !p.screen && p.asked && (now.Done == now.Total || 10*now.Done/max(now.Total, 1) > p.tenth):
		p.tenth = 10 * now.Done / max(now.Total, 1)
		_, _ = fmt.Fprintln(p.w, line)
	}
}

// end leaves the line that changes.
func (p *progressTold) end() {
	if p.shown {
		_, _ = fmt.Fprintln(p.w)
	}
}
