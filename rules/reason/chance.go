package reason

import (
	"math"

	"telltale/graph"
	"telltale/graph/matrix"
)

// The numbers of the model. Each stands here and nowhere else; all are from
// memory, that is, judgements of ours that no publication stands behind.
const (
	// How often a plant shows a value that is stated always, usually, sometimes
	// or rarely: from memory, after how floras use the words.
	chanceAlways    = 1.0
	chanceUsually   = 0.8
	chanceSometimes = 0.2
	chanceRarely    = 0.05

	// takenForNear is how often a state is read as one that it is taken for, where
	// the vocabulary names any; the trait's own error rate is for all other
	// misreadings. From memory.
	takenForNear = 0.1

	// leftOpen is the least chance left for values that are not stated, where the
	// stated ones are not all there are. From memory.
	leftOpen = 0.05

	// plantsInBackground is how many imagined plants, that show every state
	// equally often, are counted into a background frequency. From memory.
	plantsInBackground = 1.0

	// spreadInRange says how many standard deviations lie between the middle of
	// a stated range and its ends: floras give what nine plants in ten show.
	// From memory; 1.645 is the 95th percentile of the normal distribution.
	spreadInRange = 1.645

	// spreadMeasured and spreadCounted are the least standard deviation of the
	// logarithm of a measure, and of a count. From memory.
	spreadMeasured = 0.20
	spreadCounted  = 0.08

	// mostForNumber bounds how much one number can speak for or against: a
	// curve's tail is no fact. From memory.
	mostForNumber = 12.0

	// monthsAround is the chance that a plant is seen in flower, or leaf, outside
	// the months stated. From memory.
	monthsAround = 0.1

	// unsureCounts is the power to which an unsure reading's ratio is raised: it
	// counts half. From memory.
	unsureCounts = 0.5
)

var chanceOf = [...]float64{
	graph.Always: chanceAlways, graph.Usually: chanceUsually, graph.Sometimes: chanceSometimes, graph.Rarely: chanceRarely,
}

// chances tells how often a plant with these statements shows each state.
// Where the stated ones are not all there are, what is left goes to the others
// as the background has them.
func chances(t *graph.Trait, s *matrix.Stated, background []float64) []float64 {
	out := make([]float64, len(t.States))
	positives := s.Positives()
	total := 0.0
	for f := graph.Rarely; f >= graph.Always; f-- {
		for i := range out {
			if s.ByFrequency[f]&(1<<i) != 0 {
				out[i] = chanceOf[f] // the most frequent wins where two sources differ
			}
		}
	}
	for _, x := range out {
		total += x
	}
	left := 0.0
	if !exhaustive(s) {
		left = max(1-total, leftOpen)
	}
	if total > 0 {
		scale := (1 - left) / total
		if left == 0 || total > 1-left {
			for i := range out {
				out[i] *= scale
			}
		}
	}
	spread(out, left, positives|s.ByFrequency[graph.Never], background)
	return out
}

// spread shares out what is left among the states not in the set given.
func spread(out []float64, left float64, taken uint64, background []float64) {
	if left == 0 {
		return
	}
	total := 0.0
	for i := range out {
		if taken&(1<<i) == 0 {
			total += background[i]
		}
	}
	for i := range out {
		switch {
		case total > 0 && taken&(1<<i) == 0:
			out[i] += left * background[i] / total
		case total == 0:
			out[i] += left / float64(len(out))
		}
	}
}

// nearStates finds, for each state of a trait, the places of those it is taken for.
func nearStates(t *graph.Trait) [][]int {
	out := make([][]int, len(t.States))
	for i := range t.States {
		for _, s := range t.States[i].Near {
			out[i] = append(out[i], t.StateIndex(s))
		}
	}
	return out
}

