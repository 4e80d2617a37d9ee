package names

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// herbs are names in real use; what is told of them here is no more than tests need.
var herbs = []Plant{
	{ID: "conium-maculatum", Accepted: "Conium maculatum L.", Synonyms: []string{"Coriandrum maculatum"}, Common: []string{"poison hemlock", "hemlock"}},
	{ID: "cicuta-maculata", Accepted: "Cicuta maculata L.", Common: []string{"water hemlock"}},
	{ID: "daucus-carota", Accepted: "Daucus carota L.", Common: []string{"wild carrot", "Queen Anne's lace"}},
	{ID: "mentha-piperita", Accepted: "Mentha ×piperita L.", Common: []string{"peppermint"}},
	{ID: "sambucus-nigra", Accepted: "Sambucus nigra L.", Common: []string{"elder"}},
	{ID: "sambucus-canadensis", Accepted: "Sambucus canadensis L.", Synonyms: []string{"Sambucus nigra subsp. canadensis"}, Common: []string{"American elder"}},
	{ID: "actaea-pachypoda", Accepted: "Actaea pachypoda Elliott", Synonyms: []string{"Actaea alba auct."}, Common: []string{"white baneberry"}},
	{ID: "capsella", Accepted: "Capsella bursa-pastoris (L.) Medik.", Common: []string{"shepherd's purse"}},
	{ID: "rubus", Accepted: "Rubus fruticosus L. agg.", Common: []string{"blackberry"}},
	{ID: "oenanthe-a", Accepted: "Oenanthe ambigua Nutt.", Common: []string{"one"}},
	{ID: "oenanthe-b", Accepted: "Oenanthe vera Foo", Synonyms: []string{"Oenanthe ambigua Hook.f."}, Common: []string{"other"}},
	{ID: "salix", Accepted: "Salix aurita L. × Salix caprea L."},
}

func TestPlantIsFound(t *testing.T) {
	tests := []struct{ what, text, want string }{
		{"by its name", "Conium maculatum", "conium-maculatum accepted same"},
		{"by its id", "conium-maculatum", "conium-maculatum accepted same"},
		{"with its author", "Conium maculatum L.", "conium-maculatum accepted same"},
		{"with its author in full", "Conium maculatum Linnaeus 1753", "conium-maculatum accepted same"},
		{"with another author", "Conium maculatum Lam.", "conium-maculatum accepted other_author"},
		{"by a synonym", "coriandrum maculatum", "conium-maculatum synonym same"},
		{"by a common name", "Poison-Hemlock", "conium-maculatum common same"},
		{"by a common name without its apostrophe", "queen annes lace", "daucus-carota common same"},
		{"by a word of a common name, the whole name first", "hemlock", "conium-maculatum common same, cicuta-maculata common part"},
		{"by the beginning of a word", "pepperm", "mentha-piperita common part"},
		{"by a misspelt word, the whole name first", "hemlok", "conium-maculatum common misspelt 1, cicuta-maculata common misspelt 1"},
		{"by a misspelt common name", "poisen hemlok", "conium-maculatum common misspelt 2"},
		{"by a misspelt name", "Conium macculatum", "conium-maculatum accepted misspelt 1"},
		{"by a misspelt genus", "Conyum maculatum", "conium-maculatum accepted misspelt 1"},
		{"with the ending of another gender", "Conium maculata", "conium-maculatum accepted other_ending"},
		{"by its genus", "Sambucus", "sambucus-canadensis accepted of_genus, sambucus-nigra accepted of_genus"},
		{"as some species of its genus", "Daucus sp.", "daucus-carota accepted of_genus"},
		{"by an abbreviated genus", "D. carota", "daucus-carota accepted same"},
		{"by its epithet", "pachypoda", "actaea-pachypoda accepted part"},
		{"with cf.", "Conium cf. maculatum", "conium-maculatum accepted same"},
		{"a hybrid without its sign", "Mentha piperita", "mentha-piperita accepted same"},
		{"a hybrid with x", "Mentha x piperita", "mentha-piperita accepted same"},
		{"a hybrid formula the other way round", "Salix caprea × S. aurita", "salix accepted same"},
		{"by a lower rank of a synonym", "Sambucus nigra ssp. canadensis", "sambucus-canadensis synonym same, sambucus-nigra accepted within"},
		{"at another rank", "Sambucus nigra var. canadensis", "sambucus-canadensis synonym other_rank, sambucus-nigra accepted within"},
		{"below the species that is known", "Daucus carota subsp. sativus", "daucus-carota accepted within"},
		{"by an epithet of two words", "Capsella bursa pastoris", "capsella accepted same"},
		{"an aggregate", "Rubus fruticosus", "rubus accepted same"},
		{"homonyms, both", "Oenanthe ambigua", "oenanthe-a accepted same, oenanthe-b synonym same"},
		{"homonyms, parted by the author", "Oenanthe ambigua Hook. f.", "oenanthe-b synonym same, oenanthe-a accepted other_author"},
		{"not at all", "Quercus robur", ""},
	}
	x := NewIndex(herbs)
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			var got []string
			for _, m := range x.Find(tt.text) {
				s := fmt.Sprint(m.ID, " ", m.Kind, " ", m.How)
				if m.Letters > 0 {
					s += fmt.Sprint(" ", m.Letters)
				}
				got = append(got, s)
			}
			if s := strings.Join(got, ", "); s != tt.want {
				t.Errorf("%s found %q, want %q", tt.text, s, tt.want)
			}
		})
	}
}

