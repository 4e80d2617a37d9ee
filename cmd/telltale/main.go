// Command telltale tells herbs from their lookalikes: what a plant could be, what
// to look at next, and whether it may be gathered.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

func main() { os.Exit(run(os.Args[1:])) }

// run runs the command line and gives the exit status.
func run(args []string) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	root := newRoot()
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	switch {
	case err == nil:
		return 0
	case errors.Is(err, syscall.EPIPE): // whoever was reading has seen enough
		return 1
	}
	fmt.Fprintln(os.Stderr, "telltale: "+err.Error())
	return 1
}
