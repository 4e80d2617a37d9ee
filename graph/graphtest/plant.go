package graphtest

import (
	"slices"
	"strings"

	"telltale/graph"
)

// Plant is a taxon and what the lines say of it:
//
//	stem.surface usually bristly at rosette leafy_shoot on lower
//	leaf.length always (2-)5-15(-20) cm
//	stem.surface is exhaustive          the stated values are all there are
//	stem.surface is not exhaustive
//	deadly                              to eat; so serious and mild
//	looks like hemlock at rosette
func Plant(id string, lines ...string) Piece {
	words := strings.ReplaceAll(id, "-", " ")
	t := &graph.Taxon{ID: id, Name: strings.ToUpper(words[:1]) + words[1:], Family: "Plantaceae", Common: []string{words}, Sources: memory}
	return func(k *graph.Knowledge) {
		for _, line := range lines {
			say(k, t, line)
		}
		k.Taxa = append(k.Taxa, t)
	}
}

func say(k *graph.Knowledge, t *graph.Taxon, line string) {
	words := strings.Fields(line)
	severity, harmful := graph.SeverityNamed(line)
	switch {
	case harmful:
		t.Toxicity = append(t.Toxicity, graph.Toxicity{Parts: []string{"whole_plant"}, Severity: severity, Route: graph.Ingestion, Effect: "harms those who eat it", Sources: memory})
	case strings.HasPrefix(line, "looks like "):
		other, at, _ := strings.Cut(strings.TrimPrefix(line, "looks like "), " at ")
		t.Lookalikes = append(t.Lookalikes, graph.Lookalike{
			Taxon: other, Stages: stagesNamed(strings.Fields(at)), Evidence: graph.Memory, Difference: "look closely", Sources: memory,
		})
	case strings.HasSuffix(line, " exhaustive"):
		t.Overrules = append(t.Overrules, graph.Overrule{
			Trait: traitNamed(k, words[0], line).ID, Exhaustive: words[len(words)-2] != "not", Because: "so it is", Sources: memory,
		})
	case len(words) >= 3:
		t.Statements = append(t.Statements, Statement(traitNamed(k, words[0], line), strings.Join(words[1:], " ")))
	default:
		unread("plant", line)
	}
}

// Statement reads what is said of a trait: "usually bristly at rosette on lower".
func Statement(t *graph.Trait, text string) graph.Statement {
	s := graph.Statement{Trait: t.ID, Sources: memory}
	said, position, _ := strings.Cut(text, " on ")
	s.Position = position
	said, at, _ := strings.Cut(said, " at ")
	s.Stages = stagesNamed(strings.Fields(at))
	frequency, value, _ := strings.Cut(said, " ")
	var ok bool
	if s.Frequency, ok = graph.FrequencyNamed(frequency); !ok {
		unread("statement, for its frequency,", text)
	}
	if t.Kind == graph.StateKind {
		s.State = t.States[state(t, value, text)].ID
		return s
	}
	var err error
	s.Range, err = graph.ParseRange(value, t.Unit)
	check(err)
	check(s.Range.Check(t.Kind))
	return s
}

// Study works up a herb: what is gathered at which stages, "root at rosette" or
// "leaf flower at leafy_shoot flowering", and the checks demanded,
// "stem.surface is bristly|woolly", "leaf.length as stated", or
// "leaf.stalk on lower is petiolate". Several studies of one herb add up.
func Study(herb, gathered string, checks ...string) Piece {
	parts, stages, ok := strings.Cut(gathered, " at ")
	if !ok {
		unread("study", gathered)
	}
	g := graph.Gather{Parts: strings.Fields(parts), Stages: stagesNamed(strings.Fields(stages)), Say: []string{"look at each one"}, Sources: memory}
	return func(k *graph.Knowledge) {
		for _, line := range checks {
			g.Checks = append(g.Checks, demand(k, line))
		}
		i := slices.IndexFunc(k.Studies, func(s *graph.Study) bool { return s.Taxon == herb })
		if i < 0 {
			i = len(k.Studies)
			k.Studies = append(k.Studies, &graph.Study{Taxon: herb, About: "a herb of the tests", Sources: memory})
		}
		k.Studies[i].Gather = append(k.Studies[i].Gather, g)
	}
}

func demand(k *graph.Knowledge, line string) graph.Check {
	left, states, named := strings.Cut(line, " is ")
	if !named {
		left = strings.TrimSuffix(line, " as stated")
	}
	trait, position, _ := strings.Cut(left, " on ")
	c := graph.Check{Trait: traitNamed(k, trait, line).ID, Position: position, Because: "it has to be so", Sources: memory}
	if named {
		c.States = strings.Split(states, "|")
	}
	return c
}

// Rule is a rule in one line: "leave carrot when EXPRESSION", "must", "it-is" or
// "note" in the same way; "leave any when EXPRESSION" is about every plant. Its
// id is the line.
func Rule(line string) Piece {
	head, when, ok := strings.Cut(line, " when ")
	words := strings.Fields(head)
	if !ok || len(words) != 2 || !slices.Contains(graph.Consequences(), words[0]) {
		unread("rule", line)
	}
	r := &graph.Rule{ID: line, Then: words[0], For: words[1], When: when, Because: "so it is", Sources: memory}
	if r.For == "any" {
		r.For = ""
	}
	return func(k *graph.Knowledge) { k.Rules = append(k.Rules, r) }
}
