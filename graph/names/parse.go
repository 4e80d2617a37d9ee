package names

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is how many characters a name is read of. The longest name in use, with
// all its authors, stays far below it (common practice, no source).
const longest = 400

// Parse reads a scientific name. What cannot be one is an *Unread.
func Parse(text string) (Name, error) {
	switch {
	case !utf8.ValidString(text):
		return Name{}, &Unread{Text: strings.ToValidUTF8(text, "?"), Column: 1, Message: "this is no text"}
	case utf8.RuneCountInString(text) > longest:
		return Name{}, &Unread{Text: string([]rune(text)[:40]) + "...", Column: longest, Message: "no name is that long"}
	}
	all := tokens(text)
	if len(all) == 0 {
		return Name{}, &Unread{Text: text, Column: 1, Message: "nothing is written, expected a scientific name"}
	}
	parts := formula(all)
	if len(parts) == 1 {
		p := parser{text: text, tokens: parts[0]}
		return p.name()
	}
	return parents(text, parts)
}

// formula parts the tokens at each multiplication sign that stands between two
// names: one with a blank behind it and a genus after that (recommendation H.3A
// note 1).
func formula(all []token) [][]token {
	var out [][]token
	from := 0
	for i, t := range all {
		if t.text != cross || i == from || i+1 >= len(all) || all[i+1].glued {
			continue
		}
		if next := []rune(all[i+1].text); unicode.IsUpper(next[0]) && i > from {
			out = append(out, all[from:i])
			from = i + 1
		}
	}
	return append(out, all[from:])
}

func parents(text string, parts [][]token) (Name, error) {
	var out Name
	for i, part := range parts {
		p := parser{text: text, tokens: part}
		parent, err := p.name()
		if err != nil {
			return Name{}, err
		}
		if short, ok := strings.CutSuffix(parent.Genus, "."); ok && i > 0 {
			if first := out.Parents[0].Genus; strings.HasPrefix(first, short) {
				parent.Genus = first
			}
		}
		out.Parents = append(out.Parents, parent)
	}
	return out, nil
}

// parser reads one name from its tokens.
type parser struct {
	text   string
	tokens []token
	at     int

	ofSpecies Authorship // the authors behind the epithet of the species
}

func (p *parser) more() bool { return p.at < len(p.tokens) }

func (p *parser) word() string {
	if !p.more() {
		return ""
	}
	return p.tokens[p.at].text
}

func (p *parser) after() string {
	if p.at+1 >= len(p.tokens) {
		return ""
	}
	return p.tokens[p.at+1].text
}

// unread is the problem of the word that does not fit.
func (p *parser) unread(expected string) error {
	if !p.more() {
		return &Unread{Text: p.text, Column: utf8.RuneCountInString(p.text) + 1, Message: "it ends here, expected " + expected}
	}
	t := p.tokens[p.at]
	return &Unread{Text: p.text, Column: t.column, Message: "found " + strconv.Quote(t.text) + ", expected " + expected}
}

func (p *parser) name() (Name, error) {
	var n Name
	n.Qualifier = p.doubt()
	n.GenusHybrid = p.cross()
	if !isGenus(p.word()) {
		return Name{}, p.unread("the name of a genus")
	}
	genus := p.word()
	n.Genus = title(genus)
	p.at++
	if p.someSpecies(&n) {
		return n, nil
	}
	if err := p.species(&n, genus); err != nil {
		return Name{}, err
	}
	return n, p.rest(&n)
}

// doubt reads cf. or aff. where it stands.
func (p *parser) doubt() Qualifier {
	switch strings.TrimSuffix(strings.ToLower(p.word()), ".") {
	case "cf":
		p.at++
		return Compare
	case "aff":
		p.at++
		return Akin
	}
	return Certain
}

func (p *parser) cross() bool {
	if p.word() != cross {
		return false
	}
	p.at++
	return true
}

// someSpecies reads "sp." or "spp." and takes what follows for a remark.
func (p *parser) someSpecies(n *Name) bool {
	switch strings.TrimSuffix(strings.ToLower(p.word()), ".") {
	case "sp", "spp":
		p.at++
		n.Qualifier = SomeOf
		n.Remark = p.remark()
		return true
	}
	return false
}

