package files_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"

	"telltale/graph/files"
)

func utf16Text(text string, order binary.ByteOrder) []byte {
	var out bytes.Buffer
	_ = binary.Write(&out, order, utf16.Encode([]rune(text)))
	return out.Bytes()
}

func TestOtherEncodingsAreRefused(t *testing.T) {
	v := made(t).Vocabulary
	for shows, c := range map[string]struct{ text, want string }{
		"UTF-16 of Windows":                       {string(utf16Text("\ufeffstage: rosette", binary.LittleEndian)), "seen: this is UTF-16: save the file as UTF-8"},
		"UTF-16, big end first":                   {string(utf16Text("\ufeffstage: rosette", binary.BigEndian)), "seen: this is UTF-16: save the file as UTF-8"},
		"UTF-16 without a mark":                   {string(utf16Text("stage: rosette", binary.LittleEndian)), "seen:1:2: a character stands here that no text has (U+0000)"},
		"Latin-1":                                 {"stage: rosette\nplace: \xd6land", "seen:2:8: this is not UTF-8: save the file with that encoding"},
		"Latin-1 beside a sign for what was lost": {"place: \ufffd \xd6land", "seen:1:10: this is not UTF-8: save the file with that encoding"},
		"a zero byte":                             {"stage: ros\x00ette", "seen:1:11: a character stands here that no text has (U+0000)"},
		"a terminal's bell":                       {"stage: rosette\nplace: \aleft", "seen:2:8: a character stands here that no text has (U+0007)"},
		"a picture":                               {"\x89PNG\r\n\x1a\n", "seen:1:1: this is not UTF-8: save the file with that encoding"},
	} {
		if _, err := files.ParseObservation(v, "seen", []byte(c.text)); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v\nwant %s", shows, err, c.want)
		}
	}
}

// No file, however made, may stall the program or fell it.
func TestHostileFilesEndInAnError(t *testing.T) {
	k := made(t)
	many := strings.Repeat
	bomb := "a: &a [x, x, x, x, x, x, x, x, x]\n"
	for c := 'b'; c <= 'z'; c++ {
		bomb += fmt.Sprintf("%c: &%c [*%c%s]\n", c, c, c-1, many(fmt.Sprintf(", *%c", c-1), 8))
	}
	var stairs, names strings.Builder
	for i := range 500 {
		stairs.WriteString(many(" ", i) + "a:\n")
	}
	for i := range 30_000 {
		fmt.Fprintf(&names, "a%d:\n", i)
	}
	for _, c := range []struct{ shows, text, want string }{
		{"a bomb of aliases", bomb, "seen:1:4: anchors and aliases (&, *, <<) are not used in these files: write the value out, or put the text in quotes"},
		{"brackets", many("[", 50_000), "seen:1:65: values are nested too deeply here"},
		{"braces", many("{", 50_000), "seen:1:65: values are nested too deeply here"},
		{"braces with names", many("{a: ", 50_000), "seen:1:257: values are nested too deeply here"},
		{"brackets behind text that closes some", `"` + many("]", 1000) + `": ` + many("[", 50_000), "seen:1:1069: values are nested too deeply here"},
		{"brackets beside text that closes them", many(`["]", `, 50_000), "seen:1:385: values are nested too deeply here"},
		{"JSON", `{"readings": ` + many(`{"a":`, 30_000) + many("}", 30_000) + "}", "seen:1:329: values are nested too deeply here"},
		{"dashes in a line", many("- ", 50_000), "seen:1:257: values are nested too deeply here"},
		{"dashes in a column", many("-\n", 30_000), "seen: this file has more than the 20000 lines that are read"},
		{"blank lines", "id: |\n  x" + many("\n", 15_000) + "name: y", "seen:203: too many blank lines stand here"},
		{"blank lines with blanks", "id: |\n  x" + many(" \r\n", 15_000) + "name: y", "seen:102:2: too many blank lines stand here"},
		{"stairs", stairs.String(), "seen:257:257: values are nested too deeply here"},
		{"question marks", many("? ", 50_000), "seen:1:1: a text that begins with ? has to stand in quotes"},
		{"names in a line", many("a: ", 50_000), "seen:1:4: a colon and a blank stand inside a text here: put the whole text in quotes"},
		{"tags", many("!a ", 50_000), "seen:1:1: a text that begins with ! has to stand in quotes"},
		{"anchors", many("&a ", 50_000), "seen:1:1: anchors and aliases (&, *, <<) are not used in these files: write the value out, or put the text in quotes"},
		{"quotes", many(`"`, 50_001), `seen:1:50001: a text is opened here with " and never closed`},
		{"commas", "[" + many(",", 50_000), "seen:1:2: this cannot be read as YAML (expected sequence element, but found ',')"},
		{"documents", many("---\n", 15_000), "seen: nothing stands in this file"},
		{"many names", names.String(), "seen: this file has more than the 20000 lines that are read"},
		{"many unknown names", "{" + many("x, ", 30_000) + "}", "seen:1:303: nothing stands behind more than 100 names between braces: a text with a comma in it has to stand in quotes"},
		{"many names of nothing", "[" + many("x: , ", 30_000) + "]", "seen:1:505: nothing stands behind more than 100 names between braces: a text with a comma in it has to stand in quotes"},
		{"many sources that nobody knows", "id: herba-nova\nname: Herba nova\nfamily: Herbaceae\nfrom: [" + many("made-flara, ", 30_000) + "]", ""},
		{"a long text", "place: " + many("x ", 400_000), `seen:1:1: there is no field "place"`},
		{"a huge file", "stage: rosette\n" + many("#", 1<<20), "seen: this file has more than the 1048576 bytes that are read"},
		{"directives", many("%YAML 1.2\n", 10_000), "seen:1:1: a text that begins with % has to stand in quotes"},
	} {
		t.Run(c.shows, func(t *testing.T) {
			x, err := files.ParseTaxon(k, "seen", []byte(c.text))
			if err == nil {
				t.Fatalf("read as %+v", x)
			}
			if said := err.Error(); said != c.want && c.want != "" || len(said) > 5000 {
				t.Errorf("said %.300s\nwant %s", said, c.want)
			}
		})
	}
	if _, err := files.ParseObservation(k.Vocabulary, "seen", []byte("{}"+many(" ", 32<<10))); err == nil || err.Error() != "seen: this file has more than the 32768 bytes that are read" {
		t.Errorf("an observation as long as a book: %v", err)
	}
}
