// Package data is the knowledge that comes with the program: the files in this
// folder, and knowledge.cbor, which `go generate ./data` makes from them through
// the graph. It makes schema too, for the editors of those who write them.
package data

import "embed"

//go:generate go run ./compile

//go:embed vocabulary.yaml sources.yaml taxa studies rules
var files embed.FS

//go:embed knowledge.cbor
var snapshot string

// Folder is the embedded folder of the data files.
type Folder struct{ embed.FS }

// Snapshot is knowledge.cbor, as text so that opening it copies nothing.
func (Folder) Snapshot() string { return snapshot }

// Files holds the data files.
var Files = Folder{files}
