package names

import (
	"regexp"
	"strconv"
	"strings"
)

// authorship reads the authors that stand here: those of the basionym in
// parentheses, then those of the name.
func (p *parser) authorship(n *Name) error {
	var a Authorship
	if p.word() == "(" && year(p.after()) == 0 {
		p.at++
		team, err := p.team()
		if err != nil {
			return err
		}
		if p.word() != ")" {
			return p.unread("a closing bracket behind the authors of the basionym")
		}
		p.at++
		a.Basionym = team
	}
	if a.Basionym.isZero() || p.teamFollows() {
		team, err := p.team()
		if err != nil {
			return err
		}
		a.Team = team
	}
	if a.IsZero() {
		return p.unread("an author, or a rank such as subsp., var. or f.")
	}
	n.Authorship = a
	return nil
}

// teamFollows tells whether authors stand here and not something else of the name.
func (p *parser) teamFollows() bool {
	return p.more() && !p.isRank() && !p.isAggregate() && !p.startsRemark() && (isAuthor(p.word()) || p.word() == "," || year(p.word()) > 0)
}

// team reads authors with ex, in, and a year.
func (p *parser) team() (Team, error) {
	var t Team
	var author []string
	var list []string
	flush := func() {
		if len(author) > 0 {
			list = append(list, joined(author))
			author = nil
		}
	}
	inWork := false
	for p.more() {
		w := p.word()
		switch {
		case w == "ex" || w == "in":
			flush()
			if len(list) == 0 || inWork {
				return t, p.unread("an author")
			}
			if w == "ex" {
				t.Ex, list = append(t.Ex, list...), nil
			} else {
				t.Authors, list, inWork = list, nil, true
			}
		case w == "&" || w == "et" || w == "and" || w == ",":
			if len(author) == 0 && len(list) == 0 {
				return t, p.unread("an author")
			}
			flush()
		case (w == "al." || w == "al") && len(list) > 0 && len(author) == 0:
			t.Others = !inWork || t.Others
		case p.year(&t):
			flush()
		case sonOf(w) && len(author) > 0 && !p.isRank():
			author = append(author, strings.TrimSuffix(w, ".")+".")
			flush()
		case p.isRank() || p.isAggregate() || p.startsRemark() || !isAuthor(w):
			flush()
			return t, p.finish(&t, list, inWork)
		default:
			author = append(author, w)
		}
		p.at++
	}
	flush()
	return t, p.finish(&t, list, inWork)
}

// finish puts the authors read last where they belong.
func (p *parser) finish(t *Team, list []string, inWork bool) error {
	switch {
	case len(list) == 0 && (inWork || len(t.Ex) > 0):
		return p.unread("an author")
	case inWork:
		t.In = list
	default:
		t.Authors = list
	}
	return nil
}

// year reads a year, in parentheses or not.
func (p *parser) year(t *Team) bool {
	if y := year(p.word()); y > 0 {
		t.Year = y
		return true
	}
	if p.word() == "(" && year(p.after()) > 0 && p.at+2 < len(p.tokens) && p.tokens[p.at+2].text == ")" {
		t.Year = year(p.after())
		p.at += 2
		return true
	}
	return false
}

var yearPattern = regexp.MustCompile(`^(1[5-9]|20)\d\d$`)

func year(w string) int {
	if !yearPattern.MatchString(w) {
		return 0
	}
	y, _ := strconv.Atoi(w) // the pattern lets only numbers through
	return y
}

// sonOf tells whether the word says which of two authors of one name is meant.
func sonOf(w string) bool {
	switch w {
	case "f.", "fil.", "fil", "bis", "bis.":
		return true
	}
	return false
}

// joined writes an author without blanks behind full stops, as author lists do
// (Brummitt & Powell 1992, Authors of plant names): R.M.King.
func joined(author []string) string {
	out := ""
	for _, w := range author {
		if out != "" && !strings.HasSuffix(out, ".") {
			out += " "
		}
		out += w
	}
	return out
}
