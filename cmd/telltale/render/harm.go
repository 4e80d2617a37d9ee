package render

import (
	"telltale/graph"
)

// ToxicityDoc is one way in which a plant harms, as JSON has it.
type ToxicityDoc struct {
	Parts      []string `json:"parts"`
	Told       string   `json:"told,omitempty"`
	Severity   string   `json:"severity,omitempty"` // left out where it only irritates
	Irritant   bool     `json:"irritant"`
	Route      string   `json:"route"`
	Agent      string   `json:"agent,omitempty"`
	Effect     string   `json:"effect,omitempty"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

// UseDoc is one use of a plant, as JSON has it.
type UseDoc struct {
	Parts      []string `json:"parts"`
	Told       string   `json:"told,omitempty"`
	Category   string   `json:"category"`
	Use        string   `json:"use"`
	Stages     []string `json:"stages"`
	Caution    string   `json:"caution,omitempty"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

func toxicityDocs(taxon *graph.Taxon) []ToxicityDoc {
	out := []ToxicityDoc{}
	for i := range taxon.Toxicity {
		out = append(out, toxicityDoc(&taxon.Toxicity[i]))
	}
	return out
}

func toxicityDoc(x *graph.Toxicity) ToxicityDoc {
	return ToxicityDoc{Parts: never(x.Parts), Told: x.Told, Severity: x.Severity.String(), Irritant: x.Irritant, Route: x.Route, Agent: x.Agent, Effect: x.Effect,
		Sources: never(x.Sources), FromMemory: fromMemory(x.Sources)}
}

func useDocs(taxon *graph.Taxon) []UseDoc {
	out := []UseDoc{}
	for i := range taxon.Uses {
		out = append(out, useDoc(&taxon.Uses[i]))
	}
	return out
}

func useDoc(u *graph.Use) UseDoc {
	return UseDoc{Parts: never(u.Parts), Told: u.Told, Category: u.Category, Use: u.Use, Stages: never(u.Stages.Names()), Caution: u.Caution,
		Sources: never(u.Sources), FromMemory: fromMemory(u.Sources)}
}

// harmWords puts a toxicity into words, without its sources.
func harmWords(x *graph.Toxicity) Words {
	w := W(partWords(x.Parts, x.Told) + ": ").then(severityWords(x.Severity))
	if x.Severity != graph.Ungraded {
		w = w.and(" " + routeWords(x.Route))
	}
	if x.Irritant {
		if x.Severity != graph.Ungraded {
			w = w.and(", ")
		}
		w = w.and("irritates " + irritatedWords(x.Route))
	}
	if x.Agent != "" {
		w = w.and(". Agent: " + x.Agent)
	}
	if x.Effect != "" {
		w = w.and(". " + capital(x.Effect))
	}
	return w
}

func irritatedWords(route string) string {
	switch route {
	case graph.Skin:
		return "the skin"
	case graph.SkinAndSun:
		return "the skin in sunlight"
	}
	return routeWords(route)
}

func partWords(parts []string, told string) string {
	out := list(plainAll(parts), "and")
	if told != "" {
		out += " (" + told + ")"
	}
	return out
}

func severityWords(s graph.Severity) Words {
	switch s {
	case graph.Deadly:
		return W("").marked(Danger, "deadly")
	case graph.Serious:
		return W("").marked(Danger, "seriously poisonous")
	case graph.Mild:
		return W("mildly harmful")
	case graph.NoneKnown:
		return W("no harm known")
	}
	return nil
}

func routeWords(route string) string {
	switch route {
	case graph.Ingestion:
		return "when eaten"
	case graph.Skin:
		return "on the skin"
	case graph.SkinAndSun:
		return "on the skin in sunlight"
	}
	return plain(route)
}

// useWords puts a use into words, without its sources.
func useWords(u *graph.Use) Words {
	w := W("").marked(Strong, plain(u.Category)).and(": " + u.Use + " (" + partWords(u.Parts, u.Told) + atStages(u.Stages) + ")")
	if u.Caution != "" {
		w = w.and(". Caution: " + u.Caution)
	}
	return w
}
