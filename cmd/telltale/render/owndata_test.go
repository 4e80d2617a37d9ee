package render_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"telltale/cmd/telltale/render"
	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/rules/reason"
)

const pinkRule = `leave good-wort when flower.colour == "pink"`

// worts is a herb beside a poison and two harmless plants, one of them its
// lookalike, with what own data changed.
func worts(t *testing.T, changes ...graph.Correction) *reason.Reasoner {
	t.Helper()
	k := graphtest.Knowledge(
		graphtest.States("leaf.margin", "entire serrate"),
		graphtest.States("stem.surface", "hairless bristly"),
		graphtest.States("flower.colour", "white pink"),
		graphtest.Plant("good-wort", "leaf.margin always serrate", "stem.surface always bristly", "flower.colour always white", "looks like dull-wort"),
		graphtest.Plant("bad-wort", "deadly", "leaf.margin always entire", "stem.surface always hairless"),
		graphtest.Plant("dull-wort", "leaf.margin always entire", "stem.surface always bristly"),
		graphtest.Plant("far-oak", "leaf.margin always entire", "stem.surface always hairless"),
		graphtest.Study("good-wort", "leaf at flowering", "stem.surface is bristly"),
		graphtest.Rule(pinkRule),
	)
	k.Corrections = changes
	r, err := reason.New(k)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func change(kind, of string, what ...string) graph.Correction {
	return graph.Correction{Kind: kind, Of: of, What: what, File: "mine/" + kind + ".yaml"}
}

// told gives what an answer in text and as a document says of own data.
func told(t *testing.T, r *reason.Reasoner, hopedFor string, readings ...string) (text string, docs []string) {
	t.Helper()
	k := r.Matrix.Knowledge
	obs := graphtest.Seen(k, "flowering", readings...)
	var out bytes.Buffer
	page := render.Wide(&out, 80)
	var list []render.OwnDataDoc
	if hopedFor == "" {
		a, err := r.Weigh(obs)
		if err != nil {
			t.Fatal(err)
		}
		if err := render.Weigh(page, k, &obs, a, 1); err != nil {
			t.Fatal(err)
		}
		list = render.WeighJSON(k, &obs, a, 1).OwnData
	} else {
		herb, _ := k.Taxon(hopedFor)
		v, err := r.MayGather(herb, obs)
		if err != nil {
			t.Fatal(err)
		}
		if err := render.Verdict(page, k, &obs, v); err != nil {
			t.Fatal(err)
		}
		list = render.VerdictJSON(k, &obs, v).OwnData
	}
	if list == nil {
		t.Error("the list of own data is null")
	}
	for _, d := range list {
		docs = append(docs, d.Kind+" "+d.Of)
	}
	for line := range strings.SplitSeq(strings.ReplaceAll(out.String(), "\n  ", "\n"), "\n") {
		if strings.HasPrefix(line, "Your own data") {
			text += line + "\n"
		}
	}
	return text, docs
}

var (
	allOfIt = []string{"part=leaf", "leaf.margin=serrate", "stem.surface=bristly", "flower.colour=white"}
	little  = []string{"leaf.margin=serrate"}
	notIt   = []string{"leaf.margin=entire"}
)

func TestAnswersSayWhatOwnDataTheyRestOn(t *testing.T) {
	for _, tt := range []struct {
		shows    string
		change   graph.Correction
		hopedFor string // asks whether it may be gathered, "" what it could be
		readings []string
		want     string // "" if it has nothing to do with the answer
	}{
		{"the plant that comes first", change("taxon", "good-wort", "leaf.margin"), "", allOfIt, "Your own data changes: good-wort leaf.margin (mine/taxon.yaml)."},
		{"a plant that is not shown", change("taxon", "far-oak", "leaf.margin"), "", allOfIt, ""},
		{"a poison that the change may have ruled out, and so is not shown", change("taxon", "bad-wort", "leaf.margin"), "", allOfIt, "Your own data changes: bad-wort leaf.margin (mine/taxon.yaml)."},
		{"a poison that is added and not shown", change("taxon", "bad-wort", graph.Added), "", allOfIt, ""},
		{"a plant that is added and shown", change("taxon", "good-wort", graph.Added), "", allOfIt, "Your own data adds: good-wort (mine)."},
		{"a trait that was read", change("trait", "leaf.margin", "crenate"), "", allOfIt, "Your own data changes: trait leaf.margin crenate (mine/trait.yaml)."},
		{"a trait that was not", change("trait", "flower.colour", "blue"), "", little, ""},
		{"a source that what is shown rests on", change("source", graph.Memory), "", allOfIt, "Your own data changes: source memory (mine/source.yaml)."},
		{"the herb hoped for", change("taxon", "good-wort", "common names"), "good-wort", notIt, "Your own data changes: good-wort common names (mine/taxon.yaml)."},
		{"its study", change("study", "good-wort", "without the rule a"), "good-wort", notIt, "Your own data changes: study good-wort without the rule a (mine/study.yaml)."},
		{"another study", change("study", "dull-wort"), "good-wort", allOfIt, ""},
		{"a plant in the way", change("taxon", "dull-wort", graph.Added), "good-wort", []string{"stem.surface=bristly"}, "Your own data adds: dull-wort (mine)."},
		{"a harmless plant, where the herb is left", change("taxon", "far-oak", "leaf.margin"), "good-wort", notIt, ""},
		{"a poison, where the herb is left", change("taxon", "bad-wort", "leaf.margin"), "good-wort", notIt, ""},
		{"any plant that a gather may rest on", change("taxon", "far-oak", "leaf.margin"), "good-wort", allOfIt, "Your own data changes: far-oak leaf.margin (mine/taxon.yaml)."},
		{"a changed rule that keeps quiet", change("rule", pinkRule), "good-wort", allOfIt, "Your own data changes: rule " + pinkRule + " (mine/rule.yaml)."},
		{"an added rule that keeps quiet", change("rule", pinkRule, graph.Added), "good-wort", allOfIt, ""},
		{"an added rule that waits", change("rule", pinkRule, graph.Added), "good-wort", little, "Your own data adds: 1 rule (mine)."},
	} {
		t.Run(tt.shows, func(t *testing.T) {
			text, docs := told(t, worts(t, tt.change), tt.hopedFor, tt.readings...)
			if got := strings.TrimSpace(text); !strings.HasPrefix(tt.want, got) || (got == "") != (tt.want == "") {
				t.Errorf("said %q, want %q", got, tt.want)
			}
			var want []string
			if tt.want != "" {
				want = []string{tt.change.Kind + " " + tt.change.Of}
			}
			if !slices.Equal(docs, want) {
				t.Errorf("the document lists %v, want %v", docs, want)
			}
		})
	}
}

func TestManyChangesByOwnDataTakeOneLine(t *testing.T) {
	var all []graph.Correction
	for _, trait := range []string{"a", "b", "c", "d", "e", "f"} {
		all = append(all, change("taxon", "good-wort", trait))
	}
	text, docs := told(t, worts(t, all...), "good-wort", notIt...)
	if len(docs) != 6 || strings.Count(text, "Your own data") != 1 {
		t.Errorf("%d in the document, in text %q", len(docs), text)
	}
}
