package graphtest

import (
	"embed"
	"io/fs"
	"testing/fstest"
)

//go:embed folder
var folder embed.FS

// Folder is a data folder with two made-up plants, one of them deadly, a study
// and a rule. Each call gives one of its own, to be spoilt as a test likes.
func Folder() fstest.MapFS {
	out := fstest.MapFS{}
	err := fs.WalkDir(folder, "folder", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(folder, name)
		out[name[len("folder/"):]] = &fstest.MapFile{Data: text}
		return err
	})
	check(err)
	return out
}
