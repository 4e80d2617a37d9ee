package graph

import "strings"

// Correction is what somebody's own data changed of the knowledge they were laid
// over. Every answer that can rest on it says so.
type Correction struct {
	Kind string   `graph:"kind"` // taxon, trait, study, rule or source
	Of   string   `graph:"of"`   // the id
	What []string `graph:"what"` // the traits, or parts of the file, that were changed
	File string   `graph:"file"`
}

// String tells the correction in words: "wild carrot: leaf.margin (mine/taxa/daucus-carota.yaml)".
func (c *Correction) String() string {
	out := c.Kind + " " + c.Of
	if len(c.What) > 0 {
		out += ": " + strings.Join(c.What, ", ")
	}
	return out + " (" + c.File + ")"
}
