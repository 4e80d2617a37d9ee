package names

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Examples of the International Code of Nomenclature (Shenzhen Code, Turland & al.
// 2018), by article and example.
func TestExamplesOfTheCode(t *testing.T) {
	tests := []struct {
		article, text      string
		canonical, authors string
		whole              string // "" where it is the text
	}{
		{"23 Ex. 1", "Adiantum capillus-veneris", "Adiantum capillus-veneris", "", ""},
		{"23 Ex. 1", "Atropa bella-donna", "Atropa bella-donna", "", ""},
		{"23 Ex. 1", "Impatiens noli-tangere", "Impatiens noli-tangere", "", ""},
		{"23 Ex. 1", "Spondias mombin", "Spondias mombin", "", ""},
		{"24 Ex. 1", "Saxifraga aizoon subf. surculosa Engl. & Irmsch.", "Saxifraga aizoon subf. surculosa", "Engl. & Irmsch.", ""},
		{"24 Ex. 1", "Saxifraga aizoon var. aizoon subvar. brevifolia f. multicaulis subf. surculosa Engl. & Irmsch.",
			"Saxifraga aizoon subf. surculosa", "Engl. & Irmsch.", ""},
		{"24 Ex. 4", "Aloe perfoliata var. vera L.", "Aloe perfoliata var. vera", "L.", ""},
		{"24 Ex. 5", "Salvia grandiflora subsp. willeana Holmboe", "Salvia grandiflora subsp. willeana", "Holmboe", ""},
		{"46 Ex. 1", "Rosaceae Juss.", "Rosaceae", "Juss.", ""},
		{"46 Ex. 1", "Rosa L.", "Rosa", "L.", ""},
		{"46 Ex. 1", "Rosa gallica L.", "Rosa gallica", "L.", ""},
		{"46 Ex. 1", "Rosa gallica var. versicolor L.", "Rosa gallica var. versicolor", "L.", ""},
		{"46 Ex. 1, an autonym", "Rosa gallica L. var. gallica", "Rosa gallica var. gallica", "L.", ""},
		{"46 Ex. 2", "Pinus longaeva D. K. Bailey", "Pinus longaeva", "D.K.Bailey", "Pinus longaeva D.K.Bailey"},
		{"49 Ex. 1", "Medicago polymorpha var. orbicularis L.", "Medicago polymorpha var. orbicularis", "L.", ""},
		{"49 Ex. 1", "M. orbicularis (L.) Bartal.", "M. orbicularis", "(L.) Bartal.", ""},
		{"49 Ex. 2", "Aspalathoides (DC.) K. Koch", "Aspalathoides", "(DC.) K.Koch", "Aspalathoides (DC.) K.Koch"},
		{"49 Ex. 4", "Helianthemum aegyptiacum (L.) Mill.", "Helianthemum aegyptiacum", "(L.) Mill.", ""},
		{"49 Ex. 5", "Corydalis solida (L.) Clairv.", "Corydalis solida", "(L.) Clairv.", ""},
		{"49 Ex. 6", "Pulsatilla montana subsp. australis (Heuff.) Zämelis", "Pulsatilla montana subsp. australis", "(Heuff.) Zämelis", ""},
		{"49 Ex. 6", "Pulsatilla montana var. serbica W. Zimm.", "Pulsatilla montana var. serbica", "W.Zimm.", "Pulsatilla montana var. serbica W.Zimm."},
		{"Rec. 50C Ex. 2", "Lindera Thunb., non Adans. 1763", "Lindera", "Thunb.", "Lindera Thunb. non Adans. 1763"},
		{"Rec. 50D Ex. 1", "Ficus exasperata auct. non Vahl", "Ficus exasperata", "", ""},
		{"H.2 Ex. 1", "Agrostis L. × Polypogon Desf.", "Agrostis × Polypogon", "", ""},
		{"H.2 Ex. 1", "Agrostis stolonifera L. × Polypogon monspeliensis (L.) Desf.", "Agrostis stolonifera × Polypogon monspeliensis", "", ""},
		{"H.2 Ex. 1", "Mentha aquatica L. × M. arvensis L. × M. spicata L.", "Mentha aquatica × Mentha arvensis × Mentha spicata", "",
			"Mentha aquatica L. × Mentha arvensis L. × Mentha spicata L."},
		{"H.2 Ex. 1", "Polypodium vulgare subsp. prionodes (Asch.) Rothm. × P. vulgare L. subsp. vulgare",
			"Polypodium vulgare subsp. prionodes × Polypodium vulgare subsp. vulgare", "",
			"Polypodium vulgare subsp. prionodes (Asch.) Rothm. × Polypodium vulgare L. subsp. vulgare"},
		{"H.2 Ex. 1", "Salix aurita L. × S. caprea L.", "Salix aurita × Salix caprea", "", "Salix aurita L. × Salix caprea L."},
		{"H.2 Ex. 2", "Kunzea linearis (Kirk) de Lange × K. robusta de Lange & Toelken", "Kunzea linearis × Kunzea robusta", "",
			"Kunzea linearis (Kirk) de Lange × Kunzea robusta de Lange & Toelken"},
		{"H.3 Ex. 1", "×Agropogon P. Fourn.", "×Agropogon", "P.Fourn.", "×Agropogon P.Fourn."},
		{"H.3 Ex. 1", "×Agropogon littoralis (Sm.) C. E. Hubb.", "×Agropogon littoralis", "(Sm.) C.E.Hubb.", "×Agropogon littoralis (Sm.) C.E.Hubb."},
		{"H.3 Ex. 1", "Salix ×capreola Andersson", "Salix ×capreola", "Andersson", ""},
		{"H.3 Ex. 1, x for the sign", "Mentha x smithiana R. A. Graham", "Mentha ×smithiana", "R.A.Graham", "Mentha ×smithiana R.A.Graham"},
		{"H.3 Ex. 1, x for the sign", "xAgropogon littoralis", "×Agropogon littoralis", "", "×Agropogon littoralis"},
		{"H.3 Ex. 1", "Polypodium vulgare nothosubsp. mantoniae (Rothm.) Schidlay", "Polypodium vulgare nothosubsp. mantoniae", "(Rothm.) Schidlay", ""},
		{"H.9 Ex. 1", "×Agrohordeum E. G. Camus ex A. Camus", "×Agrohordeum", "E.G.Camus ex A.Camus", "×Agrohordeum E.G.Camus ex A.Camus"},
		{"H.12 Ex. 1", "Mentha ×piperita f. hirsuta Sole", "Mentha ×piperita f. hirsuta", "Sole", ""},
		{"H.12 Ex. 1", "Populus ×canadensis var. serotina (R. Hartig) Rehder", "Populus ×canadensis var. serotina", "(R.Hartig) Rehder",
			"Populus ×canadensis var. serotina (R.Hartig) Rehder"},
	}
	for _, tt := range tests {
		t.Run(tt.article+" "+tt.text, func(t *testing.T) {
			n, err := Parse(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			whole := tt.whole
			if whole == "" {
				whole = tt.text
			}
			if got := n.Canonical(); got != tt.canonical {
				t.Errorf("canonical name %q, want %q", got, tt.canonical)
			}
			if got := n.Authorship.String(); got != tt.authors {
				t.Errorf("authors %q, want %q", got, tt.authors)
			}
			if got := n.String(); got != whole {
				t.Errorf("whole name %q, want %q", got, whole)
			}
		})
	}
}

func TestNameIsTakenApart(t *testing.T) {
	tests := []struct {
		what, text string
		want       Name
	}{
		{"plain, without capitals", "conium maculatum", Name{Genus: "Conium", Species: "maculatum"}},
		{"in capitals", "CONIUM MACULATUM L.", Name{Genus: "Conium", Species: "maculatum", Authorship: by("L.")}},
		{"basionym by one author proposed by another", "Cyrilla racemiflora (Banks ex L.) Mill.",
			Name{Genus: "Cyrilla", Species: "racemiflora", Authorship: Authorship{Basionym: Team{Ex: []string{"Banks"}, Authors: []string{"L."}}, Team: Team{Authors: []string{"Mill."}}}}},
		{"three authors and a year", "Armoracia rusticana P. Gaertn., B. Mey. et Scherb. (1800)",
			Name{Genus: "Armoracia", Species: "rusticana", Authorship: Authorship{Team: Team{Authors: []string{"P.Gaertn.", "B.Mey.", "Scherb."}, Year: 1800}}}},
		{"a year behind a comma", "Conium maculatum L., 1753", Name{Genus: "Conium", Species: "maculatum", Authorship: Authorship{Team: Team{Authors: []string{"L."}, Year: 1753}}}},
		{"authors left out", "Lapeirousia erythrantha var. welwitschii (Baker) Geerinck & al.",
			Name{Genus: "Lapeirousia", Species: "erythrantha", Infra: []Infra{{"var.", "welwitschii"}}, Authorship: Authorship{Basionym: Team{Authors: []string{"Baker"}}, Team: Team{Authors: []string{"Geerinck"}, Others: true}}}},
		{"in whose work it stands", "Viburnum ternatum Rehder in Sargent", Name{Genus: "Viburnum", Species: "ternatum", Authorship: Authorship{Team: Team{Authors: []string{"Rehder"}, In: []string{"Sargent"}}}}},
		{"the son of an author", "Lilium superbum L. f.", Name{Genus: "Lilium", Species: "superbum", Authorship: by("L.f.")}},
		{"a form, not a son", "Actaea rubra f. neglecta", Name{Genus: "Actaea", Species: "rubra", Infra: []Infra{{"f.", "neglecta"}}}},
		{"a form behind an author", "Actaea rubra (Aiton) Willd. f. neglecta (Gillman) B.L.Rob.",
			Name{Genus: "Actaea", Species: "rubra", Infra: []Infra{{"f.", "neglecta"}}, Authorship: Authorship{Basionym: Team{Authors: []string{"Gillman"}}, Team: Team{Authors: []string{"B.L.Rob."}}}}},
		{"an author with a particle", "Kunzea robusta de Lange & Toelken", Name{Genus: "Kunzea", Species: "robusta", Authorship: by("de Lange", "Toelken")}},
		{"a short subspecies", "Sambucus nigra ssp canadensis", Name{Genus: "Sambucus", Species: "nigra", Infra: []Infra{{"subsp.", "canadensis"}}}},
		{"a rank that is not told", "Sambucus nigra canadensis", Name{Genus: "Sambucus", Species: "nigra", Infra: []Infra{{"", "canadensis"}}}},
		{"to be compared", "Conium cf. maculatum L.", Name{Genus: "Conium", Species: "maculatum", Authorship: by("L."), Qualifier: Compare}},
		{"the whole name to be compared", "cf. Conium maculatum", Name{Genus: "Conium", Species: "maculatum", Qualifier: Compare}},
		{"near it", "Conium aff maculatum", Name{Genus: "Conium", Species: "maculatum", Qualifier: Akin}},
		{"some species", "Heracleum sp.", Name{Genus: "Heracleum", Qualifier: SomeOf}},
		{"some species with a number", "Heracleum sp. 2", Name{Genus: "Heracleum", Qualifier: SomeOf, Remark: "2"}},
		{"an aggregate", "Rubus fruticosus L. agg.", Name{Genus: "Rubus", Species: "fruticosus", Authorship: by("L."), Qualifier: Aggregate}},
		{"wrongly used", "Actaea alba auct. non (L.) Mill.", Name{Genus: "Actaea", Species: "alba", Remark: "auct. non (L.) Mill."}},
		{"said of it in brackets", "Crataegus oxyacantha (rejected name)", Name{Genus: "Crataegus", Species: "oxyacantha", Remark: "(rejected name)"}},
		{"in brackets, with a preposition", "Mandragora officinarum (in a wide sense)", Name{Genus: "Mandragora", Species: "officinarum", Remark: "(in a wide sense)"}},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			got, err := Parse(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("%s (-want +got):\n%s", tt.text, d)
			}
		})
	}
}

