package files

import "regexp"

// The names that files give to things. They are kept apart from what a reading,
// a rule or the graph sets beside them: = ! | ? @ / and blanks.
var (
	taxonID = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	traitID = regexp.MustCompile(`^[a-z][a-z0-9_]*\.[a-z][a-z0-9_]*$`)
	stateID = regexp.MustCompile(`^[a-z0-9][a-z0-9_]*$`)
	plainID = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_.-]*$`)
)

// named checks an id. It tells whether one is given.
func (p *page) named(w Word, pattern *regexp.Regexp, what, form string) bool {
	if w.Text != "" && !pattern.MatchString(w.Text) {
		p.add(w, "%q cannot be the id of a %s: expected %s", w.Text, what, form)
	}
	return w.Text != ""
}
