package exchange

import (
	"errors"

	"telltale/graph"
)

// renamed gives the problems in an error new places.
func renamed(err error, place func(graph.Place) graph.Place) error {
	var all graph.Problems
	var one *graph.Problem
	switch {
	case errors.As(err, &all):
	case errors.As(err, &one):
		all = graph.Problems{one}
	default:
		return err
	}
	out := make(graph.Problems, len(all))
	for i, p := range all {
		q := *p
		q.Place = place(p.Place)
		out[i] = &q
	}
	return out.Err()
}
