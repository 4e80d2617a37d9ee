package query

import (
	"embed"
	"io/fs"
	"path"
	"strings"

	"telltale/graph"
)

//go:embed examples
var exampleFiles embed.FS

// Example is a query that comes with the program, to be run and to learn from.
type Example struct {
	Name  string `json:"name"`
	About string `json:"about"` // its first comment
	Query `json:"-"`
}

// Examples lists them by name.
func Examples() []Example {
	names, err := fs.Glob(exampleFiles, "examples/*")
	if err != nil {
		return nil
	}
	var out []Example
	for _, name := range names {
		text, err := exampleFiles.ReadFile(name)
		if err != nil {
			continue
		}
		base := path.Base(name)
		out = append(out, Example{
			Name: strings.TrimSuffix(base, path.Ext(base)), About: firstComment(string(text)),
			Query: Query{Language: LanguageOf(base), Name: base, Text: string(text)},
		})
	}
	return out
}

// ExampleNamed finds an example.
func ExampleNamed(name string) (*Example, error) {
	var names []string
	for _, e := range Examples() {
		if e.Name == name {
			return &e, nil
		}
		names = append(names, e.Name)
	}
	return nil, graph.Unknown(graph.Place{}, "example", name, names)
}

// LanguageOf tells the language of a file by the end of its name, "" for none of
// those known: .js is Gizmo, .graphql GraphQL, .json MQL.
func LanguageOf(file string) string {
	return map[string]string{".js": Gizmo, ".graphql": GraphQL, ".gql": GraphQL, ".json": MQL}[strings.ToLower(path.Ext(file))]
}

func firstComment(text string) string {
	var words []string
	for _, line := range strings.Split(text, "\n") {
		said, isComment := strings.CutPrefix(strings.TrimLeft(line, "/#"), " ")
		if !isComment || said == line {
			break
		}
		words = append(words, strings.TrimSpace(said))
	}
	return strings.Join(words, " ")
}
