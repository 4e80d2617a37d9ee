package graph

import (
	"slices"
	"strings"
)

// Correction is what somebody's own data changed of the knowledge they were laid
// over, or added to it. Every answer that can rest on it says so.
type Correction struct {
	Kind string   `graph:"kind"` // taxon, trait, study, rule or source
	Of   string   `graph:"of"`   // the id
	What []string `graph:"what"` // the traits, or parts of the file, that were changed; Added alone if it was not known before
	File string   `graph:"file"`
}

// Added is what a correction says of something that was not known before.
const Added = "(added)"

// Adds tells a thing that was not known before from one that was changed.
func (c *Correction) Adds() bool { return slices.Equal(c.What, []string{Added}) }

// String tells the correction in words: "taxon daucus-carota: leaf.margin (mine/taxa/daucus-carota.yaml)".
func (c *Correction) String() string {
	out := c.Kind + " " + c.Of
	if len(c.What) > 0 && !c.Adds() {
		out += ": " + strings.Join(c.What, ", ")
	}
	return out + " (" + c.File + ")"
}
