package reason

import (
	"cmp"
	"slices"

	"telltale/graph"
)

// Gap is something that is missing before a herb can be gathered, or taught, as
// well as it might.
type Gap struct {
	Kind   string // one of the kinds below
	Stage  graph.Stage
	Taxon  string   // the plant in the way, or whose file the gap is in
	Have   []string // the evidence groups that exclude it already
	Need   int      // how many it takes
	Traits []string // the traits that filling it is about: those on which Taxon is not scored, or not firmly
	Beside string   // of a pair, the plant that is scored on them
	Herb   []string // the traits on which the plant in the way is scored firmly and the herb not at all
	Buys   bool     // filling one of them would be enough to be rid of the plant
	Poison bool
	Text   string // what is wrong, where no plant is in the way
}

// The kinds of gap, the worst first.
const (
	GapUnsafe    = "not cleared"     // a plant in the way that a typical plant of the herb cannot rule out
	GapCheck     = "check fails"     // a typical plant of the herb fails a check or a rule of its study
	GapPair      = "pair too close"  // a poisonous lookalike with fewer than two constant differences
	GapOneSided  = "scored for one"  // a trait scored for one of a linked pair only
	GapNothing   = "nothing to see"  // a stage of gathering at which nothing is stated
	GapMemory    = "from memory"     // a statement that no publication stands behind
	GapNotStated = "not yet studied" // the herb has no study
	GapUnused    = "shown by nobody" // states of the vocabulary that no plant is stated to show
)

var gapOrder = []string{GapNotStated, GapUnsafe, GapCheck, GapNothing, GapPair, GapOneSided, GapMemory, GapUnused}

// Gaps lists what is missing for a herb, the worst first: at each stage at which
// its study gathers it, which plants a typical plant of it cannot rule out and
// what scoring them would buy.
func (r *Reasoner) Gaps(herb *graph.Taxon) ([]Gap, error) {
	g := &gapFinder{r: r, herb: herb, row: r.Matrix.TaxonIndex(herb.ID)}
	study, ok := r.Matrix.Knowledge.Study(herb.ID)
	if !ok {
		g.add(Gap{Kind: GapNotStated, Taxon: herb.ID, Text: "nobody has worked this herb up: it is never gathered"})
	} else {
		for _, stage := range graph.Stages() {
			if parts := partsOf(study.For("", stage)); len(parts) > 0 {
				if err := g.atStage(stage, parts); err != nil {
					return nil, err
				}
			}
		}
	}
	g.oneSided()
	g.fromMemory()
	g.unused()
	slices.SortStableFunc(g.gaps, func(a, b Gap) int {
		if c := cmp.Compare(slices.Index(gapOrder, a.Kind), slices.Index(gapOrder, b.Kind)); c != 0 {
			return c
		}
		if a.Poison != b.Poison {
			return cmp.Compare(boolRank(b.Poison), boolRank(a.Poison))
		}
		if a.Buys != b.Buys {
			return cmp.Compare(boolRank(b.Buys), boolRank(a.Buys))
		}
		return cmp.Compare(len(b.Traits), len(a.Traits))
	})
	return g.gaps, nil
}

func boolRank(b bool) int {
	if b {
		return 1
	}
	return 0
}

type gapFinder struct {
	r    *Reasoner
	herb *graph.Taxon
	row  int
	gaps []Gap
}

func (g *gapFinder) add(x Gap) { g.gaps = append(g.gaps, x) }

// atStage asks whether a typical plant of the herb can be gathered at the stage,
// and what is in the way of it.
func (g *gapFinder) atStage(stage graph.Stage, parts []string) error {
	typical := TypicalObservation(g.r.Matrix, g.row, stage)
	if len(typical.Readings) == 0 {
		g.add(Gap{Kind: GapNothing, Stage: stage, Taxon: g.herb.ID, Text: "nothing that can be seen at this stage is stated of it"})
		return nil
	}
	typical.Part = parts[0]
	v, err := g.r.MayGather(g.herb, typical)
	if err != nil {
		return err
	}
	inTheWay := map[string]bool{}
	for _, o := range v.InTheWay {
		inTheWay[o.Taxon.ID] = true
		g.add(g.obstacle(stage, &o))
	}
	for _, b := range v.Because {
		if b.Verdict != Gather && b.Obstacle == nil {
			g.add(Gap{Kind: GapCheck, Stage: stage, Taxon: g.herb.ID, Text: b.Text})
		}
	}
	for _, other := range g.linked() {
		if i := g.r.Matrix.TaxonIndex(other.ID); other.Poisonous() && !inTheWay[other.ID] {
			if groups := ConstantGroups(g.r.Matrix, g.row, i, stage); len(groups) < 2 {
				g.add(Gap{Kind: GapPair, Stage: stage, Taxon: other.ID, Have: groups, Need: 2, Poison: true, Traits: g.couldPart(i, stage, groups),
					Herb: g.unscored(i, stage, groups)})
			}
		}
	}
	return nil
}

