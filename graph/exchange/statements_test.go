package exchange

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"telltale/graph"
)

func TestSheetIsReadHoweverSpreadsheetsSaveIt(t *testing.T) {
	k := made(t)
	want := []Scored{{Taxon: "hortus-mortis", Statements: []graph.Statement{{
		Trait: "leaf.margin", State: "wavy", Frequency: graph.Rarely, Stages: graph.StagesOf(graph.Rosette), Position: "lower",
		Sources: []string{"hill-flora", "memory"}, Note: "seen, once",
	}}}}
	row := `hortus-mortis,leaf.margin,wavy,rarely,rosette,lower,memory|hill-flora,"seen, once"`
	for _, tt := range []struct{ name, text string }{
		{"as it is written here", header + row + "\n"},
		{"without an end to the last line", header + row},
		{"with a byte-order mark", "\ufeff" + header + row},
		{"with the line ends of Windows", strings.ReplaceAll(header+row, "\n", "\r\n")},
		{"with semicolons, as where commas are decimal", "taxon;trait;value;frequency;stage;part;source;note\nhortus-mortis;leaf.margin;wavy;rarely;rosette;lower;memory|hill-flora;seen, once\n"},
		{"with tabs", strings.ReplaceAll("taxon;trait;value;frequency;stage;part;source;note\nhortus-mortis;leaf.margin;wavy;rarely;rosette;lower;memory|hill-flora;seen, once\n", ";", "\t")},
		{"with capitals that the program put in", strings.Replace(header+row, ",wavy,rarely,rosette", ",Wavy,Rarely,Rosette", 1)},
		{"with the columns in another order", "note,source,part,stage,frequency,value,trait,taxon\n\"seen, once\",memory|hill-flora,lower,rosette,rarely,wavy,leaf.margin,hortus-mortis\n"},
		{"with blanks around the cells", header + `hortus-mortis , leaf.margin, wavy ,rarely, rosette,lower, memory | hill-flora ,"seen, once "`},
		{"with rows that hold nothing", header + "\n,,,,,,,\n" + row + "\n , ,,,,,,\n"},
		{"with the same row twice", header + row + "\n" + row + "\n"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ReadStatements(k, "sheet.csv", strings.NewReader(tt.text))
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(want, got, cmpopts.IgnoreUnexported(graph.Statement{})); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestSheetSaysWhatIsWrongAndWhere(t *testing.T) {
	k := made(t)
	const good = "hortus-mortis,leaf.margin,wavy,rarely,rosette,,memory,\n"
	for _, tt := range []struct{ name, text, want string }{
		{"nothing at all", "", "sheet.csv: nothing stands in this sheet: expected the header taxon,trait,value,frequency,stage,part,source,note"},
		{"only a byte-order mark", "\ufeff", "sheet.csv: nothing stands in this sheet: expected the header taxon,trait,value,frequency,stage,part,source,note"},
		{"a plant that is not known", header + "hortus-morris,leaf.margin,wavy,rarely,rosette,,memory,\n",
			`sheet.csv:2:1: row 2, taxon: there is no plant "hortus-morris" (known: hortus-dulcis, hortus-mortis); the nearest is "hortus-mortis"`},
		{"a plant by its common name", header + "hill hort,leaf.margin,wavy,rarely,rosette,,memory,\n",
			`sheet.csv:2:1: row 2, taxon: there is no plant "hill hort" (known: hortus-dulcis, hortus-mortis); the nearest is "hortus-dulcis"`},
		{"a misspelt trait", header + "hortus-mortis,leaf.margn,wavy,rarely,rosette,,memory,\n",
			`sheet.csv:2:15: row 2, trait: there is no trait "leaf.margn" (known: leaf.margin, leaf.length, leaf.count, root.odour_root, season.flowering); the nearest is "leaf.margin"`},
		{"a misspelt state", header + good + "hortus-mortis,leaf.margin,wavey,rarely,rosette,,memory,\n",
			`sheet.csv:3:27: row 3, value: there is no state of leaf.margin "wavey" (known: entire, no teeth, smooth, wavy, serrate, toothed); the nearest is "wavy"`},
		{"a measure for a state", header + "hortus-mortis,leaf.margin,5-15,rarely,rosette,,memory,\n",
			`sheet.csv:2:27: row 2, value: leaf.margin takes a state, not the measure "5-15": expected one of entire, wavy, serrate`},
		{"a state for a measure", header + "hortus-mortis,leaf.length,wavy,rarely,rosette,,memory,\n",
			`sheet.csv:2:27: row 2, value: leaf.length: "wavy" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"a range that falls", header + "hortus-mortis,leaf.length,15-5,rarely,rosette,,memory,\n", "sheet.csv:2:27: row 2, value: leaf.length: 15-5 does not rise from low to high"},
		{"a decimal comma", header + `hortus-mortis,leaf.length,"1,5",rarely,rosette,,memory,`,
			`sheet.csv:2:27: row 2, value: leaf.length: "1,5" is no range: write it as floras do, 5-15 or (2-)5-15(-20)`},
		{"a frequency of one's own", header + "hortus-mortis,leaf.margin,wavy,often,rosette,,memory,\n",
			`sheet.csv:2:32: row 2, frequency: there is no frequency "often" (known: always, usually, sometimes, rarely, never)`},
		{"an empty stage, which may be one forgotten", header + "hortus-mortis,leaf.margin,wavy,rarely,,,memory,\n", "sheet.csv:2:39: row 2, stage: the cell is empty: expected a stage"},
		{"a misspelt stage", header + "hortus-mortis,leaf.margin,wavy,rarely,rosete,,memory,\n",
			`sheet.csv:2:39: row 2, stage: there is no stage "rosete" (known: any, seedling, rosette, leafy_shoot, flowering, fruiting, dormant); the nearest is "rosette"`},
		{"characters, not bytes, are counted", header + "hortus-mortis,leaf.margin,wävÿ,rarely,rosete,,memory,\n",
			`sheet.csv:2:27: row 2, value: there is no state of leaf.margin "wävÿ" (known: entire, no teeth, smooth, wavy, serrate, toothed); the nearest is "wavy"` + "\n" +
				`sheet.csv:2:39: row 2, stage: there is no stage "rosete"`},
		{"a part gathered for a position", header + "hortus-mortis,leaf.margin,wavy,rarely,rosette,root,memory,\n",
			`sheet.csv:2:47: row 2, part: there is no position on the plant "root" (known: upper, lower)`},
		{"no source", header + "hortus-mortis,leaf.margin,wavy,rarely,rosette,,,\n",
			"sheet.csv:2:48: row 2, source: an id is missing: give the ids of the sources, split by |, or memory"},
		{"a source that does not exist", header + "hortus-mortis,leaf.margin,wavy,rarely,rosette,,memory|hil-flora,\n",
			`sheet.csv:2:48: row 2, source: there is no source "hil-flora" (known: memory, hill-flora, poison-desk); the nearest is "hill-flora"`},
		{"a note with a comma and no quotes", header + "hortus-mortis,leaf.margin,wavy,rarely,rosette,,memory,seen, once\n",
			"sheet.csv:2:1: row 2 has 9 cells, expected 8 as in the header: put a cell that holds a comma between double quotes"},
		{"a row that ends early", header + good + "hortus-mortis,leaf.margin\n",
			"sheet.csv:3:1: row 3 has 2 cells, expected 8 as in the header: put a cell that holds a comma between double quotes"},
		{"a column of one's own", strings.Replace(header, "note", "remark", 1) + good,
			"sheet.csv:1: the header has no column note: expected taxon,trait,value,frequency,stage,part,source,note\n" +
				`sheet.csv:1:47: there is no column "remark" (known: taxon, trait, value, frequency, stage, part, source, note)`},
		{"a column twice", strings.Replace(header, "note", "part", 1) + good,
			"sheet.csv:1: the header has no column note: expected taxon,trait,value,frequency,stage,part,source,note\n" +
				"sheet.csv:1:47: the column part stands in the header twice"},
		{"no header", good, `sheet.csv:1: the header has no column taxon`},
		{"a quote that is never closed", header + good + "hortus-mortis,leaf.margin,wavy,rarely,rosette,,memory,\"seen\n" + good,
			`sheet.csv:3: in the row that begins here a double quote is never closed, or stands inside a quoted cell without being written twice ("")`},
		{"a quote inside a cell", header + "hortus-mortis,leaf.margin,wavy,rarely,rosette,,memory,the \"best\" one\n",
			`sheet.csv:2:59: a double quote stands inside a cell that does not begin with one: put the cell between double quotes and write it twice ("")`},
		{"Latin-1", header + "hortus-mortis,leaf.margin,wavy,rarely,rosette,,memory,caf\xe9\n",
			"sheet.csv:2:58: the byte 0xe9 is not UTF-8, perhaps Windows-1252 or Latin-1: save the sheet as CSV in UTF-8"},
		{"UTF-16", "\xff\xfet\x00a\x00x\x00", "sheet.csv: this is UTF-16: save the sheet as CSV in UTF-8"},
		{"a spreadsheet program's own file", "PK\x03\x04\x14\x00", "sheet.csv: this is a spreadsheet program's own file: save the sheet as CSV in UTF-8"},
		{"zero bytes", "taxon\x00", "sheet.csv:1:6: a zero byte stands here: this is no text; save the sheet as CSV in UTF-8"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := ReadStatements(k, "sheet.csv", strings.NewReader(tt.text))
			if got != nil || err == nil {
				t.Fatalf("something was loaded: %v, %v", got, err)
			}
			if !strings.HasPrefix(err.Error(), tt.want) {
				t.Errorf("\ngot  %s\nwant %s", err, tt.want)
			}
		})
	}
}

func TestEveryBrokenRowIsTold(t *testing.T) {
	_, err := ReadStatements(made(t), "sheet.csv", strings.NewReader(header+strings.Repeat("no-plant,leaf.margin,wavy,rarely,rosette,,memory,\n", 3)))
	var all graph.Problems
	if !errors.As(err, &all) || len(all) != 3 {
		t.Errorf("got %v", err)
	}
}

func TestSheetThatIsTooLargeIsRefused(t *testing.T) {
	row := strings.Repeat("x", 1<<10)
	_, err := ReadStatements(made(t), "sheet.csv", strings.NewReader(strings.Repeat(row, maxSheet/len(row)+1)))
	if want := "sheet.csv: this sheet has more than the 32 MB that are read"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// TestSheetSaysOfEveryStageWhatTheGraphSays: a statement made at several stages has
// a row for each, so two statements that differ in the stage only may come back as
// one. At no stage may that make a difference.
func TestSheetSaysOfEveryStageWhatTheGraphSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := anyKnowledge(t)
		for _, tx := range k.Taxa {
			for i := range tx.Statements { // blanks around a cell and the line ends of Windows are no part of it
				tx.Statements[i].Note = strings.TrimSpace(strings.ReplaceAll(tx.Statements[i].Note, "\r\n", "\n"))
			}
		}
		var b bytes.Buffer
		if err := WriteStatements(&b, k.Taxa); err != nil {
			t.Fatal(err)
		}
		sheet := b.String()
		scored, err := ReadStatements(k, "sheet.csv", &b)
		if err != nil {
			t.Fatal(err)
		}
		back := Merged(k, scored)
		if d := cmp.Diff(stageByStage(k), stageByStage(back)); d != "" {
			t.Fatalf("-graph +sheet:\n%s\n%s", d, sheet)
		}
	})
}

// stageByStage lists what is stated, stage by stage.
func stageByStage(k *graph.Knowledge) []string {
	var out []string
	for _, t := range k.Taxa {
		for _, s := range t.Statements {
			for _, row := range rowsOf(t.ID, &s) {
				out = append(out, fmt.Sprintf("%q", row))
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func TestSheetReplacesATraitWholeAndLeavesTheOthers(t *testing.T) {
	k := made(t)
	before := stageByStage(k)
	merged := Merged(k, sheetOf(t, k, "hortus-dulcis,leaf.margin,serrate,always,any,,memory,\n"))
	t.Run("the base stays as it was", func(t *testing.T) {
		if d := cmp.Diff(before, stageByStage(k)); d != "" {
			t.Error(d)
		}
	})
	var want []string
	for _, row := range before {
		if !strings.Contains(row, `"hortus-dulcis" "leaf.margin"`) {
			want = append(want, row)
		}
	}
	want = append(want, `["hortus-dulcis" "leaf.margin" "serrate" "always" "any" "" "memory" ""]`)
	slices.Sort(want)
	if d := cmp.Diff(want, stageByStage(merged)); d != "" {
		t.Error(d)
	}
	dulcis, _ := merged.Taxon("hortus-dulcis")
	if len(dulcis.Lookalikes) != 1 || len(dulcis.Uses) != 1 {
		t.Error("more than statements was replaced")
	}
}

// TestSheetIsCSVAsRFC4180HasIt: what is written is read by any reader that keeps to
// the rules, with a cell for every column.
func TestSheetIsCSVAsRFC4180HasIt(t *testing.T) {
	var b bytes.Buffer
	if err := WriteStatements(&b, made(t).Taxa); err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(&b)
	r.FieldsPerRecord = len(Columns)
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(rows[0], Columns) {
		t.Errorf("the header is %q", rows[0])
	}
}

func TestWholeFilesTakeThePlaceOfThePlantsOwn(t *testing.T) {
	k := made(t)
	f, err := SheetFiles(k, sheetOf(t, k, "hortus-mortis,leaf.margin,serrate,usually,any,,memory,\n"), true)
	if err != nil {
		t.Fatal(err)
	}
	all, err := Folder(k)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.Names(), []string{"taxa/hortus-mortis.yaml"}) {
		t.Fatalf("got the files %q", f.Names())
	}
	want := strings.Replace(string(all["taxa/hortus-mortis.yaml"]), "{always: serrate, from: [poison-desk]}", "{usually: serrate, from: [memory]}", 1)
	sameLines := func(s string) []string { l := strings.Split(s, "\n"); slices.Sort(l); return l }
	if d := cmp.Diff(sameLines(want), sameLines(string(f["taxa/hortus-mortis.yaml"]))); d != "" {
		t.Error(d)
	}
}

func FuzzReadStatements(f *testing.F) {
	k := made(f)
	var b bytes.Buffer
	if err := WriteStatements(&b, k.Taxa); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	for _, s := range []string{"", header, "\ufeff" + header + "a,b", header + "\"", "taxon;trait", header + "hortus-mortis,leaf.length,(1-)2-3(-4),always,any,,memory,\n"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		scored, err := ReadStatements(k, "sheet.csv", bytes.NewReader(text))
		if err != nil {
			if scored != nil {
				t.Fatal("something was loaded with an error")
			}
			return
		}
		// What was read must be of this vocabulary, and come back once written.
		var b bytes.Buffer
		back := Merged(k, scored)
		if err := WriteStatements(&b, back.Taxa); err != nil {
			t.Fatal(err)
		}
		again, err := ReadStatements(k, "again.csv", &b)
		if err != nil {
			t.Fatalf("what was written cannot be read: %s", err)
		}
		if d := cmp.Diff(stageByStage(back), stageByStage(Merged(k, again))); d != "" {
			t.Fatal(d)
		}
	})
}
