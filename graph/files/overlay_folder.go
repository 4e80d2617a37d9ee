package files

import (
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"

	"telltale/graph"
)

// dataFolders are the folders that are read, and what a file that belongs there
// begins its first name with.
var dataFolders = []struct{ name, begins string }{{taxaFolder, "id"}, {studiesFolder, "taxon"}, {rulesFolder, "rules"}}

var dataFiles = []string{sourcesFile, vocabularyFile}

// HasData tells whether something that Over reads is in the folder.
func HasData(fsys fs.FS) bool {
	for _, name := range dataFiles {
		if _, err := fs.Stat(fsys, name); err == nil {
			return true
		}
	}
	for _, f := range dataFolders {
		if names, err := namesIn(fsys, f.name); err == nil && len(names) > 0 {
			return true
		}
	}
	return false
}

// folder notes a folder without own data: who meant it to count would be given
// answers without it. What was meant to be read and is not is noted too.
func (o *overlay) folder() {
	entries, err := fs.ReadDir(o.fsys, ".")
	at := graph.Place{File: o.prefix}
	if err != nil {
		o.problems.Add(at, "this folder of own data cannot be read: %s", plain(err))
		return
	}
	before := len(o.problems)
	for _, e := range entries {
		o.stray(e)
	}
	if len(o.problems) == before && !HasData(o.fsys) {
		o.problems.Add(at, "no own data is in this folder: expected one of %s, %s, %s, %s and %s", taxaFolder+"/", studiesFolder+"/", rulesFolder+"/", sourcesFile, vocabularyFile)
	}
}

// misspelt tells whether a folder's name is meant for one that is read: rule, Taxon,
// study. Two letters may be wrong, or all but the first three (common practice, no
// source).
func misspelt(name, meant string) bool {
	return name != meant && (levenshtein.ComputeDistance(name, meant) <= 2 || strings.HasPrefix(name, meant[:3]))
}

// stray notes a file or folder that is not read for its name or its place. Others
// may keep what they like beside their data.
func (o *overlay) stray(e fs.DirEntry) {
	ext := path.Ext(e.Name())
	stem := strings.ToLower(strings.TrimSuffix(e.Name(), ext))
	at := graph.Place{File: o.pathOf(e.Name())}
	switch {
	case e.IsDir():
		for _, f := range dataFolders {
			if e.Name() != f.name && (stem == f.name || misspelt(stem, f.name)) && o.holdsYAML(e.Name()) {
				o.problems.Add(at, "this folder is not read for its name: expected %s", f.name)
				return
			}
		}
	case ext != ".yaml" && ext != ".yml" || slices.Contains(dataFiles, e.Name()):
	case ext == ".yml" && slices.Contains(dataFiles, stem+".yaml"):
		o.problems.Add(at, "this file is not read for its ending: name it %s.yaml", stem)
	default:
		for _, name := range dataFiles {
			if levenshtein.ComputeDistance(stem+".yaml", name) == 1 {
				o.problems.Add(at, "this file is not read for its name: expected %s", name)
				return
			}
		}
		o.misplaced(e.Name(), at)
	}
}

func (o *overlay) holdsYAML(folder string) bool {
	names, err := namesIn(o.fsys, folder)
	return err == nil && len(names) > 0
}

var firstName = regexp.MustCompile(`(?m)^([a-z_]+):`)

// misplaced notes a file that would be read if it stood in its folder.
func (o *overlay) misplaced(name string, at graph.Place) {
	text, err := fs.ReadFile(o.fsys, name)
	if err != nil {
		return // nothing that is read
	}
	m := firstName.FindSubmatch(text)
	for _, f := range dataFolders {
		if m != nil && string(m[1]) == f.begins {
			o.problems.Add(at, "this file is not read where it stands: expected it in the folder %s", f.name)
		}
	}
}
