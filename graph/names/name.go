package names

import "strings"

// Name is a scientific name taken apart. Of a hybrid formula only Parents is set.
type Name struct {
	Genus         string // with a capital, "Conium"; "C." where it is abbreviated
	GenusHybrid   bool   // the name of a hybrid between genera, ×Agropogon
	Species       string // the specific epithet, "" for a name of a genus
	SpeciesHybrid bool   // Mentha ×smithiana
	Infra         []Infra
	Authorship    Authorship // of the whole name; of the species where the name is an autonym
	Qualifier     Qualifier
	Remark        string // what is said of the name behind it: "auct. non L."
	Parents       []Name // of a hybrid formula, Salix aurita × Salix caprea
}

// Infra is a rank below the species with its epithet. Rank is "" where it is not
// written, which the Code asks for (article 24.1) and people often leave out.
type Infra struct {
	Rank    string // subsp. var. subvar. f. subf., with notho before it for hybrids
	Epithet string
}

// Qualifier says how far a plant is held to belong to the name.
type Qualifier string

// The qualifiers. Certain is the zero value.
const (
	Certain   Qualifier = ""
	Compare   Qualifier = "cf."  // confer: probably this, compare it
	Akin      Qualifier = "aff." // affinis: not this, but near it
	SomeOf    Qualifier = "sp."  // some species of this genus
	Aggregate Qualifier = "agg." // this species and those that are hard to part from it
)

// IsFormula tells whether the name names a hybrid by its parents (article H.2).
func (n *Name) IsFormula() bool { return len(n.Parents) > 0 }

// Last gives the lowest rank below the species that is written. Whatever ranks
// stand between are a classification, not the name (article 24.1).
func (n *Name) Last() (Infra, bool) {
	if len(n.Infra) == 0 {
		return Infra{}, false
	}
	return n.Infra[len(n.Infra)-1], true
}

// Canonical gives the name without authors, qualifiers and ranks between.
func (n *Name) Canonical() string {
	if n.IsFormula() {
		var parents []string
		for i := range n.Parents {
			parents = append(parents, n.Parents[i].Canonical())
		}
		return strings.Join(parents, " × ")
	}
	out := n.Genus
	if n.GenusHybrid {
		out = "×" + out
	}
	if n.Species != "" {
		out += " " + n.signed()
	}
	if last, ok := n.Last(); ok {
		out += last.words()
	}
	return out
}

// String gives the whole name as the Code writes it, ranks between included.
func (n *Name) String() string {
	if n.IsFormula() {
		var parents []string
		for i := range n.Parents {
			parents = append(parents, n.Parents[i].String())
		}
		return strings.Join(parents, " × ")
	}
	out := n.Genus
	if n.GenusHybrid {
		out = "×" + out
	}
	if n.Species == "" && (n.Qualifier == Compare || n.Qualifier == Akin) {
		out = string(n.Qualifier) + " " + out
	}
	if n.Species != "" {
		if n.Qualifier == Compare || n.Qualifier == Akin {
			out += " " + string(n.Qualifier)
		}
		out += " " + n.signed()
	}
	authors := n.Authorship.String()
	if n.autonym() && authors != "" {
		out += " " + authors
		authors = ""
	}
	for _, i := range n.Infra {
		out += i.words()
	}
	if n.Qualifier == SomeOf {
		out += " sp."
	}
	if authors != "" {
		out += " " + authors
	}
	if n.Qualifier == Aggregate {
		out += " agg."
	}
	if n.Remark != "" {
		out += " " + n.Remark
	}
	return out
}

func (n *Name) signed() string {
	if n.SpeciesHybrid {
		return "×" + n.Species
	}
	return n.Species
}

func (i Infra) words() string {
	if i.Rank == "" {
		return " " + i.Epithet
	}
	return " " + i.Rank + " " + i.Epithet
}

// autonym tells whether the last epithet repeats the species', which makes a name
// that has no authors of its own (article 26.1).
func (n *Name) autonym() bool {
	last, ok := n.Last()
	return ok && last.Epithet == n.Species
}

// ranks below the species, by how they are written without the full stop (article
// 4; the short forms are those of floras).
var ranks = map[string]string{
	"subsp": "subsp.", "ssp": "subsp.", "subspecies": "subsp.",
	"var": "var.", "variety": "var.", "varietas": "var.",
	"subvar": "subvar.", "subvarietas": "subvar.",
	"f": "f.", "fo": "f.", "form": "f.", "forma": "f.",
	"subf": "subf.", "subforma": "subf.",
}

// rankNamed reads a word as a rank, hybrid ranks too: nothosubsp., nvar. (article
// H.3.1).
func rankNamed(word string) (string, bool) {
	w := strings.TrimSuffix(strings.ToLower(word), ".")
	if rank, ok := ranks[w]; ok {
		return rank, true
	}
	for _, prefix := range []string{"notho", "n"} {
		if rank, ok := ranks[strings.TrimPrefix(w, prefix)]; ok && strings.HasPrefix(w, prefix) {
			return "notho" + rank, true
		}
	}
	return "", false
}
