package reason

import (
	"slices"

	"telltale/graph"
	"telltale/graph/matrix"
)

// Standing is how a candidate stands after the readings.
type Standing uint8

// The standings. Contested is excluded by fewer evidence groups than it takes.
const (
	Open Standing = iota
	Contested
	RuledOut
)

// String gives the word that output uses, "ruled_out".
func (s Standing) String() string { return [...]string{"open", "contested", "ruled_out"}[s] }

// groupsToRuleOut is how many evidence groups of sure readings it takes to rule a
// taxon out: two for a poisonous one, since one misread trait must never clear a
// poison, one for any other (DESIGN section 3).
func groupsToRuleOut(poisonous bool) int {
	if poisonous {
		return 2
	}
	return 1
}

func standing(groups int, poisonous bool) Standing {
	switch {
	case groups == 0:
		return Open
	case groups < groupsToRuleOut(poisonous):
		return Contested
	}
	return RuledOut
}

// Case is an observation put before the matrix: the stages the plant can be at,
// and for each taxon the readings that exclude it.
type Case struct {
	m        *matrix.Matrix
	obs      graph.Observation
	stages   graph.StageSet
	traits   []int   // of each reading
	excluded [][]int // by taxon: the readings that exclude it
}

// newCase puts an observation before the matrix.
func newCase(m *matrix.Matrix, obs graph.Observation) *Case {
	c := &Case{m: m, obs: obs, excluded: make([][]int, len(m.Knowledge.Taxa))}
	for i := range obs.Readings {
		c.traits = append(c.traits, m.Knowledge.Vocabulary.TraitIndex(obs.Readings[i].Trait))
	}
	c.stages = c.stagesLeft()
	for i := range obs.Readings {
		r := &c.obs.Readings[i]
		t := m.Knowledge.Vocabulary.Traits[c.traits[i]]
		excluded := excluder(t, r)
		for taxon := range c.excluded {
			if excluded(possibleAt(m, taxon, c.traits[i], c.stages, r.Position)) {
				c.excluded[taxon] = append(c.excluded[taxon], i)
			}
		}
	}
	return c
}

// stagesLeft tells at which stages the plant can be: the one told, or else those
// at which every trait read surely can be seen. Readings that no one stage can
// show leave every stage.
func (c *Case) stagesLeft() graph.StageSet {
	if c.obs.Stage != graph.AnyStage {
		return graph.StagesOf(c.obs.Stage)
	}
	left := graph.AllStages()
	for i := range c.obs.Readings {
		if t := c.m.Knowledge.Vocabulary.Traits[c.traits[i]]; !c.obs.Readings[i].Unsure && t.SeeAt != 0 {
			left &= t.SeeAt
		}
	}
	if left == 0 {
		return graph.AllStages()
	}
	return left
}

// Stage is the stage of growth, told or the only one that shows all that was
// read; AnyStage if that leaves several.
func (c *Case) Stage() graph.Stage { return c.stages.Only() }

// groups lists the evidence groups that exclude a taxon.
func (c *Case) groups(taxon int) []string {
	var out []string
	for _, i := range c.excluded[taxon] {
		g := c.m.Knowledge.Vocabulary.Traits[c.traits[i]].EvidenceGroup()
		if !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out
}

// standing tells how a taxon stands.
func (c *Case) standing(taxon int) Standing {
	return standing(len(c.groups(taxon)), c.m.Knowledge.Taxa[taxon].Poisonous())
}

// visible tells whether a trait can be seen at a stage the plant can be at.
func (c *Case) visible(t *graph.Trait) bool {
	return t.SeeAt == 0 || t.SeeAt&c.stages != 0
}
