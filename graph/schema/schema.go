// Package schema makes JSON Schemas of the YAML files that people write, so that
// editors complete and check while they type. The shapes come from the Go types
// that read the files, and the names of traits, states, sources and plants from
// what is known.
package schema

import (
	"encoding/json"
	"reflect"
	"sort"
	"strings"

	"github.com/invopop/jsonschema"

	"telltale/graph"
	"telltale/graph/files"
)

// File is one schema: the name of its file and its text.
type File struct {
	Name string
	Text []byte
}

// All makes the schemas of every kind of file, for what is known.
func All(k *graph.Knowledge) ([]File, error) {
	m := &maker{k: k}
	kinds := []struct {
		name, title string
		shape       any
	}{
		{"vocabulary", "the vocabulary: traits, states and how they are looked at", files.VocabularyFile{}},
		{"taxon", "what is known of one plant", files.TaxonFile{}},
		{"study", "one herb worked up for gathering", files.StudyFile{}},
		{"rules", "rules of the trade", files.RulesFile{}},
		{"observation", "what somebody saw of one plant", files.ObservationFile{}},
	}
	var out []File
	for _, kind := range kinds {
		s := m.reflector().Reflect(kind.shape)
		s.Title = kind.title
		m.fill(kind.name, s)
		text, err := json.MarshalIndent(s, "", "  ")
		if err != nil {
			return nil, err
		}
		out = append(out, File{Name: kind.name + ".schema.json", Text: append(text, '\n')})
	}
	return out, nil
}

type maker struct{ k *graph.Knowledge }

// reflector turns the file types into schemas as YAML spells them.
func (m *maker) reflector() *jsonschema.Reflector {
	return &jsonschema.Reflector{FieldNameTag: "yaml", DoNotReference: true, Anonymous: true, RequiredFromJSONSchemaTags: true, Mapper: m.mapped}
}

// mapped gives the schemas of the types that stand for values, lists and
// mappings.
func (m *maker) mapped(t reflect.Type) *jsonschema.Schema {
	switch {
	case t == reflect.TypeFor[files.Word]():
		return word()
	case t == reflect.TypeFor[files.Words]():
		return words(word())
	case t.Kind() == reflect.Slice && strings.HasPrefix(t.Name(), "Map["):
		value, _ := t.Elem().FieldByName("Value")
		return &jsonschema.Schema{Type: "object", AdditionalProperties: m.inline(value.Type)}
	}
	return nil
}

// inline reflects a type that stands within another.
func (m *maker) inline(t reflect.Type) *jsonschema.Schema {
	s := m.mapped(t)
	if s == nil {
		s = m.reflector().ReflectFromType(t)
	}
	s.Version = ""
	return s
}

func word() *jsonschema.Schema {
	return &jsonschema.Schema{OneOf: []*jsonschema.Schema{{Type: "string"}, {Type: "number"}, {Type: "boolean"}}}
}

// words is a list of values, or one value alone.
func words(one *jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{one, {Type: "array", Items: one}}}
}

func oneOf(names []string) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "string"}
	for _, n := range names {
		s.Enum = append(s.Enum, n)
	}
	return s
}

// fill puts the names that are known where they belong. Lists that stand in many
// places are told once, under $defs.
func (m *maker) fill(kind string, s *jsonschema.Schema) {
	s.Definitions = jsonschema.Definitions{
		"stages":  words(oneOf(graph.StageNames())),
		"parts":   words(oneOf(graph.Parts())),
		"sources": words(orOther(m.sourceIDs())),
		"plant":   orOther(m.k.TaxonIDs()),
		"word":    word(),
	}
	set(s, ref("sources"), "from")
	switch kind {
	case "taxon":
		m.fillTaxon(s)
	case "study":
		set(s, ref("plant"), "taxon")
		set(s, ref("parts"), "gather.parts")
		set(s, ref("stages"), "gather.stages")
		set(s, orOther(m.k.Vocabulary.TraitIDs()), "gather.checks.trait")
		set(s, ref("sources"), "gather.from", "gather.checks.from", "leave.from")
		s.Required = []string{"taxon"}
	case "rules":
		set(s, ref("plant"), "rules.for")
		set(s, oneOf(graph.Consequences()), "rules.then")
		set(s, ref("sources"), "rules.from")
		set(s, oneOf(graph.Outcomes()), "rules.tests.expect")
	case "observation":
		set(s, oneOf(graph.StageNames()), "stage")
		set(s, oneOf(graph.Parts()), "part")
		s.Properties.Set("readings", m.readings())
	}
}

