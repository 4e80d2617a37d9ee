package graph

import "slices"

// Study is one herb worked up for gathering.
type Study struct {
	Taxon  string   `graph:"study_of,key"`
	About  string   `graph:"about"`
	Gather []Gather `graph:"gather"`
	Leave  []*Rule  `graph:"leave_rule,at=rule"` // when to leave it anyway
	// TooClose names the plants that can not be told from the herb at some stages,
	// why, and when they can be.
	TooClose []TooClose `graph:"too_close"`
	Sources  []string   `graph:"source,source"`
	File     string     `graph:"file"`
}

// TooClose says that a plant cannot be parted from the herb by two constant
// differences at these stages, why, and how or when the two can be told apart.
type TooClose struct {
	Taxon   string   `graph:"with,taxon"`
	Stages  StageSet `graph:"stage"`
	Because string   `graph:"because"`
	Parted  string   `graph:"parted"`
	Sources []string `graph:"source,source"`
}

// Excuses finds what the study says of a plant that is too close at the stage.
func (s *Study) Excuses(taxon string, stage Stage) *TooClose {
	for i := range s.TooClose {
		if c := &s.TooClose[i]; c.Taxon == taxon && c.Stages.Has(stage) {
			return c
		}
	}
	return nil
}

// Gather says which parts are gathered at which stages, what has to be checked
// there, and what to say when it may be.
type Gather struct {
	Parts   []string `graph:"part,part"`
	Stages  StageSet `graph:"stage"`
	Checks  []Check  `graph:"check"`
	Say     []string `graph:"say,text"`
	Sources []string `graph:"source,source"`
}

// Check demands a sure reading of a trait that fits: one of States, or where
// none are given any value that is stated of the taxon.
type Check struct {
	Trait    string   `graph:"trait,trait"`
	Position string   `graph:"position"`
	States   []string `graph:"state"`
	Because  string   `graph:"because"`
	Sources  []string `graph:"source,source"`
}

// For finds what is gathered at the stage, of the part where one is named.
func (s *Study) For(part string, stage Stage) []Gather {
	var out []Gather
	for _, g := range s.Gather {
		if (stage == AnyStage || g.Stages.Has(stage)) && (part == "" || slices.Contains(g.Parts, part)) {
			out = append(out, g)
		}
	}
	return out
}
