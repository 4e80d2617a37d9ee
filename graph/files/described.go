package files

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"

	"telltale/graph"
)

// Described is a published description of a plant whose name is known, put into
// readings.
type Described struct {
	ID          string
	Truth       string // the taxon
	Kind        string // careful, careless, stranger
	Observation graph.Observation
	Source      string
}

type describedEntry struct {
	ID     string                     `json:"id"`
	Truth  string                     `json:"truth"`
	Kind   string                     `json:"kind"`
	Stage  string                     `json:"stage"`
	Month  json.RawMessage            `json:"month"`
	Traits map[string]json.RawMessage `json:"traits"`
	Source struct {
		Title string `json:"title"`
		URL   string `json:"url"`
	} `json:"source"`
}

// maxDescribed is how many bytes of descriptions are read: some ten thousand of
// them (common practice, no source).
const maxDescribed = 8 << 20

// ReadDescribed reads a JSON list of descriptions: id, truth, kind, stage, month,
// source, and traits with values written as in an observation.
func ReadDescribed(v *graph.Vocabulary, name string, r io.Reader) ([]Described, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxDescribed+1))
	switch {
	case err != nil:
		return nil, err
	case len(text) > maxDescribed:
		return nil, &graph.Problem{Place: graph.Place{File: name}, Message: fmt.Sprintf("this file has more than the %d bytes that are read", maxDescribed)}
	}
	var entries []describedEntry
	if err := json.Unmarshal(text, &entries); err != nil {
		return nil, jsonProblem(name, text, err)
	}
	var problems graph.Problems
	var out []Described
	for i := range entries {
		out = append(out, entries[i].described(v, name, i, &problems))
	}
	if err := problems.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

func (e *describedEntry) described(v *graph.Vocabulary, name string, i int, problems *graph.Problems) Described {
	d := Described{ID: e.ID, Truth: e.Truth, Kind: e.Kind, Source: e.Source.Title}
	at := graph.Place{File: fmt.Sprintf("%s, description %d %s", name, i+1, e.ID)}
	var ok bool
	if d.Observation.Stage, ok = graph.StageNamed(e.Stage); !ok {
		problems.AddUnknown(at, "stage", e.Stage, graph.StageNames())
	}
	fail := func(err error) {
		p := newPage(at.File, problems)
		p.note(p.placed(err, Word{}, ""))
	}
	if month := plainJSON(e.Month); month != "" {
		var err error
		if d.Observation.Month, err = graph.ParseMonth(month); err != nil {
			fail(err)
		}
	}
	ids := make([]string, 0, len(e.Traits))
	for id := range e.Traits {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		t, ok := v.Trait(id)
		if !ok {
			problems.AddUnknown(at, "trait", id, v.TraitIDs())
			continue
		}
		r, err := graph.ParseValue(v, t, plainJSON(e.Traits[id]), false)
		if err != nil {
			fail(err)
			continue
		}
		d.Observation.Readings = append(d.Observation.Readings, r)
	}
	return d
}

// plainJSON gives a JSON string or number as it reads, nothing for null.
func plainJSON(raw json.RawMessage) string {
	var s string
	if json.Unmarshal(raw, &s) == nil {
		return s
	}
	return string(raw)
}

// jsonProblem finds the line and column of a JSON error.
func jsonProblem(name string, text []byte, err error) error {
	at := graph.Place{File: name}
	if offset := jsonOffset(err); offset > 0 && offset <= int64(len(text)) {
		before := text[:offset-1]
		at.Line = bytes.Count(before, []byte("\n")) + 1
		at.Column = len([]rune(string(before[bytes.LastIndexByte(before, '\n')+1:]))) + 1
	}
	what := err.Error()
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		what = fmt.Sprintf("there is no place here for a JSON %s", wrong.Value)
	}
	return &graph.Problem{Place: at, Message: "this is no list of descriptions: " + what}
}

func jsonOffset(err error) int64 {
	switch e := err.(type) {
	case *json.SyntaxError:
		return e.Offset
	case *json.UnmarshalTypeError:
		return e.Offset
	}
	return 0
}