func (m *maker) fillTaxon(s *jsonschema.Schema) {
	s.Definitions["statement"] = m.statementTail()
	s.Properties.Set("traits", m.statements())
	set(s, ref("parts"), "toxicity.parts", "uses.parts")
	set(s, ref("stages"), "uses.at", "lookalikes.at")
	set(s, ref("sources"), "toxicity.from", "uses.from", "lookalikes.from")
	set(s, oneOf(graph.SeverityNames()), "toxicity.severity")
	set(s, oneOf(graph.Routes()), "toxicity.route")
	set(s, oneOf(graph.UseCategories()), "uses.category")
	set(s, oneOf(graph.Evidences()), "lookalikes.evidence")
	set(s, ref("plant"), "lookalikes.taxon")
	s.Required = []string{"id"}
}

func ref(name string) *jsonschema.Schema { return &jsonschema.Schema{Ref: "#/$defs/" + name} }

// orOther offers the names that are known and takes any other, which own data may
// add.
func orOther(names []string) *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{oneOf(names), {Type: "string"}}}
}

func (m *maker) sourceIDs() []string {
	out := []string{graph.Memory}
	for _, s := range m.k.Sources {
		out = append(out, s.ID)
	}
	return out
}

// set puts a schema at dotted paths of properties, going through lists.
func set(s, value *jsonschema.Schema, paths ...string) {
	for _, path := range paths {
		at := s
		names := strings.Split(path, ".")
		for _, n := range names[:len(names)-1] {
			next, ok := at.Properties.Get(n)
			if !ok {
				at = nil
				break
			}
			if at = next; at.Items != nil {
				at = at.Items
			}
		}
		last := names[len(names)-1]
		if at != nil && at.Properties != nil {
			if _, ok := at.Properties.Get(last); ok {
				at.Properties.Set(last, value)
			}
		}
	}
}

// statements is the schema of a plant's traits: each trait by its name, with the
// states it has offered behind every frequency.
func (m *maker) statements() *jsonschema.Schema {
	out := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties()}
	for _, t := range sorted(m.k.Vocabulary.Traits) {
		value := ref("word")
		if t.Kind == graph.StateKind {
			value = oneOf(t.StateIDs())
		}
		frequencies := jsonschema.NewProperties()
		for _, f := range graph.FrequencyNames() {
			frequencies.Set(f, value)
		}
		one := &jsonschema.Schema{AllOf: []*jsonschema.Schema{ref("statement"), {Properties: frequencies}}}
		out.Properties.Set(t.ID, &jsonschema.Schema{Type: "array", Description: t.Question, Items: one})
	}
	return out
}

// statementTail is what every statement has beside its value.
func (m *maker) statementTail() *jsonschema.Schema {
	s := m.inline(reflect.TypeFor[files.StatementEntry]())
	set(s, ref("stages"), "at")
	set(s, oneOf(m.k.Vocabulary.PositionNames()), "on")
	set(s, ref("sources"), "from")
	s.Required = []string{"from"}
	return s
}

// readings is the schema of what was read: any trait, with its states offered.
func (m *maker) readings() *jsonschema.Schema {
	out := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: word()}
	for _, t := range sorted(m.k.Vocabulary.Traits) {
		s := &jsonschema.Schema{Ref: "#/$defs/word", Description: t.Question}
		for _, id := range t.StateIDs() {
			s.Examples = append(s.Examples, id)
		}
		out.Properties.Set(t.ID, s)
	}
	return out
}

func sorted(traits []*graph.Trait) []*graph.Trait {
	out := append([]*graph.Trait(nil), traits...)
	sort.Slice(out, func(a, b int) bool { return out[a].ID < out[b].ID })
	return out
}
