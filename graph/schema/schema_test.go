package schema_test

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"telltale/graph"
	"telltale/graph/files"
	"telltale/graph/graphtest"
	"telltale/graph/schema"
)

// shipped is the data folder that comes with the program.
const shipped = "../../data"

// known reads a data folder.
func known(t testing.TB, data fs.FS) *graph.Knowledge {
	t.Helper()
	k, err := files.Load(data)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// compiled makes the schemas for what is known, and checks that each is one.
func compiled(t testing.TB, k *graph.Knowledge) map[string]*jsonschema.Schema {
	t.Helper()
	all, err := schema.All(k)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*jsonschema.Schema{}
	for _, f := range all {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(f.Text))
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		c := jsonschema.NewCompiler()
		if err := c.AddResource(f.Name, doc); err != nil {
			t.Fatal(err)
		}
		kind := strings.TrimSuffix(f.Name, ".schema.json")
		if out[kind], err = c.Compile(f.Name); err != nil { // the compiler checks it against the metaschema
			t.Fatal(err)
		}
	}
	return out
}

// valid checks a YAML text against a schema.
func valid(s *jsonschema.Schema, text []byte) error {
	raw, err := yaml.YAMLToJSON(text)
	if err != nil {
		return err
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		return err
	}
	return s.Validate(doc)
}

// kindOf is the kind of file that stands at a path of a data folder; "" if it has
// no schema.
func kindOf(name string) string {
	return map[string]string{"vocabulary.yaml": "vocabulary", "taxa": "taxon", "studies": "study", "rules": "rules"}[strings.Split(name, "/")[0]]
}

func TestEveryShippedFileFitsItsSchema(t *testing.T) {
	data := os.DirFS(shipped)
	checkFolder(t, data, compiled(t, known(t, data)))
}

