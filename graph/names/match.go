package names

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// Plant is what one plant of a graph is called.
type Plant struct {
	ID       string
	Accepted string // scientific name, with its authors
	Synonyms []string
	Common   []string
}

// Kind is what sort of name it is that matches.
type Kind uint8

// The kinds of name.
const (
	AcceptedName Kind = iota + 1
	Synonym
	CommonName
)

// String gives the words that output uses.
func (k Kind) String() string {
	return [...]string{"", "accepted", "synonym", "common"}[k]
}

// How is in what way a name matches, the surest first.
type How uint8

// The ways. Only Same is the name itself.
const (
	Same        How = iota + 1
	OtherAuthor     // the same name by other authors: perhaps a homonym
	OtherRank       // the same epithets at another rank, or at one that is not told
	Within          // a rank below this species, which is known here only as a whole
	OtherEnding     // the same epithet with another ending (articles 23.5 and 60.8)
	OfGenus         // a species of the genus that was asked for
	Part            // some words of a name
	Above           // the species of which only a lower rank is a synonym here
	Misspelt        // some letters away
)

var howNames = [...]string{"", "same", "other_author", "other_rank", "within", "other_ending", "of_genus", "part", "above", "misspelt"}

// String gives the words that output uses.
func (h How) String() string { return howNames[h] }

// Match is a plant that a text can mean.
type Match struct {
	ID        string
	Name      string // the name that matches, as the graph writes it
	Kind      Kind
	How       How
	Letters   int       // how many letters are wrong, where it is misspelt
	Rest      int       // how many words of the name were not asked for
	Qualifier Qualifier // how sure the text itself is of the name
}

// Index finds plants by what they are called.
type Index struct{ entries []entry }

type entry struct {
	plant string
	text  string
	kind  Kind
	name  *Name // nil for a common name, and for what cannot be read as a name
}

// NewIndex takes in what plants are called.
func NewIndex(plants []Plant) *Index {
	x := &Index{}
	for _, p := range plants {
		x.scientific(p.ID, p.Accepted, AcceptedName)
		for _, s := range p.Synonyms {
			x.scientific(p.ID, s, Synonym)
		}
		for _, c := range p.Common {
			x.entries = append(x.entries, entry{plant: p.ID, text: c, kind: CommonName})
		}
	}
	return x
}

// words gives what is compared word by word: names without their authors.
func (e *entry) words() string {
	if e.name == nil {
		return e.text
	}
	return e.name.Canonical()
}

func (x *Index) scientific(id, text string, kind Kind) {
	e := entry{plant: id, text: text, kind: kind}
	if n, err := Parse(text); err == nil {
		e.name = &n
	}
	x.entries = append(x.entries, e)
}

// Find lists the plants that the text can mean, each once by the name that fits it
// best, the surest first.
func (x *Index) Find(text string) []Match {
	asked, err := Parse(text)
	readable := err == nil
	best := map[string]Match{}
	for i := range x.entries {
		e := &x.entries[i]
		m := Match{ID: e.plant, Name: e.text, Kind: e.kind}
		if readable && e.name != nil {
			m.How, m.Letters = relation(&asked, e.name)
			m.Qualifier = asked.Qualifier
		}
		if m.How == 0 {
			m.How, m.Letters, m.Rest = everydayRelation(text, e.words())
		}
		if m.How == 0 {
			continue
		}
		if old, ok := best[m.ID]; !ok || better(m, old) < 0 {
			best[m.ID] = m
		}
	}
	var out []Match
	for _, m := range best {
		out = append(out, m)
	}
	slices.SortFunc(out, better)
	return out
}

// Exactly lists the plants whose name the text is. Where authors are told they
// part homonyms; otherwise they are left out of account.
func (x *Index) Exactly(text string) []Match {
	var same, others []Match
	for _, m := range x.Find(text) {
		switch m.How {
		case Same:
			same = append(same, m)
		case OtherAuthor:
			others = append(others, m)
		}
	}
	if len(same) == 0 && len(others) == 1 {
		return others // one plant only has the name, whoever gave it
	}
	return same
}

// better orders matches, the surest first.
func better(a, b Match) int {
	return cmp.Or(cmp.Compare(a.How, b.How), cmp.Compare(a.Letters, b.Letters), cmp.Compare(a.Rest, b.Rest), cmp.Compare(a.Kind, b.Kind),
		strings.Compare(a.ID, b.ID), strings.Compare(a.Name, b.Name))
}

// relation tells how a name that was asked for matches a known one, and by how
// many letters it differs.
func relation(asked, known *Name) (How, int) {
	if asked.IsFormula() || known.IsFormula() {
		return formulaRelation(asked, known)
	}
	genus, ok := genusLetters(asked.Genus, known.Genus)
	if !ok {
		return 0, 0
	}
	if asked.Species == "" {
		return byLetters(OfGenus, genus)
	}
	if known.Species == "" {
		return 0, 0
	}
	how, letters := epithets(asked, known)
	switch {
	case how == 0:
		return 0, 0
	case genus+letters > 0:
		return Misspelt, genus + letters
	case how == Same && asked.Authorship.Contradicts(&known.Authorship):
		return OtherAuthor, 0
	}
	return how, 0
}