func TestNameIsTakenOnlyWhereItIsTheName(t *testing.T) {
	tests := []struct{ what, text, want string }{
		{"its name", "Conium maculatum", "conium-maculatum"},
		{"an author does not matter where nobody else has the name", "Conium maculatum Lam.", "conium-maculatum"},
		{"homonyms without authors stay both", "Oenanthe ambigua", "oenanthe-a oenanthe-b"},
		{"an author parts homonyms", "Oenanthe ambigua Nutt.", "oenanthe-a"},
		{"an author that fits none of the homonyms chooses none", "Oenanthe ambigua L.", ""},
		{"a misspelt name is none", "Conium macculatum", ""},
		{"a rank below is another plant", "Daucus carota subsp. sativus", ""},
		{"a genus is no plant", "Daucus", ""},
	}
	x := NewIndex(herbs)
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			var got []string
			for _, m := range x.Exactly(tt.text) {
				got = append(got, m.ID)
			}
			if s := strings.Join(got, " "); s != tt.want {
				t.Errorf("%s is %q, want %q", tt.text, s, tt.want)
			}
		})
	}
}

func TestAuthorsContradict(t *testing.T) {
	tests := []struct {
		what, a, b string
		want       bool
	}{
		{"the same", "L.", "L.", false},
		{"an abbreviation and the full name", "Linnaeus", "L.", false},
		{"L. is Linnaeus only", "L.", "Lamarck", true},
		{"two abbreviations", "L.", "Lam.", true},
		{"initials left out", "W.Bartram", "Bartram", false},
		{"father and son", "Hook.", "Hook.f.", true},
		{"blanks and linking words", "P. Gaertn., B. Mey. et Scherb.", "P.Gaertn., B.Mey. & Scherb.", false},
		{"the proposer left out (article 46)", "Nyman ex A.W.Hill", "A.W.Hill", false},
		{"the basionym left out", "(L.) Mill.", "Mill.", false},
		{"another basionym", "(L.) Mill.", "(Lam.) Mill.", true},
		{"authors left out", "Geerinck & al.", "Geerinck, Lisowski & Symoens", false},
		{"another year", "L. 1753", "L. 1762", true},
		{"a year only one tells", "L. 1753", "L.", false},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			a, b := authorsOf(t, tt.a), authorsOf(t, tt.b)
			if got := a.Contradicts(&b); got != tt.want {
				t.Errorf("%s against %s: %v", tt.a, tt.b, got)
			}
			if a.Contradicts(&b) != b.Contradicts(&a) {
				t.Error("it depends on the order")
			}
		})
	}
}

func authorsOf(t *testing.T, text string) Authorship {
	t.Helper()
	n, err := Parse("Rosa alba " + text)
	if err != nil {
		t.Fatal(err)
	}
	return n.Authorship
}

func TestOneWrongLetterNeverLosesAPlant(t *testing.T) {
	x := NewIndex(herbs)
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom(herbs[:4]).Draw(t, "plant")
		n, err := Parse(p.Accepted)
		if err != nil {
			t.Fatal(err)
		}
		text := []rune(n.Genus + " " + n.Species)
		text[rapid.IntRange(1, len(text)-1).Filter(func(i int) bool { return text[i] != ' ' && text[i-1] != ' ' }).Draw(t, "at")] = rapid.RuneFrom([]rune("aeiklmnort")).Draw(t, "letter")
		found := x.Find(string(text))
		if len(found) == 0 || found[0].ID != p.ID {
			t.Fatalf("%q found %v first, not %s", string(text), found, p.ID)
		}
	})
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"hemlock", "Conium cf. maculatum", "C. x", "× ×", "...", "'", "Sambucus nigra f. f."} {
		f.Add(s)
	}
	x := NewIndex(herbs)
	f.Fuzz(func(t *testing.T, text string) {
		seen := map[string]bool{}
		for _, m := range x.Find(text) {
			if seen[m.ID] || m.How == 0 || m.Name == "" {
				t.Fatalf("%q found %+v twice, or for no reason", text, m)
			}
			seen[m.ID] = true
		}
	})
}

func ExampleParse() {
	n, _ := Parse("Salix x capreola Andersson")
	fmt.Println(n.Canonical())
	fmt.Println(n.Authorship.String())
	// Output:
	// Salix ×capreola
	// Andersson
}

func ExampleIndex_Find() {
	x := NewIndex([]Plant{{ID: "conium-maculatum", Accepted: "Conium maculatum L.", Synonyms: []string{"Coriandrum maculatum"}, Common: []string{"hemlock"}}})
	for _, m := range x.Find("Coriandrum maculatum") {
		fmt.Println(m.ID, m.Kind, m.How)
	}
	// Output:
	// conium-maculatum synonym same
}
