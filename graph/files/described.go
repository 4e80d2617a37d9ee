package files

import (
	"bytes"
	"encoding/json"
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
	Month  any                        `json:"month"`
	Traits map[string]json.RawMessage `json:"traits"`
	Source struct {
		Title string `json:"title"`
		URL   string `json:"url"`
	} `json:"source"`
}

// ReadDescribed reads a JSON list of descriptions: id, truth, kind, stage, month,
// source, and traits with values written as in an observation.
func ReadDescribed(v *graph.Vocabulary, name string, r io.Reader) ([]Described, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, err
	}
	var entries []describedEntry
	if err := json.Unmarshal(text, &entries); err != nil {
		return nil, jsonProblem(name, text, err)
	}
	var problems graph.Problems
	var out []Described
	for i := range entries {
		out = append(out, entries[i].described(v, name, &problems))
	}
	return out, problems.Err()
}

func (e *describedEntry) described(v *graph.Vocabulary, name string, problems *graph.Problems) Described {
	d := Described{ID: e.ID, Truth: e.Truth, Kind: e.Kind, Source: e.Source.Title}
	at := graph.Place{File: name + ", description " + e.ID}
	var ok bool
	if d.Observation.Stage, ok = graph.StageNamed(e.Stage); !ok {
		problems.AddUnknown(at, "stage", e.Stage, graph.StageNames())
	}
	if m, ok := e.Month.(float64); ok {
		d.Observation.Month = int(m)
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
			problems.Add(at, "%s: %s", id, err)
			continue
		}
		d.Observation.Readings = append(d.Observation.Readings, r)
	}
	return d
}

// plainJSON gives a JSON string or number as it reads.
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
		before := text[:offset]
		at.Line = bytes.Count(before, []byte("\n")) + 1
		at.Column = len(before) - bytes.LastIndexByte(before, '\n') - 1
	}
	return &graph.Problem{Place: at, Message: fmt.Sprintf("this is no list of descriptions in JSON: %s", err)}
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