// The schemas kept beside the data files name the traits, states, sources and plants
// that are there.
func TestShippedSchemasAreNotStale(t *testing.T) {
	all, err := schema.All(known(t, os.DirFS(shipped)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		kept, err := os.ReadFile(path.Join(shipped, "schema", f.Name))
		if err != nil {
			t.Error(err)
		} else if !bytes.Equal(kept, f.Text) {
			t.Errorf("data/schema/%s is not what these data files make: go generate ./data makes it", f.Name)
		}
	}
}

func TestEveryMadeFileFitsItsSchema(t *testing.T) {
	folder := graphtest.Folder()
	checkFolder(t, folder, compiled(t, known(t, folder)))
}

func checkFolder(t *testing.T, data fs.FS, schemas map[string]*jsonschema.Schema) {
	t.Helper()
	seen := map[string]int{}
	eachFile(t, data, func(name, kind string, text []byte) {
		seen[kind]++
		if err := valid(schemas[kind], text); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	})
	for _, kind := range []string{"vocabulary", "taxon", "study", "rules"} {
		if seen[kind] == 0 {
			t.Errorf("no file of the kind %s was checked", kind)
		}
	}
}

// eachFile goes through the files of a data folder that have a schema.
func eachFile(t *testing.T, data fs.FS, do func(name, kind string, text []byte)) {
	t.Helper()
	err := fs.WalkDir(data, ".", func(name string, d fs.DirEntry, err error) error {
		kind := kindOf(name)
		if err != nil || d.IsDir() || path.Ext(name) != ".yaml" || kind == "" {
			return err
		}
		text, err := fs.ReadFile(data, name)
		do(name, kind, text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestShippedFilesTellEditorsTheirSchema(t *testing.T) {
	eachFile(t, os.DirFS(shipped), func(name, kind string, text []byte) {
		if want := firstLine(name, kind) + "\n"; !strings.HasPrefix(string(text), want) {
			t.Errorf("%s does not begin with %q", name, want)
		}
	})
}

// firstLine is the line that tells an editor the schema of a data file.
func firstLine(name, kind string) string {
	up := strings.Repeat("../", strings.Count(name, "/"))
	return "# yaml-language-server: $schema=" + up + "schema/" + kind + ".schema.json"
}

func TestSchemasFindSlips(t *testing.T) {
	folder := graphtest.Folder()
	schemas := compiled(t, known(t, folder))
	for _, tt := range []struct{ shows, file, old, new string }{
		{"a misspelt state", "taxa/herba-bona.yaml", "usually: serrate", "usually: serated"},
		{"a state of another trait", "taxa/herba-bona.yaml", "usually: serrate", "usually: bristly"},
		{"a misspelt frequency", "taxa/herba-bona.yaml", "always: bristly", "alwys: bristly"},
		{"a misspelt stage", "taxa/herba-bona.yaml", "at: [rosette, leafy_shoot]", "at: [roset, leafy_shoot]"},
		{"a misspelt position", "taxa/herba-bona.yaml", "on: upper", "on: uper"},
		{"a statement without a source", "taxa/herba-bona.yaml", ", from: [memory]}\n  plant.height", "}\n  plant.height"},
		{"a misspelt field", "taxa/herba-bona.yaml", "family:", "famly:"},
		{"a plant without an id", "taxa/herba-bona.yaml", "id: herba-bona\n", ""},
		{"a severity that is none", "taxa/herba-mala.yaml", "severity: deadly", "severity: lethal"},
		{"a part that is none", "taxa/herba-mala.yaml", "parts: [root, leaf]", "parts: [roots, leaf]"},
		{"a route that is none", "taxa/herba-mala.yaml", "route: ingestion", "route: mouth"},
		{"an evidence that is none", "taxa/herba-bona.yaml", "evidence: case_report", "evidence: rumour"},
		{"a stage of gathering that is none", "studies/herba-bona.yaml", "stages: [rosette]", "stages: [spring]"},
		{"a study of no plant", "studies/herba-bona.yaml", "taxon: herba-bona\n", ""},
		{"a consequence that is none", "rules/general.yaml", "then: it-is", "then: is"},
		{"an outcome that is none", "rules/general.yaml", "expect: fires", "expect: fire"},
		{"a list where one mapping belongs", "rules/general.yaml", "rules:", "rules: {}\nx:"},
	} {
		t.Run(tt.shows, func(t *testing.T) {
			text := string(folder[tt.file].Data)
			if !strings.Contains(text, tt.old) {
				t.Fatalf("%s has no %q to be spoilt", tt.file, tt.old)
			}
			if err := valid(schemas[kindOf(tt.file)], []byte(strings.Replace(text, tt.old, tt.new, 1))); err == nil {
				t.Error("it fits")
			}
		})
	}
}

// Own data may add sources, plants and traits that the schema cannot know.
func TestSchemasTakeWhatOwnDataMayAdd(t *testing.T) {
	folder := graphtest.Folder()
	schemas := compiled(t, known(t, folder))
	text := `id: planta-nova
name: Planta nova
from: my-flora
traits:
  leaf.curl: [{always: tight, from: [my-flora]}]
lookalikes: [{taxon: planta-altera, evidence: memory, from: [memory]}]
`
	if err := valid(schemas["taxon"], []byte(text)); err != nil {
		t.Error(err)
	}
	for _, seen := range []string{
		"stage: rosette\nmonth: May\nreadings: {leaf.margin@upper: serrate|dentate?, plant.height: 12, leaf.curl: tight}\n",
		`{"stage": "fruiting", "month": 9, "part": "seed", "readings": {"stem.surface": "!=bristly", "plant.height": 12.5}}`,
	} {
		if err := valid(schemas["observation"], []byte(seen)); err != nil {
			t.Errorf("%s: %v", seen, err)
		}
	}
	if err := valid(schemas["observation"], []byte("stage: roset\nreadings: {}\n")); err == nil {
		t.Error("a stage that is none fits")
	}
}