// asRead turns what plants show into what observers say they show: a state is
// read as one that it is taken for, or, at the trait's error rate, as any other.
// near is nearStates of the trait.
func asRead(t *graph.Trait, near [][]int, shown []float64) []float64 {
	n := len(shown)
	if n < 2 {
		return shown
	}
	out := make([]float64, n)
	for i, p := range shown {
		if p == 0 {
			continue
		}
		right := 1 - t.ErrorRate
		if len(near[i]) > 0 {
			right -= takenForNear
			for _, s := range near[i] {
				out[s] += p * takenForNear / float64(len(near[i]))
			}
		}
		out[i] += p * right
		for j := range out {
			if j != i {
				out[j] += p * t.ErrorRate / float64(n-1)
			}
		}
	}
	return out
}

// reckoner holds what readings of one trait at one stage and position are worth.
// For states, read is by taxon and state, and background by state; for numbers
// curves is by taxon. Taxa that nobody has scored have no entry: they show what
// the background does.
type reckoner struct {
	trait      *graph.Trait
	read       [][]float64
	background []float64
	curves     [][]curve
	months     [][]graph.Range
}

// curve is the spread of a number: normal in its logarithm.
type curve struct{ middle, spread float64 }

func (c curve) density(x float64) float64 {
	z := (x - c.middle) / c.spread
	return math.Exp(-z*z/2) / (c.spread * math.Sqrt(2*math.Pi))
}

// below gives the chance of a number whose logarithm is less than x.
func (c curve) below(x float64) float64 { return 0.5 * math.Erfc((c.middle-x)/(c.spread*math.Sqrt2)) }

// newReckoner reckons a column. Where nothing is stated of a taxon at the stage,
// what is stated of it at others is the best there is to weigh by (only to weigh:
// it excludes nothing).
func newReckoner(m *matrix.Matrix, trait int, stage graph.Stage, position string) *reckoner {
	at := m.Column(trait, stage, position)
	whenever := m.Column(trait, graph.AnyStage, position)
	anywhere := m.Column(trait, graph.AnyStage, "")
	t := at.Trait
	r := &reckoner{trait: t}
	cells := make([]*matrix.Cell, len(at.Cells))
	for i := range cells {
		cells[i] = &at.Cells[i]
		if !cells[i].Scored() {
			cells[i] = &whenever.Cells[i]
		}
		if !cells[i].Scored() {
			cells[i] = &anywhere.Cells[i]
		}
	}
	switch t.Kind {
	case graph.StateKind:
		r.reckonStates(cells)
	case graph.MonthsKind:
		r.months = make([][]graph.Range, len(cells))
		for i, c := range cells {
			for j := range c.Groups {
				r.months[i] = append(r.months[i], c.Groups[j].Spans...)
			}
		}
	default:
		r.curves = make([][]curve, len(cells))
		for i, c := range cells {
			for j := range c.Groups {
				r.curves[i] = append(r.curves[i], curvesOf(t, c.Groups[j].Spans)...)
			}
		}
	}
	return r
}

// reckonStates goes over the taxa twice: what is left open in the first is
// filled by the background that the first gives.
func (r *reckoner) reckonStates(cells []*matrix.Cell) {
	n := len(r.trait.States)
	even := make([]float64, n)
	for i := range even {
		even[i] = 1 / float64(n)
	}
	r.background = r.meanOf(r.showing(cells, even))
	shown := r.showing(cells, r.background)
	near := nearStates(r.trait)
	r.read = make([][]float64, len(cells))
	for i, p := range shown {
		if p != nil {
			r.read[i] = asRead(r.trait, near, p)
		}
	}
	r.background = r.meanOf(r.read)
}

func (r *reckoner) showing(cells []*matrix.Cell, background []float64) [][]float64 {
	out := make([][]float64, len(cells))
	for i, c := range cells {
		for j := range c.Groups {
			p := chances(r.trait, &c.Groups[j], background)
			if out[i] == nil {
				out[i] = make([]float64, len(p))
			}
			for s := range p {
				out[i][s] += p[s] / float64(len(c.Groups))
			}
		}
	}
	return out
}

