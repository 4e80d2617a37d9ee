package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"testing"
)

// answered runs a command and reads the JSON that it writes.
func answered(t *testing.T, args ...string) map[string]any {
	t.Helper()
	var out bytes.Buffer
	root := newRoot()
	root.SetOut(&out)
	root.SetArgs(append(args, "--format", "json"))
	if err := root.ExecuteContext(t.Context()); err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(out.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

// shape is the part of a document that other programs count on: the kind of each
// field, that of the elements of a list, and which words a field can hold.
type shape map[string]any

type words []string

var (
	text    = words(nil)
	texts   = []any{text}
	look    = shape{"trait": text, "question": text, "effort": words{"eye", "touch", "smell", "lens", "cut", "dig"}, "rules_out": texts, "bits": 0.0}
	exclude = shape{"trait": text, "read": text, "stated": text, "sources": texts}
	rule    = shape{
		"id": text, "then": words{"leave", "must", "it-is", "note"}, "outcome": words{"fires", "quiet", "waits"}, "waits_for": texts,
		"residual": text, "because": text,
	}
	own        = shape{"kind": words{"taxon", "study", "rule", "trait", "source"}, "of": text, "what": texts, "file": text}
	weighShape = shape{
		"stage": text, "outside": 0.0, "poisons_open": texts, "next": []any{look}, "rules": []any{rule}, "own_data": []any{own},
		"candidates": []any{shape{
			"taxon": text, "name": text, "common_names": texts, "weight": 0.0, "standing": words{"open", "contested", "ruled_out"},
			"severity": words{"deadly", "serious", "mild", "none_known"}, "supports": []any{exclude}, "excludes": []any{exclude},
		}},
	}
	verdictShape = shape{
		"taxon": text, "part": text, "stage": text, "verdict": words{"leave", "not-yet", "gather"}, "because": texts,
		"poisons_open": texts, "look": []any{look}, "rules": []any{rule}, "own_data": []any{own}, "cautions": texts,
	}
)

// misses tells where a document has not the shape.
func misses(at string, want, got any) []string {
	switch want := want.(type) {
	case shape:
		m, ok := got.(map[string]any)
		if !ok {
			return []string{at + " is no object"}
		}
		var out []string
		for field, w := range want {
			if g, ok := m[field]; ok {
				out = append(out, misses(at+"."+field, w, g)...)
			} else {
				out = append(out, at+"."+field+" is not there")
			}
		}
		return out
	case []any:
		list, ok := got.([]any)
		if !ok {
			return []string{at + " is no list"}
		}
		var out []string
		for _, g := range list {
			out = append(out, misses(at+"[]", want[0], g)...)
		}
		return out
	case words:
		s, ok := got.(string)
		if !ok || len(want) > 0 && !slices.Contains(want, s) {
			return []string{at + " is none of its words"}
		}
	case float64:
		if _, ok := got.(float64); !ok {
			return []string{at + " is no number"}
		}
	}
	return nil
}

var hemlockish = []string{"--stage", "flowering", "stem.markings=purple_blotched", "stem.surface=hairless", "flower.colour=yellow", "leaf.arrangement=opposite"}

func TestWeighWritesWhatItPromises(t *testing.T) {
	doc := answered(t, append([]string{"weigh"}, hemlockish...)...)
	for _, m := range misses("weigh", weighShape, doc) {
		t.Error(m)
	}
	for _, list := range []string{"candidates", "next", "rules", "poisons_open"} {
		if len(doc[list].([]any)) == 0 {
			t.Errorf("%s is empty: nothing of it is tested", list)
		}
	}
}

func TestMayGatherWritesWhatItPromises(t *testing.T) {
	doc := answered(t, append([]string{"may-gather", "daucus-carota", "--part", "root", "--stage", "rosette"}, "leaf.composition=tripinnate")...)
	for _, m := range misses("may-gather", verdictShape, doc) {
		t.Error(m)
	}
	for _, list := range []string{"because", "poisons_open", "look", "rules", "cautions"} {
		if len(doc[list].([]any)) == 0 {
			t.Errorf("%s is empty: nothing of it is tested", list)
		}
	}
}

func weightsOf(doc map[string]any) []float64 {
	var out []float64
	for _, c := range doc["candidates"].([]any) {
		out = append(out, c.(map[string]any)["weight"].(float64))
	}
	return out
}

func TestCandidatesFallInWeightAndSumToOne(t *testing.T) {
	doc := answered(t, append([]string{"weigh"}, hemlockish...)...)
	weights := weightsOf(doc)
	if !slices.IsSortedFunc(weights, func(a, b float64) int { return cmp.Compare(b, a) }) {
		t.Error("the candidates do not fall in weight")
	}
	sum := doc["outside"].(float64)
	for _, w := range weights {
		sum += w
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("the weights and outside sum to %v", sum)
	}
}

func TestLimitCutsTheListAndNothingElse(t *testing.T) {
	all := answered(t, append([]string{"weigh"}, hemlockish...)...)
	cut := answered(t, append([]string{"weigh", "--limit", "3"}, hemlockish...)...)
	if n := len(cut["candidates"].([]any)); n != 3 {
		t.Errorf("%d candidates, expected 3", n)
	}
	if !slices.Equal(weightsOf(cut), weightsOf(all)[:3]) || cut["outside"] != all["outside"] {
		t.Error("the weights changed with the limit")
	}
	if len(cut["poisons_open"].([]any)) != len(all["poisons_open"].([]any)) {
		t.Error("the limit hides poisons")
	}
}
