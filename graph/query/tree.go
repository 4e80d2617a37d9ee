package query

import (
	"context"
	"fmt"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/query"
	"github.com/cayleygraph/cayley/query/graphql"
	"github.com/cayleygraph/cayley/query/mql"
)

// askGraphQL asks for trees: one row for each object at a root. Where there are
// several roots the column root names the one.
func askGraphQL(ctx context.Context, quads cayley.QuadStore, q Query, rows *collector) error {
	return each(ctx, graphql.NewSession(quads), q, func(result any) bool {
		roots, ok := result.(map[string]any)
		if !ok {
			return rows.take(Row{"value": plain(result)})
		}
		for name, objects := range roots {
			for _, o := range listed(objects) {
				row, ok := plain(o).(map[string]any)
				if !ok {
					row = Row{"value": plain(o)}
				}
				if len(roots) > 1 {
					row["root"] = name
				}
				if !rows.take(row) {
					return false
				}
			}
		}
		return true
	})
}

// listed gives the objects of a root, of which there are none, one or several.
func listed(v any) []any {
	switch x := v.(type) {
	case nil:
		return nil
	case []map[string]any:
		out := make([]any, len(x))
		for i := range x {
			out[i] = x[i]
		}
		return out
	case []any:
		return x
	}
	return []any{v}
}

// askMQL asks for what fits a pattern in JSON, which may have lines of comment that
// begin with #: one row for each fit.
func askMQL(ctx context.Context, quads cayley.QuadStore, q Query, rows *collector) error {
	q.Text = comment.ReplaceAllString(q.Text, "")
	return each(ctx, mql.NewSession(quads), q, func(result any) bool {
		row, ok := plain(result).(map[string]any)
		if !ok {
			row = Row{"value": plain(result)}
		}
		return rows.take(row)
	})
}

func each(ctx context.Context, s query.Session, q Query, take func(any) bool) error {
	it, err := s.Execute(ctx, q.Text, query.Options{Collation: query.JSON, Limit: -1})
	if err != nil {
		return fmt.Errorf("%s: %w", q.Name, err)
	}
	defer func() { _ = it.Close() }()
	for it.Next(ctx) {
		if !take(it.Result()) {
			return nil
		}
	}
	if err := it.Err(); err != nil {
		return fmt.Errorf("%s: %w", q.Name, err)
	}
	return nil
}
