package exchange

import (
	"strconv"

	"telltale/graph"
)

// The pages are the files of a data folder, field for field as package files reads
// them.

func number(x float64) word { return word(strconv.FormatFloat(x, 'f', -1, 64)) }

func integer(n int) word { return word(strconv.Itoa(n)) }

func vocabularyPage(v *graph.Vocabulary) mapping {
	var stages, positions, efforts, traits mapping
	for _, s := range v.Stages {
		var bbch words
		for _, n := range s.BBCH {
			bbch = append(bbch, integer(n))
		}
		stages = append(stages, entry{s.Stage.String(), mapping{{"bbch", bbch}, {"means", prose(s.Means)}}})
	}
	for _, p := range v.Positions {
		positions = append(positions, entry{p.Name, line{{"means", word(p.Means)}}})
	}
	for _, e := range v.Efforts {
		efforts = append(efforts, entry{e.Name, line{{"cost", number(e.Cost)}, {"means", word(e.Means)}, {"from", word(e.From)}}})
	}
	for _, t := range v.Traits {
		traits = append(traits, entry{t.ID, traitPage(t)})
	}
	return mapping{{"stages", stages}, {"positions", positions}, {"efforts", efforts}, {"traits", traits}}
}

func traitPage(t *graph.Trait) mapping {
	m := mapping{
		{"kind", word(t.Kind.String())}, {"unit", word(t.Unit)}, {"organ", word(t.Organ)}, {"label", unlessID(t.Label, t)},
		{"words", wordsOf(t.Words)}, {"question", prose(t.Question)}, {"means", prose(t.Means)},
		{"see_at", wordsOf(t.SeeAt.Names())}, {"effort", word(t.Effort)}, {"caution", prose(t.Caution)}, {"group", unlessID(t.Group, t)},
	}
	if t.ErrorRate != 0 || t.ErrorFrom != "" {
		m = append(m, entry{"error", line{{"rate", number(t.ErrorRate)}, {"from", word(t.ErrorFrom)}}})
	}
	if t.Excludes == (t.Kind == graph.MonthsKind) { // otherwise it is what a file says by saying nothing
		m = append(m, entry{"excludes", truth(t.Excludes)})
	}
	m = append(m, entry{"because", prose(t.Because)}, entry{"many", ifTrue(t.Many)})
	var states mapping
	for _, s := range t.States {
		states = append(states, entry{s.ID, line{{"means", word(s.Means)}, {"words", wordsOf(s.Words)}, {"near", wordsOf(s.Near)}}})
	}
	return append(m, entry{"states", states})
}

// unlessID leaves out what a file says by saying nothing.
func unlessID(name string, t *graph.Trait) word {
	if name == t.ID {
		return ""
	}
	return word(name)
}

func truth(b bool) raw { return raw(strconv.FormatBool(b)) }

func ifTrue(b bool) any {
	if b {
		return truth(b)
	}
	return nil
}

func sourcesPage(sources []*graph.Source) mapping {
	var out mapping
	for _, s := range sources {
		year := word("")
		if s.Year != 0 {
			year = integer(s.Year)
		}
		out = append(out, entry{s.ID, mapping{
			{"title", prose(s.Title)}, {"publisher", prose(s.Publisher)}, {"year", year}, {"url", word(s.URL)}, {"kind", word(s.Kind)},
		}})
	}
	return out
}

func taxonPage(t *graph.Taxon, v *graph.Vocabulary) mapping {
	m := mapping{
		{"id", word(t.ID)}, {"name", word(t.Name)}, {"author", word(t.Author)}, {"family", word(t.Family)},
		{"common", wordsOf(t.Common)}, {"synonyms", wordsOf(t.Synonyms)}, {"range", wordsOf(t.Range)}, {"from", wordsOf(t.Sources)},
		{"traits", statements(t.Statements, v)},
	}
	var overrules mapping
	for _, o := range t.Overrules {
		overrules = append(overrules, entry{o.Trait, line{{"holds", truth(o.Exhaustive)}, {"because", word(o.Because)}, {"from", wordsOf(o.Sources)}}})
	}
	var toxicity, uses, lookalikes []mapping
	for _, x := range t.Toxicity {
		toxicity = append(toxicity, mapping{
			{"parts", wordsOf(x.Parts)}, {"told", word(x.Told)}, {"severity", word(x.Severity.String())}, {"irritant", ifTrue(x.Irritant)},
			{"route", word(x.Route)}, {"agent", prose(x.Agent)}, {"effect", prose(x.Effect)}, {"from", wordsOf(x.Sources)},
		})
	}
	for _, u := range t.Uses {
		uses = append(uses, mapping{
			{"parts", wordsOf(u.Parts)}, {"told", word(u.Told)}, {"category", word(u.Category)}, {"use", prose(u.Use)},
			{"at", oneOrMore(u.Stages.Names())}, {"caution", prose(u.Caution)}, {"from", wordsOf(u.Sources)},
		})
	}
	for _, l := range t.Lookalikes {
		lookalikes = append(lookalikes, mapping{
			{"taxon", word(l.Taxon)}, {"at", oneOrMore(l.Stages.Names())}, {"evidence", word(l.Evidence)},
			{"difference", prose(l.Difference)}, {"from", wordsOf(l.Sources)},
		})
	}
	return append(m, entry{"exhaustive", overrules}, entry{"toxicity", toxicity}, entry{"uses", uses}, entry{"lookalikes", lookalikes})
}