// species reads the specific epithet with what stands before it, if there is one.
func (p *parser) species(n *Name, genus string) error {
	doubt := p.doubt()
	if doubt != Certain {
		n.Qualifier = doubt
	}
	n.SpeciesHybrid = p.cross()
	epithet := p.word()
	if shouted(genus) && shouted(epithet) {
		epithet = strings.ToLower(epithet)
	}
	switch {
	case isEpithet(epithet):
		n.Species = epithet
		p.at++
	case n.SpeciesHybrid || doubt != Certain:
		return p.unread("the epithet of a species, in lower case")
	}
	return nil
}

// shouted tells whether a word is written in capitals.
func shouted(w string) bool {
	return utf8.RuneCountInString(w) > 2 && strings.ToUpper(w) == w && !strings.ContainsAny(w, ".,&()×")
}

// rest reads authors and ranks until the name ends.
func (p *parser) rest(n *Name) error {
	unranked := n.Species != ""
	for p.more() {
		doubt := p.doubt()
		if doubt != Certain {
			n.Qualifier = doubt
		}
		switch {
		case p.isAggregate():
			p.at++
			n.Qualifier = Aggregate
		case p.startsRemark():
			n.Remark = p.remark()
		case p.isRank():
			if err := p.infra(n); err != nil {
				return err
			}
			unranked = false
		case unranked && isEpithet(p.word()):
			n.Infra = append(n.Infra, Infra{Epithet: p.word()})
			p.at++
			unranked = false
		case p.word() == cross:
			return p.unread("no more: in a formula each parent has its genus before it (article H.2)")
		case doubt != Certain:
			return p.unread("an epithet or a rank")
		default:
			unranked = false
			if err := p.authorship(n); err != nil {
				return err
			}
		}
	}
	if n.autonym() && n.Authorship.IsZero() {
		n.Authorship = p.ofSpecies
	}
	return nil
}

func (p *parser) isAggregate() bool {
	switch strings.ToLower(p.word()) {
	case "agg", "agg.", "aggr", "aggr.":
		return true
	}
	return false
}

// isRank tells whether a rank stands here. An f. with no epithet behind it is
// filius, the son of an author.
func (p *parser) isRank() bool {
	if _, ok := rankNamed(p.word()); !ok {
		return false
	}
	if w := strings.TrimSuffix(p.word(), "."); w == "f" || w == "fo" {
		return isEpithet(p.after()) || p.after() == cross
	}
	return true
}

func (p *parser) infra(n *Name) error {
	if n.Species == "" {
		return p.unread("the epithet of a species before a rank below it")
	}
	rank, _ := rankNamed(p.word())
	p.at++
	if doubt := p.doubt(); doubt != Certain {
		n.Qualifier = doubt
	}
	if p.cross() {
		rank = "notho" + strings.TrimPrefix(rank, "notho")
	}
	if !isEpithet(p.word()) {
		return p.unread("the epithet that belongs to " + rank)
	}
	n.Infra = append(n.Infra, Infra{Rank: rank, Epithet: p.word()})
	p.at++
	if len(n.Infra) == 1 {
		p.ofSpecies = n.Authorship
	}
	n.Authorship = Authorship{} // what stood before the rank is not of the whole name
	return nil
}

// startsRemark tells whether here begins what is said of a name: how it was used
// (recommendation 50D), that it is a later homonym (50C), or anything in brackets
// that is no author.
func (p *parser) startsRemark() bool {
	switch w := strings.TrimSuffix(strings.ToLower(p.word()), "."); w {
	case "auct", "auctt", "sensu", "s.l", "s.lat", "s.str", "s.s", "non", "nec", "hort", "nom", "pro", "emend", "orth", "p.p", ";":
		return true
	case "(":
		next := p.after()
		r, _ := utf8.DecodeRuneInString(next)
		return unicode.IsLower(r) && (!isAuthor(next) || next == "in")
	default:
		return strings.HasPrefix(w, "[") || strings.HasPrefix(w, "'") || strings.HasPrefix(w, "‘") || strings.HasPrefix(w, "=")
	}
}

// remark takes all that is left as it is written.
func (p *parser) remark() string {
	var b strings.Builder
	for ; p.more(); p.at++ {
		t := p.tokens[p.at]
		if b.Len() > 0 && !t.glued {
			b.WriteByte(' ')
		}
		b.WriteString(t.text)
	}
	return b.String()
}
