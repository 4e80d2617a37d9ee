package names

import (
	"fmt"
	"strings"
	"unicode"
)

// Unread is a text that is no scientific name, and where it stops being one.
type Unread struct {
	Text    string
	Column  int // of the first character that does not fit, from 1
	Message string
}

// Error names the text and the column.
func (u *Unread) Error() string {
	return fmt.Sprintf("name %q, column %d: %s", u.Text, u.Column, u.Message)
}

// token is a word or a sign of a name.
type token struct {
	text   string
	column int
	glued  bool // nothing stands between it and what is before
}

// cross is the multiplication sign of hybrids.
const cross = "×"

// tokens takes a text apart at blanks and signs. A lone x is a multiplication sign
// (recommendation H.3A note 1), and so is one before a capital: xAgropogon.
func tokens(text string) []token {
	var out []token
	var word []rune
	start, glued := 0, false
	flush := func() {
		if len(word) > 0 {
			out = append(out, wordTokens(string(word), start, glued)...)
			word = word[:0]
		}
	}
	blank := true
	for i, r := range []rune(text) {
		switch {
		case unicode.IsSpace(r):
			flush()
			blank = true
			continue
		case strings.ContainsRune("×✕✖(),&;", r):
			flush()
			if r == '✕' || r == '✖' {
				r = '×'
			}
			out = append(out, token{text: string(r), column: i + 1, glued: !blank})
		default:
			if len(word) == 0 {
				start, glued = i+1, !blank
			}
			word = append(word, r)
		}
		blank = false
	}
	flush()
	return out
}

func wordTokens(word string, column int, glued bool) []token {
	if word == "x" || word == "X" {
		return []token{{cross, column, glued}}
	}
	if rest, ok := strings.CutPrefix(word, "x"); ok && unicode.IsUpper([]rune(rest)[0]) {
		return []token{{cross, column, glued}, {rest, column + 1, true}}
	}
	return []token{{word, column, glued}}
}

// isEpithet tells whether a word can be an epithet: letters in lower case, with
// hyphens inside (articles 23.1 and 60.11).
func isEpithet(w string) bool {
	letters := 0
	for i, r := range w {
		switch {
		case unicode.IsLetter(r) && !unicode.IsUpper(r):
			letters++
		case r == '-' && i > 0 && !strings.HasSuffix(w, "-"):
		default:
			return false
		}
	}
	return letters >= 2 && !particles[w] && !strings.Contains(w, "--")
}

// particles are the words in lower case that stand in author citations, and so are
// not read as epithets.
var particles = map[string]bool{
	"ex": true, "et": true, "and": true, "in": true, "de": true, "da": true, "di": true, "do": true, "dos": true, "del": true, "della": true,
	"den": true, "der": true, "des": true, "du": true, "la": true, "le": true, "van": true, "von": true, "zu": true, "zur": true, "ter": true, "ten": true,
	"af": true, "y": true, "bis": true, "fil": true, "auct": true, "sensu": true, "non": true, "nec": true, "hort": true, "nom": true, "pro": true,
	"emend": true, "orth": true, "cf": true, "aff": true, "agg": true, "sp": true, "spp": true,
}

// isGenus tells whether a word can be a genus, or its first letters with a full
// stop.
func isGenus(w string) bool {
	body, short := strings.CutSuffix(w, ".")
	letters := 0
	for i, r := range body {
		switch {
		case unicode.IsLetter(r):
			letters++
		case r == '-' && i > 0 && !strings.HasSuffix(body, "-"):
		default:
			return false
		}
	}
	return letters >= 2 || short && letters == 1
}

// isAuthor tells whether a word can stand in an author's name.
func isAuthor(w string) bool {
	for _, r := range w {
		if !unicode.IsLetter(r) && !strings.ContainsRune(".-'’`", r) {
			return false
		}
	}
	first := []rune(w)[0]
	return unicode.IsUpper(first) || first == '\'' || strings.HasPrefix(w, "d'") || strings.HasPrefix(w, "d’") || authorParticle(w)
}

// authorParticle tells whether a word in lower case is part of a name: de, van.
func authorParticle(w string) bool {
	switch w {
	case "ex", "et", "and", "in", "auct", "sensu", "non", "nec", "hort", "nom", "pro", "emend", "orth", "cf", "aff", "agg", "sp", "spp", "fil", "bis":
		return false
	}
	return particles[w]
}

// title writes a word with a capital and the rest in lower case, also behind a
// hyphen.
func title(w string) string {
	r := []rune(strings.ToLower(w))
	r[0] = unicode.ToUpper(r[0])
	return string(r)
}

// accents folds the letters that Latin does not have (article 60.7).
var accents = strings.NewReplacer(
	"ä", "a", "á", "a", "à", "a", "â", "a", "ã", "a", "å", "a", "æ", "ae", "ç", "c", "č", "c", "ď", "d", "é", "e", "è", "e", "ê", "e", "ë", "e", "ě", "e",
	"í", "i", "ì", "i", "î", "i", "ï", "i", "ł", "l", "ñ", "n", "ň", "n", "ó", "o", "ò", "o", "ô", "o", "õ", "o", "ö", "o", "ø", "o", "œ", "oe", "ř", "r",
	"š", "s", "ß", "ss", "ú", "u", "ù", "u", "û", "u", "ü", "u", "ů", "u", "ý", "y", "ž", "z",
)

// fold leaves out what does not tell two words apart.
func fold(w string) string { return accents.Replace(strings.ToLower(w)) }
