package names

import (
	"strconv"
	"strings"
)

// Authorship is who published a name: in parentheses those of its basionym, the
// name that first brought the epithet (article 49.1), then its own.
type Authorship struct {
	Basionym Team
	Team     Team
}

// Team is the authors of one publication.
type Team struct {
	Ex      []string // they proposed the name, the Authors published it (article 46.10)
	Authors []string
	Others  bool     // "& al."
	In      []string // in whose work it stands, which is no part of the citation (article 46 note 3)
	Year    int      // 0 where it is not told
}

// IsZero tells whether no author is named.
func (a *Authorship) IsZero() bool { return a.Basionym.isZero() && a.Team.isZero() }

func (t *Team) isZero() bool {
	return len(t.Ex) == 0 && len(t.Authors) == 0 && len(t.In) == 0 && t.Year == 0 && !t.Others
}

// String writes the authors as the Code does.
func (a *Authorship) String() string {
	team := a.Team.String()
	if a.Basionym.isZero() {
		return team
	}
	return strings.TrimSpace("(" + a.Basionym.String() + ") " + team)
}

// String writes the team, "Nyman ex A.W.Hill".
func (t *Team) String() string {
	var parts []string
	if len(t.Ex) > 0 {
		parts = append(parts, together(t.Ex, false), "ex")
	}
	if len(t.Authors) > 0 {
		parts = append(parts, together(t.Authors, t.Others))
	}
	if len(t.In) > 0 {
		parts = append(parts, "in", together(t.In, false))
	}
	out := strings.Join(parts, " ")
	if t.Year > 0 {
		if out != "" {
			out += ", "
		}
		out += strconv.Itoa(t.Year)
	}
	return out
}

// together links authors, the last with & (recommendation 46C).
func together(authors []string, others bool) string {
	if others {
		return strings.Join(authors, ", ") + " & al."
	}
	if n := len(authors); n > 1 {
		return strings.Join(authors[:n-1], ", ") + " & " + authors[n-1]
	}
	return authors[0]
}

// Contradicts tells whether two authorships cannot be of one name. Who leaves out
// the basionym's authors, the year or those before "ex" contradicts nobody, and an
// abbreviation fits what it can stand for: L. and Linnaeus.
func (a *Authorship) Contradicts(b *Authorship) bool {
	if a.IsZero() || b.IsZero() {
		return false
	}
	if !a.Basionym.isZero() && !b.Basionym.isZero() && a.Basionym.contradicts(&b.Basionym) {
		return true
	}
	return a.Team.contradicts(&b.Team)
}

func (t *Team) contradicts(u *Team) bool {
	if t.Year > 0 && u.Year > 0 && t.Year != u.Year {
		return true
	}
	if len(t.Authors) == 0 || len(u.Authors) == 0 {
		return false
	}
	if !sameAuthor(t.Authors[0], u.Authors[0]) {
		return true
	}
	if t.Others || u.Others {
		return false
	}
	if len(t.Authors) != len(u.Authors) {
		return true
	}
	for i := range t.Authors {
		if !sameAuthor(t.Authors[i], u.Authors[i]) {
			return true
		}
	}
	return false
}

// sameAuthor compares two authors word by word from the last: initials that only
// one of them has tell nothing, W. Bartram is Bartram.
func sameAuthor(a, b string) bool {
	x, y := authorWords(a), authorWords(b)
	for i, j := len(x)-1, len(y)-1; i >= 0 && j >= 0; i, j = i-1, j-1 {
		if !standsFor(x[i], y[j]) && !standsFor(y[j], x[i]) {
			return false
		}
	}
	return true
}

// authorWords takes an author apart, each word with its full stop if it has one.
func authorWords(a string) []string {
	return strings.Fields(strings.NewReplacer(".", ". ", "-", " ", "’", "'", "`", "'").Replace(fold(a)))
}

// standsFor tells whether the word short is long or an abbreviation of it. Two
// abbreviations have to be equal: Lam. is not L., which is Linnaeus and nobody else.
func standsFor(short, long string) bool {
	if short == long {
		return true
	}
	body, abbreviated := strings.CutSuffix(short, ".")
	if !abbreviated || strings.HasSuffix(long, ".") {
		return false
	}
	if body == "l" {
		return strings.HasPrefix(long, "linn")
	}
	return strings.HasPrefix(long, body)
}
