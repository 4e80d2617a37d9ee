package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	cayley "github.com/cayleygraph/cayley/graph"
	"github.com/cayleygraph/cayley/graph/refs"
	csql "github.com/cayleygraph/cayley/graph/sql"
	"github.com/cayleygraph/quad"
	"github.com/lib/pq"
)

// namingStore is a graph in a schema that gives the names of many nodes at a time.
// Cayley's own asks the database for each of them.
type namingStore struct {
	cayley.QuadStore
	db     *sql.DB
	schema string
}

// ValuesOf implements refs.BatchNamer.
func (s namingStore) ValuesOf(ctx context.Context, nodes []cayley.Ref) ([]quad.Value, error) {
	hashes := make([][]byte, len(nodes))
	places := make(map[refs.ValueHash]int, len(nodes))
	for i, n := range nodes {
		h, ok := n.(csql.NodeHash)
		if !ok {
			return nil, fmt.Errorf("asking the names of nodes: %T is no node of a database", n)
		}
		hashes[i] = h.ValueHash[:]
		places[h.ValueHash] = i
	}
	rows, err := s.db.QueryContext(ctx, `SELECT `+strings.Join(nodeColumns, ", ")+` FROM `+s.schema+`.nodes WHERE hash = ANY($1)`, pq.ByteaArray(hashes))
	if err != nil {
		return nil, err
	}
	defer func() { _ = rows.Close() }()
	names := make([]quad.Value, len(nodes))
	for rows.Next() {
		var row nodeRow
		if err := rows.Scan(row.fields()...); err != nil {
			return nil, err
		}
		if place, asked := places[row.hash.ValueHash]; asked {
			if names[place], err = row.value(); err != nil {
				return nil, err
			}
		}
	}
	return names, rows.Err()
}

// RefsOf implements refs.BatchNamer.
func (s namingStore) RefsOf(_ context.Context, names []quad.Value) ([]cayley.Ref, error) {
	out := make([]cayley.Ref, len(names))
	for i, n := range names {
		out[i] = csql.HashOf(n)
	}
	return out, nil
}

// nodeColumns are the columns of Cayley's table of nodes that say what a node is.
var nodeColumns = []string{"hash", "value_string", "datatype", "language", "iri", "bnode", "value_int", "value_bool", "value_float", "value_time"}

// nodeRow is a row of Cayley's table of nodes.
type nodeRow struct {
	hash                 csql.NodeHash
	text, datatype, lang sql.NullString
	iri, bnode, truth    sql.NullBool
	whole                sql.NullInt64
	number               sql.NullFloat64
	time                 sql.NullTime
}

func (r *nodeRow) fields() []any {
	return []any{&r.hash, &r.text, &r.datatype, &r.lang, &r.iri, &r.bnode, &r.whole, &r.truth, &r.number, &r.time}
}

// value is the node that the row tells of. Which columns are filled tells its
// kind (graph/sql in Cayley).
func (r *nodeRow) value() (quad.Value, error) {
	switch {
	case r.text.Valid && r.iri.Bool:
		return quad.IRI(r.text.String), nil
	case r.text.Valid && r.bnode.Bool:
		return quad.BNode(r.text.String), nil
	case r.text.Valid:
		return r.literal(), nil
	case r.whole.Valid:
		return quad.Int(r.whole.Int64), nil
	case r.truth.Valid:
		return quad.Bool(r.truth.Bool), nil
	case r.number.Valid:
		return quad.Float(r.number.Float64), nil
	case r.time.Valid:
		return quad.Time(r.time.Time.In(time.UTC)), nil
	}
	return nil, errors.New("the graph is damaged: a node of it has no name; load it again")
}

func (r *nodeRow) literal() quad.Value {
	text := quad.String(strings.ReplaceAll(r.text.String, `\x00`, "\x00")) // PostgreSQL keeps no zero in a text
	switch {
	case r.lang.Valid:
		return quad.LangString{Value: text, Lang: r.lang.String}
	case r.datatype.Valid:
		return quad.TypedString{Value: text, Type: quad.IRI(r.datatype.String)}
	}
	return text
}