func by(authors ...string) Authorship { return Authorship{Team: Team{Authors: authors}} }

func TestWhatIsNoNameSaysWhere(t *testing.T) {
	tests := []struct {
		what, text string
		column     int
		message    string
	}{
		{"nothing", "  ", 1, "nothing is written"},
		{"a number", "12 angry men", 1, `found "12", expected the name of a genus`},
		{"a number behind", "Conium maculatum 7", 18, `found "7"`},
		{"no epithet behind a rank", "Conium maculatum subsp.", 24, "it ends here, expected the epithet that belongs to subsp."},
		{"a rank without a species", "Conium subsp. album", 8, "expected the epithet of a species before a rank"},
		{"an open bracket", "Conium maculatum (L. Mill.", 27, "expected a closing bracket"},
		{"nobody before ex", "Conium maculatum ex L.", 18, "expected an author"},
		{"nothing to compare with", "Conium cf.", 11, "it ends here, expected the epithet of a species"},
		{"a parent without its genus (article H.2 Ex. 2)", "Kunzea linearis (Kirk) de Lange × robusta de Lange & Toelken", 33, "each parent has its genus"},
		{"a letter too many", strings.Repeat("a", longest+1), longest, "no name is that long"},
	}
	for _, tt := range tests {
		t.Run(tt.what, func(t *testing.T) {
			_, err := Parse(tt.text)
			var u *Unread
			if !errors.As(err, &u) {
				t.Fatalf("%q was read, or with another error: %v", tt.text, err)
			}
			if u.Column != tt.column || !strings.Contains(u.Message, tt.message) {
				t.Errorf("got column %d, %s; want column %d, %s", u.Column, u.Message, tt.column, tt.message)
			}
		})
	}
}

