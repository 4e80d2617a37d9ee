// Package files reads what people write: the YAML files of vocabulary, sources,
// taxa, studies and rules, and observations in YAML or JSON. Everything wrong is
// reported at once, each with file, line, column, what was expected and the
// nearest real name; nothing is half-loaded.
package files
