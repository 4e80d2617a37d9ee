// Package data is the knowledge that comes with the program: the files in this
// folder, and knowledge.cbor, which `go generate ./data` makes from them through
// the graph.
package data

import "embed"

//go:generate go run ./compile

// Files holds the data files.
//
//go:embed vocabulary.yaml sources.yaml taxa studies rules knowledge.cbor
var Files embed.FS
