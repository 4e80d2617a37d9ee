package reason

import (
	"math"

	"telltale/graph"
)

const (
	// priorOutside is the chance, before anything is read, that the plant is none
	// of this graph's. From memory.
	priorOutside = 0.3

	// contradictionCounts is how many times a group of readings that speaks
	// against a taxon counts: a flora's plants fit in everything, a stranger
	// fits in most things and then contradicts. From memory.
	contradictionCounts = 1.25
)

// Weights is how the candidates share the belief: those of the graph in the order
// of Knowledge.Taxa and Outside, which together sum to 1.
type Weights struct {
	Taxa    []float64
	Outside float64
}

// scale is what readings are worth for every taxon: ratios by reading and taxon.
type scale struct {
	c       *Case
	ratios  [][]float64
	stage   graph.Stage
	reckons map[reckonKey]*reckoner
}

type reckonKey struct {
	trait    int
	position string
}

func newScale(c *Case) *scale {
	s := &scale{c: c, stage: c.Stage(), reckons: map[reckonKey]*reckoner{}}
	for i := range c.obs.Readings {
		r := &c.obs.Readings[i]
		k := s.reckoner(c.traits[i], r.Position)
		row := make([]float64, len(c.m.Knowledge.Taxa))
		for taxon := range row {
			row[taxon] = k.ratio(taxon, r)
			if r.Unsure {
				row[taxon] = math.Pow(row[taxon], unsureCounts)
			}
		}
		s.ratios = append(s.ratios, row)
	}
	return s
}

func (s *scale) reckoner(trait int, position string) *reckoner {
	k := reckonKey{trait, position}
	r, ok := s.reckons[k]
	if !ok {
		r = newReckoner(s.c.m, trait, s.stage, position)
		s.reckons[k] = r
	}
	return r
}

// fit is how well the readings fit a taxon, as the logarithm of how much likelier
// they are on it than on a plant outside this graph. Each evidence group counts
// once for the taxon and once against: by the reading that says most.
func (s *scale) fit(taxon int) float64 {
	type strongest struct{ pro, con float64 }
	groups := map[string]strongest{}
	for i, row := range s.ratios {
		g := s.c.m.Knowledge.Vocabulary.Traits[s.c.traits[i]].EvidenceGroup()
		x := math.Log(row[taxon])
		e := groups[g]
		e.pro, e.con = max(e.pro, x), min(e.con, x)
		groups[g] = e
	}
	total := 0.0
	for _, g := range sortedKeys(groups) { // in one order, so that sums come out the same
		total += groups[g].pro + contradictionCounts*groups[g].con
	}
	return total
}

// weights shares the belief out by Bayes' rule.
func (s *scale) weights() Weights {
	n := len(s.c.m.Knowledge.Taxa)
	logs := make([]float64, n)
	prior := math.Log((1 - priorOutside) / float64(n))
	for taxon := range logs {
		logs[taxon] = prior + s.fit(taxon) + math.Log(s.season(taxon))
	}
	return share(logs, math.Log(priorOutside))
}

// share turns logarithms into parts of 1.
func share(logs []float64, outside float64) Weights {
	most := outside
	for _, x := range logs {
		most = max(most, x)
	}
	w := Weights{Taxa: make([]float64, len(logs)), Outside: math.Exp(outside - most)}
	total := w.Outside
	for i, x := range logs {
		w.Taxa[i] = math.Exp(x - most)
		total += w.Taxa[i]
	}
	for i := range w.Taxa {
		w.Taxa[i] /= total
	}
	w.Outside /= total
	return w
}

// season shifts the prior by the month: a plant in flower outside its months of
// flowering, or in leaf outside those of its leaves, is less to be expected.
func (s *scale) season(taxon int) float64 {
	month := s.c.obs.Month
	if month == 0 {
		return 1
	}
	trait := "season.leafing"
	if s.stage == graph.Flowering {
		trait = "season.flowering"
	}
	i := s.c.m.Knowledge.Vocabulary.TraitIndex(trait)
	if i < 0 {
		return 1
	}
	stated := s.c.m.Statements(taxon, i)
	for _, st := range stated {
		if st.Range.HasMonth(month) {
			return 1
		}
	}
	if len(stated) == 0 {
		return 1
	}
	return monthsAround
}