// names drawn at random from the grammar of the Code.
func nameText(t *rapid.T) string {
	pick := func(label string, from ...string) string { return rapid.SampledFrom(from).Draw(t, label) }
	out := pick("cross", "", "", "×") + pick("genus", "Conium", "Salix", "Rosa") + pick("doubt", "", "", " cf.", " aff.") + " " + pick("cross", "", "×") + pick("species", "alba", "noli-tangere", "rosa")
	for range rapid.IntRange(0, 2).Draw(t, "ranks") {
		out += " " + pick("rank", "subsp.", "var.", "f.", "nothosubsp.") + " " + pick("epithet", "alba", "nigra")
	}
	author := func() string {
		return pick("author", "L.", "Hook.f.", "W. P. C. Barton", "de Lange", "d'Urv.", "Hand.-Mazz.", "St.-Lag.")
	}
	if rapid.Bool().Draw(t, "basionym") {
		out += " (" + author() + pick("ex", "", " ex "+author()) + ")"
	}
	return out + " " + author() + pick("more", "", " ex "+author(), " & "+author(), ", "+author()+" et "+author(), " et al.", " in "+author(), ", 1753") + pick("end", "", " agg.", " auct. non L.")
}

func TestWritingANameAndReadingItAgainChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := nameText(t)
		n, err := Parse(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		again, err := Parse(n.String())
		if err != nil {
			t.Fatalf("%q was written %q: %v", text, n.String(), err)
		}
		if d := cmp.Diff(n, again); d != "" {
			t.Fatalf("%q was written %q (-before +after):\n%s", text, n.String(), d)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"Conium maculatum L.", "×Agropogon littoralis (Sm.) C. E. Hubb.", "Salix aurita L. × S. caprea L.", "Rosa gallica L. var. gallica",
		"cf. X", "Rosa ×", "( (", "Rosa (1753) (L. ex", "Rubus fruticosus agg. agg.", "Rosa sp. × Rosa", "A. ×b × C", "Rosa L. f. f. alba", "Rosa ¸;(a", "x", "Rosa & al.",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, err := Parse(text)
		if err != nil {
			var u *Unread
			if !errors.As(err, &u) || u.Column < 1 {
				t.Fatalf("%q: a problem without a place: %v", text, err)
			}
			return
		}
		again, err := Parse(n.String())
		if err != nil {
			t.Fatalf("%q was written %q, which is no name: %v", text, n.String(), err)
		}
		if again.String() != n.String() || again.Canonical() != n.Canonical() {
			t.Fatalf("%q was written %q, and that %q", text, n.String(), again.String())
		}
	})
}