// formulaRelation compares hybrid formulas: the order of the parents tells nothing
// (recommendation H.2A).
func formulaRelation(asked, known *Name) (How, int) {
	if !asked.IsFormula() || !known.IsFormula() || !slices.Equal(parentKeys(asked), parentKeys(known)) {
		return 0, 0
	}
	return Same, 0
}

func parentKeys(n *Name) []string {
	var out []string
	for i := range n.Parents {
		out = append(out, fold(n.Parents[i].Canonical()))
	}
	slices.Sort(out)
	return out
}

// genusLetters compares genera; an abbreviated one fits whatever starts like it.
func genusLetters(asked, known string) (int, bool) {
	if short, ok := strings.CutSuffix(asked, "."); ok {
		return 0, strings.HasPrefix(fold(known), fold(short))
	}
	return misspelt(fold(asked), fold(known))
}

func byLetters(how How, letters int) (How, int) {
	if letters > 0 {
		return Misspelt, letters
	}
	return how, 0
}

// epithets compares all that stands behind the genus. A multiplication sign or
// notho before it makes no other name (article H.3.3).
func epithets(asked, known *Name) (How, int) {
	a, b := epithetKey(asked.Species), epithetKey(known.Species)
	x, below := asked.Last()
	y, lower := known.Last()
	if below && x.Rank == "" && a+epithetKey(x.Epithet) == b && !lower {
		return Same, 0 // an epithet of two words, to be united or hyphenated (article 23.1)
	}
	letters, ok := misspelt(a, b)
	other := ok && letters > 0 && stem(a) == stem(b)
	switch {
	case !ok:
		return 0, 0
	case other && !below && !lower:
		return OtherEnding, 0
	case below && !lower:
		return byLetters(Within, letters)
	case lower && !below:
		return byLetters(Above, letters)
	case !below:
		return byLetters(Same, letters)
	}
	more, ok := misspelt(epithetKey(x.Epithet), epithetKey(y.Epithet))
	switch {
	case !ok:
		return 0, 0
	case strings.TrimPrefix(x.Rank, "notho") != strings.TrimPrefix(y.Rank, "notho"):
		return byLetters(OtherRank, letters+more)
	}
	return byLetters(Same, letters+more)
}

func epithetKey(w string) string { return strings.ReplaceAll(fold(w), "-", "") }

// endings are those by which an epithet follows the gender of its genus, or which
// are put right wherever they are found wrong.
var endings = []string{"us", "um", "is", "os", "on", "ii", "a", "e", "i"}

// stem leaves the ending of an epithet out.
func stem(w string) string {
	if body, ok := strings.CutSuffix(w, "er"); ok {
		return body + "r" // niger, nigra
	}
	for _, e := range endings {
		if body, ok := strings.CutSuffix(w, e); ok && utf8.RuneCountInString(body) > 2 {
			return body
		}
	}
	return w
}

// misspelt counts how many letters differ and tells whether one word can still be
// meant for the other: a third of its letters may be wrong (common practice, no
// source).
func misspelt(a, b string) (int, bool) {
	if a == b {
		return 0, true
	}
	d := levenshtein.ComputeDistance(a, b)
	return d, 3*d <= min(utf8.RuneCountInString(a), utf8.RuneCountInString(b))
}

// everydayRelation compares names word by word: the same words, some of them, or
// words with some letters wrong. It gives how many letters are, and how many words
// were not asked for.
func everydayRelation(asked, known string) (how How, letters, rest int) {
	a, b := everyday(asked), everyday(known)
	if len(a) == 0 || len(b) == 0 {
		return 0, 0, 0
	}
	if strings.Join(a, "") == strings.Join(b, "") {
		return Same, 0, 0
	}
	letters, ok := wordsAmong(a, b)
	if !ok {
		return 0, 0, 0
	}
	how, letters = byLetters(Part, letters)
	return how, letters, max(len(b)-len(a), 0)
}

// wordsAmong finds each word that was asked for among those of a name, in any
// order, and counts the letters that are wrong.
func wordsAmong(asked, known []string) (int, bool) {
	letters := 0
	for _, a := range asked {
		fewest := -1
		for _, b := range known {
			d, ok := misspelt(a, b)
			if !ok && utf8.RuneCountInString(a) > 2 && strings.HasPrefix(b, a) {
				d, ok = 0, true
			}
			if ok && (fewest < 0 || d < fewest) {
				fewest = d
			}
		}
		if fewest < 0 {
			return 0, false
		}
		letters += fewest
	}
	return letters, true
}

// everyday gives the words of a common name without what people leave out or write
// otherwise.
func everyday(name string) []string {
	name = strings.NewReplacer("'", "", "’", "", "-", " ", "_", " ", ".", " ", ",", " ").Replace(fold(name))
	return strings.Fields(name)
}
