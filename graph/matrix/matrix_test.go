package matrix_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/matrix"
)

// said writes a cell out, its groups in brackets: "[usually petiolate | rarely
// sessile] open".
func said(t *graph.Trait, c *matrix.Cell) string {
	var out []string
	for i := range c.Groups {
		var in []string
		for f := graph.Always; f <= graph.Never; f++ {
			for s := range t.States {
				if c.Groups[i].ByFrequency[f]&(1<<s) != 0 {
					in = append(in, f.String()+" "+t.States[s].ID)
				}
			}
		}
		for _, r := range c.Groups[i].Spans {
			in = append(in, r.String())
		}
		if c.Groups[i].Overruled {
			in = append(in, fmt.Sprintf("exhaustive %v", c.Groups[i].Exhaustive))
		}
		out = append(out, "["+strings.Join(in, " | ")+"]")
	}
	if c.Open {
		out = append(out, "open")
	}
	return strings.Join(out, " ")
}

// DESIGN section 3, "for a taxon, a trait, a stage and a position": which
// statements a reading is judged by together.
func TestStatementsThatApplyTogether(t *testing.T) {
	tests := []struct {
		name            string
		lines           []string
		stage, position string
		want            string
	}{
		{"nothing is stated", nil, "rosette", "", ""},
		{"a statement without a stage holds at every stage", []string{"leaf.stalk always petiolate"}, "dormant", "", "[always petiolate]"},
		{"one of another stage is left out", []string{"leaf.stalk always petiolate at rosette", "leaf.stalk rarely sessile at flowering"}, "rosette", "", "[always petiolate]"},
		{"a trait scored only of the rosette says nothing of the leafy shoot", []string{"leaf.stalk always petiolate at rosette"}, "leafy_shoot", "", ""},
		{"with the stage and without come together", []string{"leaf.stalk usually petiolate", "leaf.stalk rarely sessile at flowering"}, "flowering", "", "[usually petiolate | rarely sessile]"},
		{"at no one stage, all stages come together", []string{"leaf.stalk usually petiolate at rosette", "leaf.stalk rarely sessile at flowering"}, "any", "", "[usually petiolate | rarely sessile]"},
		{"a position told takes its own and those of the whole plant", []string{"leaf.stalk usually petiolate", "leaf.stalk rarely sessile on upper", "leaf.stalk never winged on lower"}, "rosette", "upper", "[usually petiolate | rarely sessile]"},
		{"a position told that nothing is stated of", []string{"leaf.stalk always petiolate on lower"}, "rosette", "upper", ""},
		{"no position told, upper and lower stated: each on its own", []string{"leaf.stalk always sessile on upper", "leaf.stalk always petiolate on lower"}, "flowering", "", "[always sessile] [always petiolate]"},
		{"no position told, upper and basal stated: each on its own", []string{"leaf.stalk always sessile on upper", "leaf.stalk always petiolate on basal"}, "flowering", "", "[always sessile] [always petiolate]"},
		{"no position told, only lower stated: the upper leaves stay open", []string{"leaf.stalk always petiolate on lower"}, "flowering", "", "[always petiolate] open"},
		{"no position told, only upper stated: the lower leaves stay open", []string{"leaf.stalk always petiolate on upper"}, "flowering", "", "[always petiolate] open"},
		{"no position told, lower and basal stated: the upper leaves stay open", []string{"leaf.stalk always petiolate on lower", "leaf.stalk always petiolate on basal"}, "flowering", "", "[always petiolate] [always petiolate] open"},
		{"no position told, only basal stated of a shoot: open", []string{"leaf.stalk always petiolate on basal"}, "leafy_shoot", "", "[always petiolate] open"},
		{"a rosette has basal leaves only", []string{"leaf.stalk always petiolate on basal"}, "rosette", "", "[always petiolate]"},
		{"so has a seedling", []string{"leaf.stalk always petiolate on basal"}, "seedling", "", "[always petiolate]"},
		{"lower leaves of a rosette are not all there are", []string{"leaf.stalk always petiolate on lower"}, "rosette", "", "[always petiolate] open"},
		{"what is stated of the whole plant goes with each position, and holds alone elsewhere", []string{"leaf.stalk usually petiolate", "leaf.stalk rarely sessile on upper", "leaf.stalk rarely winged on lower"}, "flowering", "", "[usually petiolate | rarely sessile] [usually petiolate | rarely winged] [usually petiolate]"},
		{"overruled exhaustiveness goes with every group", []string{"leaf.stalk usually petiolate", "leaf.stalk is exhaustive"}, "rosette", "", "[usually petiolate | exhaustive true]"},
		{"overruled the other way", []string{"leaf.stalk always petiolate", "leaf.stalk is not exhaustive"}, "rosette", "", "[always petiolate | exhaustive false]"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			k := graphtest.Knowledge(graphtest.States("leaf.stalk", "petiolate sessile winged"), graphtest.Plant("a", test.lines...))
			stage, _ := graph.StageNamed(test.stage)
			column := matrix.Compile(k).Column(0, stage, test.position)
			if got := said(column.Trait, &column.Cells[0]); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}

func TestMeasuresKeepTheirExtremesAndLeaveOutWhatNeverOccurs(t *testing.T) {
	k := graphtest.Knowledge(graphtest.Measure("leaf.length", "mm"),
		graphtest.Plant("a", "leaf.length usually (2-)5-15(-20) cm", "leaf.length sometimes 30 cm", "leaf.length never 90 cm"))
	column := matrix.Compile(k).Column(0, graph.Rosette, "")
	if got, want := said(column.Trait, &column.Cells[0]), "[(20-)50-150(-200) | 300]"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// The matrix is compiled from the knowledge and says of a plant what its own
// statements say, whatever order the plants stand in.
func TestRowsAreThoseOfTheirPlants(t *testing.T) {
	k := graphtest.Knowledge(graphtest.States("leaf.stalk", "petiolate sessile"),
		graphtest.Plant("z", "leaf.stalk always sessile"), graphtest.Plant("a", "leaf.stalk always petiolate"), graphtest.Plant("m"))
	m := matrix.Compile(k)
	for id, want := range map[string]string{"a": "[always petiolate]", "m": "", "z": "[always sessile]"} {
		i := m.TaxonIndex(id)
		if k.Taxa[i].ID != id {
			t.Fatalf("row %d is %s, asked for %s", i, k.Taxa[i].ID, id)
		}
		column := m.Column(0, graph.Flowering, "")
		if got := said(column.Trait, &column.Cells[i]); got != want {
			t.Errorf("%s: got %q, want %q", id, got, want)
		}
		if got := len(m.Statements(i, 0)); (want == "") != (got == 0) {
			t.Errorf("%s has %d statements", id, got)
		}
	}
	if i := m.TaxonIndex("nobody"); i != -1 {
		t.Errorf("a plant that is not there has row %d", i)
	}
}

func TestColumnsMayBeAskedForAtTheSameTime(t *testing.T) {
	k := graphtest.Knowledge(graphtest.States("leaf.stalk", "petiolate sessile"), graphtest.Count("flower.petals"),
		graphtest.Plant("a", "leaf.stalk always sessile", "flower.petals always 5"))
	m := matrix.Compile(k)
	var all sync.WaitGroup
	columns := make([]*matrix.Column, 64)
	for i := range columns {
		all.Go(func() { columns[i] = m.Column(i%2, graph.Stages()[i%6], "") })
	}
	all.Wait()
	for i, c := range columns {
		if c != m.Column(i%2, graph.Stages()[i%6], "") {
			t.Errorf("column %d was compiled twice", i)
		}
	}
}
