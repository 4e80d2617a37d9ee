package files_test

import (
	"errors"
	"testing"

	"telltale/graph"
	"telltale/graph/files"
	"telltale/graph/graphtest"
)

// slipsOnly fails the test if an error is not a list of problems, each with the
// file that it is in, or comes with something half-read.
func slipsOnly(t *testing.T, something bool, err error, text []byte) {
	t.Helper()
	if (err == nil) != something {
		t.Fatalf("%q: something was read: %v, error: %v", text, something, err)
	}
	if err == nil {
		return
	}
	var problems graph.Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("%q: %T", text, err)
	}
	for _, p := range problems {
		if p.Place.File == "" || p.Message == "" || p.Place.Line < 0 || p.Place.Column < 0 {
			t.Fatalf("%q: %#v", text, p)
		}
	}
}

func FuzzObservation(f *testing.F) {
	for _, text := range []string{
		"stage: rosette\nmonth: 5\npart: leaf\nplace: here\ndate: 2024-05-17\nreadings:\n  leaf.margin@upper: serrate|dentate?\n",
		`{"stage": "rosette", "readings": {"plant.height": 12.5, "flower.petals": "5-7"}}`,
		"readings: {stem.surface: '!=bristly'}", "readings: {stem.surface: !=bristly}", "{a, b: c}", "- - - a", "a: |\n  b\n c", "? a\n: b", "&a [*a]", "\ufeff{}", "\xff", "a: \"\\ud83c\"", "%YAML 1.2\n---\na", "[[[[", "{{{{", "a: b: c", "a:\n\tb", "...\n---\n...",
	} {
		f.Add([]byte(text))
	}
	v := made(f).Vocabulary
	f.Fuzz(func(t *testing.T, text []byte) {
		obs, err := files.ParseObservation(v, "seen", text)
		if err != nil {
			slipsOnly(t, false, err, text)
			return
		}
		for i := range obs.Readings {
			if _, err := graph.ParseReading(v, obs.Readings[i].Notation(v)); err != nil {
				t.Errorf("%q: %s", text, err)
			}
		}
	})
}

func FuzzTaxon(f *testing.F) {
	folder := graphtest.Folder()
	for _, name := range []string{"taxa/herba-bona.yaml", "taxa/herba-mala.yaml"} {
		f.Add(folder[name].Data)
	}
	f.Add([]byte("id: a-b\nname: A b\nfamily: C\nfrom: [memory]\ntraits:\n  leaf.margin:\n    - {usually: serrate, teeth, from: memory}\n"))
	k := made(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		taxon, err := files.ParseTaxon(k, "seen", text)
		slipsOnly(t, taxon != nil, err, text)
	})
}

func FuzzRules(f *testing.F) {
	f.Add(graphtest.Folder()["rules/general.yaml"].Data)
	f.Add([]byte("rules:\n  - {id: a, then: note, when: 'stage == \"rosette\"', from: memory, tests: [{given: {month: 5}, expect: waits, for: stage}]}\n"))
	f.Add([]byte("rules:\n- when: >\n    a &&\n\n    b\n"))
	k := made(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		rules, err := files.ParseRules(k, "seen", text)
		if err != nil || rules != nil {
			slipsOnly(t, rules != nil, err, text)
		}
	})
}

// The other files are read as part of a folder.
func FuzzFolder(f *testing.F) {
	names := []string{"vocabulary.yaml", "sources.yaml", "studies/herba-bona.yaml", "taxa/herba-mala.yaml", "rules/general.yaml"}
	for i, name := range names {
		f.Add(uint8(i), graphtest.Folder()[name].Data)
	}
	f.Fuzz(func(t *testing.T, which uint8, text []byte) {
		folder := graphtest.Folder()
		folder[names[int(which)%len(names)]].Data = text
		k, err := files.Load(folder)
		slipsOnly(t, k != nil, err, text)
	})
}

func FuzzDescribed(f *testing.F) {
	f.Add(`[{"id": "a", "truth": "herba-bona", "kind": "careful", "stage": "rosette", "month": 5, "traits": {"plant.height": "12", "flower.petals": 5}, "source": {"title": "x"}}]`)
	f.Add(`[{"traits": {"leaf.margin": ["serrate"]}}]`)
	f.Add(`{}`)
	v := made(f).Vocabulary
	f.Fuzz(func(t *testing.T, text string) {
		list, err := readDescribed(v, text)
		if err != nil && list != nil {
			t.Errorf("%q: something was read with %v", text, err)
		}
	})
}
