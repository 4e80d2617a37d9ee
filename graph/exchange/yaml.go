package exchange

import (
	"encoding/json"
	"regexp"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml"
)

// word is one value as a data file has it: plain where that can only be read one
// way, quoted otherwise.
type word string

// MarshalYAML writes the word.
func (w word) MarshalYAML() ([]byte, error) { return []byte(quoted(string(w))), nil }

// words are values in brackets on one line.
type words []word

// MarshalYAML writes the words.
func (ws words) MarshalYAML() ([]byte, error) {
	out := make([]string, len(ws))
	for i, w := range ws {
		out[i] = quoted(string(w))
	}
	return []byte("[" + strings.Join(out, ", ") + "]"), nil
}

func wordsOf(list []string) words {
	out := make(words, len(list))
	for i, s := range list {
		out[i] = word(s)
	}
	return out
}

// prose is text that may run over several lines.
type prose string

// MarshalYAML leaves the text to the encoder where it makes a block of its lines.
// Brackets and quotes within it mean nothing out of braces.
func (p prose) MarshalYAML() (any, error) {
	switch s := string(p); {
	case blockOf.MatchString(s):
		return s, nil
	case plainSentence.MatchString(s) && !strings.Contains(s, ": ") && !strings.Contains(s, " #") && !strings.ContainsAny(s[len(s)-1:], ": "):
		return raw(s), nil
	}
	return word(p), nil
}

// raw is a value that is written as it is.
type raw string

// MarshalYAML writes the value.
func (r raw) MarshalYAML() ([]byte, error) { return []byte(r), nil }

// entry is a name with what stands behind it.
type entry struct {
	name  string
	value any
}

// mapping is names with what stands behind each, in order, one a line. What is
// empty is left out.
type mapping []entry

// MarshalYAML writes the mapping.
func (m mapping) MarshalYAML() (any, error) {
	out := yaml.MapSlice{}
	for _, e := range m {
		if !empty(e.value) {
			out = append(out, yaml.MapItem{Key: e.name, Value: e.value})
		}
	}
	return out, nil
}

// line is a mapping in braces on one line.
type line []entry

// MarshalYAML writes the mapping.
func (l line) MarshalYAML() ([]byte, error) {
	var out []string
	for _, e := range l {
		if empty(e.value) {
			continue
		}
		text, err := inline(e.value)
		if err != nil {
			return nil, err
		}
		name := e.name
		if !plainName.MatchString(name) {
			name = quoted(name)
		}
		out = append(out, name+": "+text)
	}
	return []byte("{" + strings.Join(out, ", ") + "}"), nil
}

func inline(x any) (string, error) {
	if p, ok := x.(prose); ok {
		x = word(p)
	}
	text, err := x.(yaml.BytesMarshaler).MarshalYAML()
	return string(text), err
}

func empty(x any) bool {
	switch x := x.(type) {
	case word:
		return x == ""
	case prose:
		return x == ""
	case words:
		return len(x) == 0
	case mapping:
		return len(x) == 0
	case line:
		return len(x) == 0
	case []line:
		return len(x) == 0
	case []mapping:
		return len(x) == 0
	}
	return x == nil
}

// oneOrMore is a single word, or words in brackets.
func oneOrMore(list []string) any {
	if len(list) == 1 {
		return word(list[0])
	}
	return wordsOf(list)
}

var (
	// plainText begins with a letter or an opening bracket and holds nothing that
	// means something in YAML, in braces or out of them.
	plainText = regexp.MustCompile(`^[\pL(][\pL\pM\pN ._()/%';!?*+=&|<>-]*$`)
	// plainName is a field, or a trait with or without a position.
	plainName = regexp.MustCompile(`^[a-z][a-z0-9_.@-]*$`)
	// plainSentence has several words, of which the first begins with a letter.
	plainSentence = regexp.MustCompile(`^\pL[\pL\pM\pN.-]* [\pL\pM\pN ._()/%'";:,!?*+=&|<>#\[\]{}-]+$`)
	// plainNumber is a number, or a range as floras write it, with its unit.
	plainNumber = regexp.MustCompile(`^(\(\d+(\.\d+)?-\))?\d+(\.\d+)?(-\d+(\.\d+)?)?(\(-\d+(\.\d+)?\))?( (cm|mm))?$`)
	// notText are the words that YAML reads as something else.
	notText = regexp.MustCompile(`^(?i:true|false|null|yes|no|on|off|y|n|nan|inf|infinity)$`)
	// blockOf are lines that a block gives back letter by letter. The reader takes
	// line breaks at the end of a block for none.
	blockOf = regexp.MustCompile(`^[\pL(][^\pC\x60]*(\n *[^\pC\pZ\x60][^\pC\x60]*)+$`)
)

// quoted writes a value so that it reads back as it is.
func quoted(s string) string {
	switch {
	case plainNumber.MatchString(s):
		return s
	case plainText.MatchString(s) && !notText.MatchString(s) && !strings.HasSuffix(s, " "):
		return s
	case strings.Contains(s, `"`) && !strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) || !unicode.IsPrint(r) || r == '\'' }):
		return "'" + s + "'"
	}
	// What JSON writes between quotes YAML reads the same (YAML 1.2, section 1.3).
	text, err := json.Marshal(s)
	if err != nil {
		return `""`
	}
	return string(text)
}