// meanOf is the background frequency of each state: the mean over the taxa that
// are scored, with a few imagined plants that show all states equally often.
func (r *reckoner) meanOf(rows [][]float64) []float64 {
	n := len(r.trait.States)
	out := make([]float64, n)
	scored := plantsInBackground
	for i := range out {
		out[i] = plantsInBackground / float64(n)
	}
	for _, row := range rows {
		if row == nil {
			continue
		}
		scored++
		for i := range out {
			out[i] += row[i]
		}
	}
	for i := range out {
		out[i] /= scored
	}
	return out
}

func curvesOf(t *graph.Trait, spans []graph.Range) []curve {
	var out []curve
	least := spreadMeasured
	if t.Kind == graph.CountKind {
		least = spreadCounted
	}
	for _, s := range spans {
		low, high := logOf(s.Low), logOf(s.High)
		c := curve{middle: (low + high) / 2, spread: (high - low) / 2 / spreadInRange}
		// Extremes are rare, but they are known: they widen the curve half-way.
		if wide := (logOf(s.HighExtreme) - logOf(s.LowExtreme)) / 2 / (2 * spreadInRange); wide > c.spread {
			c.spread = wide
		}
		c.spread = math.Hypot(c.spread, least)
		out = append(out, c)
	}
	return out
}

// logOf is the logarithm that curves are drawn in; a count of none has a place
// too.
func logOf(x float64) float64 { return math.Log(max(x, 0.1)) }

// ratio tells how much likelier a reading is on a plant of the taxon than on a
// plant outside this graph, which shows everything at its background frequency.
// It is 1 for what nobody has scored.
func (r *reckoner) ratio(taxon int, reading *graph.Reading) float64 {
	switch r.trait.Kind {
	case graph.StateKind:
		if r.read[taxon] == nil {
			return 1
		}
		here, there := 0.0, 0.0
		for _, s := range reading.States {
			i := r.trait.StateIndex(s)
			here += r.read[taxon][i]
			there += r.background[i]
		}
		return here / there
	case graph.MonthsKind:
		return r.monthRatio(taxon, int(reading.Low))
	}
	return r.numberRatio(taxon, (logOf(reading.Low)+logOf(reading.High))/2)
}

func (r *reckoner) numberRatio(taxon int, x float64) float64 {
	if len(r.curves[taxon]) == 0 {
		return 1
	}
	there, scored := 0.0, 0
	for _, cs := range r.curves {
		if len(cs) > 0 {
			there += density(cs, x)
			scored++
		}
	}
	there /= float64(scored)
	const least = 1e-12 // below what a curve can be told from nothing
	ratio := (density(r.curves[taxon], x) + least) / (there + least)
	return min(max(ratio, 1/mostForNumber), mostForNumber)
}

func density(cs []curve, x float64) float64 {
	out := 0.0
	for _, c := range cs {
		out += c.density(x)
	}
	return out / float64(len(cs))
}

func (r *reckoner) monthRatio(taxon, month int) float64 {
	if len(r.months[taxon]) == 0 {
		return 1
	}
	there, scored := 0.0, 0
	for i := range r.months {
		if len(r.months[i]) > 0 {
			there += monthChance(r.months[i], month)
			scored++
		}
	}
	return monthChance(r.months[taxon], month) * float64(scored) / there
}

// monthChance is the chance that a plant that is seen in one of these months is
// seen in this one.
func monthChance(spans []graph.Range, month int) float64 {
	in := 0
	var has [13]bool
	for _, s := range spans {
		for m := 1; m <= 12; m++ {
			if s.HasMonth(m) && !has[m] {
				has[m] = true
				in++
			}
		}
	}
	switch {
	case in == 12 || in == 0:
		return 1.0 / 12
	case has[month]:
		return (1 - monthsAround) / float64(in)
	}
	return monthsAround / float64(12-in)
}