func (g *gapFinder) obstacle(stage graph.Stage, o *Obstacle) Gap {
	i := g.r.Matrix.TaxonIndex(o.Taxon.ID)
	traits := g.couldPart(i, stage, o.Groups)
	groups := map[string]bool{}
	for _, id := range traits {
		if t, ok := g.r.Matrix.Knowledge.Vocabulary.Trait(id); ok {
			groups[t.EvidenceGroup()] = true
		}
	}
	return Gap{Kind: GapUnsafe, Stage: stage, Taxon: o.Taxon.ID, Have: o.Groups, Need: o.Needed, Traits: traits,
		Herb: g.unscored(i, stage, o.Groups), Buys: len(groups) >= o.Needed-len(o.Groups), Poison: o.Taxon.Poisonous()}
}

// couldPart lists the traits that the herb shows at the stage and on which the
// other is not scored firmly enough to be excluded by anything, outside the
// evidence groups that speak already.
func (g *gapFinder) couldPart(other int, stage graph.Stage, groups []string) []string {
	var out []string
	for i, t := range g.r.Matrix.Knowledge.Vocabulary.Traits {
		if !t.Visible(stage) || !t.Excludes || t.Kind == graph.MonthsKind || slices.Contains(groups, t.EvidenceGroup()) {
			continue
		}
		if _, ok := Typical(g.r.Matrix, g.row, i, stage); !ok {
			continue
		}
		if possibleAt(g.r.Matrix, other, i, graph.StagesOf(stage), "").Anything {
			out = append(out, t.ID)
		}
	}
	return out
}

// unscored lists the traits that can be seen at the stage, on which the other is
// scored firmly and nothing is stated of the herb.
func (g *gapFinder) unscored(other int, stage graph.Stage, groups []string) []string {
	var out []string
	for i, t := range g.r.Matrix.Knowledge.Vocabulary.Traits {
		if !t.Visible(stage) || !t.Excludes || t.Kind == graph.MonthsKind || slices.Contains(groups, t.EvidenceGroup()) {
			continue
		}
		_, stated := Typical(g.r.Matrix, g.row, i, stage)
		if !stated && !possibleAt(g.r.Matrix, other, i, graph.StagesOf(stage), "").Anything {
			out = append(out, t.ID)
		}
	}
	return out
}

// linked lists the plants that the herb is linked to, once each.
func (g *gapFinder) linked() []*graph.Taxon {
	var out []*graph.Taxon
	for _, l := range g.r.Matrix.Knowledge.LinksOf(g.herb.ID) {
		if t, ok := g.r.Matrix.Knowledge.Taxon(l.Other); ok && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}

// oneSided lists, for each linked plant, the traits that are scored for one of
// the two only.
func (g *gapFinder) oneSided() {
	for _, other := range g.linked() {
		i := g.r.Matrix.TaxonIndex(other.ID)
		var herbOnly, otherOnly []string
		for j, t := range g.r.Matrix.Knowledge.Vocabulary.Traits {
			here, there := len(g.r.Matrix.Statements(g.row, j)) > 0, len(g.r.Matrix.Statements(i, j)) > 0
			switch {
			case here && !there:
				herbOnly = append(herbOnly, t.ID)
			case there && !here:
				otherOnly = append(otherOnly, t.ID)
			}
		}
		if len(herbOnly) > 0 {
			g.add(Gap{Kind: GapOneSided, Taxon: other.ID, Beside: g.herb.ID, Traits: herbOnly, Poison: other.Poisonous()})
		}
		if len(otherOnly) > 0 {
			g.add(Gap{Kind: GapOneSided, Taxon: g.herb.ID, Beside: other.ID, Traits: otherOnly, Poison: other.Poisonous()})
		}
	}
}

func (g *gapFinder) fromMemory() {
	var traits []string
	for i := range g.herb.Statements {
		if s := &g.herb.Statements[i]; graph.FromMemoryOnly(s.Sources) && !slices.Contains(traits, s.Trait) {
			traits = append(traits, s.Trait)
		}
	}
	if len(traits) > 0 {
		g.add(Gap{Kind: GapMemory, Taxon: g.herb.ID, Traits: traits})
	}
}

// unused lists the states that no plant at all is stated to show: either nobody
// has looked, or the vocabulary could do without them.
func (g *gapFinder) unused() {
	shown := map[string]bool{}
	for _, t := range g.r.Matrix.Knowledge.Taxa {
		for i := range t.Statements {
			if s := &t.Statements[i]; s.Frequency != graph.Never {
				shown[s.Trait+"="+s.State] = true
			}
		}
	}
	var out []string
	for _, t := range g.r.Matrix.Knowledge.Vocabulary.Traits {
		for _, id := range t.StateIDs() {
			if !shown[t.ID+"="+id] {
				out = append(out, t.ID+"="+id)
			}
		}
	}
	if len(out) > 0 {
		g.add(Gap{Kind: GapUnused, Traits: out})
	}
}