// statements writes what is stated of each trait, one statement a line.
func statements(list []graph.Statement, v *graph.Vocabulary) mapping {
	var out mapping
	for _, s := range list {
		if n := len(out); n == 0 || out[n-1].name != s.Trait {
			out = append(out, entry{s.Trait, []line(nil)})
		}
		last := &out[len(out)-1]
		last.value = append(last.value.([]line), line{
			{s.Frequency.String(), word(valueWithUnit(&s, v))}, {"on", word(s.Position)}, {"at", oneOrMore(s.Stages.Names())},
			{"from", wordsOf(s.Sources)}, {"note", word(s.Note)},
		})
	}
	return out
}

func valueWithUnit(s *graph.Statement, v *graph.Vocabulary) string {
	if t, ok := v.Trait(s.Trait); ok && t.Unit != "" {
		return s.Value() + " " + t.Unit
	}
	return s.Value()
}

func studyPage(s *graph.Study, v *graph.Vocabulary) mapping {
	var gather []mapping
	for _, g := range s.Gather {
		var checks []line
		for _, c := range g.Checks {
			checks = append(checks, line{
				{"trait", word(c.Trait)}, {"on", word(c.Position)}, {"is", wordsOf(c.States)}, {"because", word(c.Because)}, {"from", wordsOf(c.Sources)},
			})
		}
		var say []prose
		for _, x := range g.Say {
			say = append(say, prose(x))
		}
		gather = append(gather, mapping{
			{"parts", wordsOf(g.Parts)}, {"stages", wordsOf(g.Stages.Names())}, {"checks", checks}, {"say", orNil(say)}, {"from", wordsOf(g.Sources)},
		})
	}
	var leave []mapping
	for _, r := range s.Leave {
		m := rulePage(r, v)
		if r.For == s.Taxon {
			m = m.without("for")
		}
		leave = append(leave, m.without("then"))
	}
	var tooClose []mapping
	for _, c := range s.TooClose {
		tooClose = append(tooClose, mapping{
			{"taxon", word(c.Taxon)}, {"stages", wordsOf(c.Stages.Names())}, {"because", prose(c.Because)}, {"parted", prose(c.Parted)}, {"from", wordsOf(c.Sources)},
		})
	}
	return mapping{
		{"taxon", word(s.Taxon)}, {"about", prose(s.About)}, {"gather", gather}, {"leave", leave}, {"too_close", tooClose}, {"from", wordsOf(s.Sources)},
	}
}

func orNil(list []prose) any {
	if len(list) == 0 {
		return nil
	}
	return list
}

func (m mapping) without(name string) mapping {
	var out mapping
	for _, e := range m {
		if e.name != name {
			out = append(out, e)
		}
	}
	return out
}

func rulesPage(rules []*graph.Rule, v *graph.Vocabulary) mapping {
	var out []mapping
	for _, r := range rules {
		out = append(out, rulePage(r, v))
	}
	return mapping{{"rules", out}}
}

func rulePage(r *graph.Rule, v *graph.Vocabulary) mapping {
	var tests []mapping
	for i := range r.Tests {
		t := &r.Tests[i]
		tests = append(tests, mapping{{"given", givenLine(t, v)}, {"expect", word(t.Expect)}, {"for", wordsOf(t.For)}})
	}
	return mapping{
		{"id", word(r.ID)}, {"for", word(r.For)}, {"then", word(r.Then)}, {"when", prose(r.When)}, {"because", prose(r.Because)},
		{"from", wordsOf(r.Sources)}, {"tests", tests},
	}
}

// givenLine writes the observation of a rule test as a rules file has it: a reading
// without its sign, except for what was looked for and not there.
func givenLine(t *graph.RuleTest, v *graph.Vocabulary) line {
	var out line
	for i := range t.Given.Readings {
		name, value := notation(&t.Given.Readings[i], v)
		out = append(out, entry{name, word(value)})
	}
	if t.Given.Stage != graph.AnyStage {
		out = append(out, entry{"stage", word(t.Given.Stage.String())})
	}
	if t.Given.Month != 0 {
		out = append(out, entry{"month", integer(t.Given.Month)})
	}
	return append(out, entry{"part", word(t.Given.Part)}, entry{"hoped_for", word(t.Hoped)})
}
