package reason

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"telltale/graph"
	"telltale/graph/graphtest"
)

// world is a small made graph with a herb that is worked up, its rules, and an
// observation that hopes for the herb.
type world struct {
	pieces []graphtest.Piece
	told   []string // the pieces in words, for a failing test to print
	k      *graph.Knowledge
	r      *Reasoner
	herb   *graph.Taxon
	obs    graph.Observation
}

func (w *world) String() string {
	var readings []string
	for i := range w.obs.Readings {
		readings = append(readings, w.obs.Readings[i].Notation(w.k.Vocabulary))
	}
	return strings.Join(w.told, "\n") + "\nseen at " + w.obs.Stage.String() + ": " + strings.Join(readings, " ")
}

// GoString keeps a failing draw to what can be read.
func (w *world) GoString() string { return w.String() }

// traitIDs are the traits of every world that have states, and stateIDs what
// these are taken from. The two numbers come after them.
var (
	traitIDs = []string{"leaf.form", "leaf.edge", "stem.cover", "stem.marks", "root.form", "plant.smell"}
	stateIDs = []string{"one", "two", "three", "four"}
)

// worldStages are the stages that statements and observations of worlds name.
var worldStages = []string{"rosette", "flowering"}

// worlds draws small graphs: two to five plants, more or less alike, more or less
// poisonous, and an observation of a plant that is often the herb. What a botanist
// can write they can hold: near states, shared evidence groups, disagreeing
// sources, statements by stage and position, overruled exhaustiveness.
var worlds = rapid.Custom(func(t *rapid.T) *world {
	w := &world{}
	w.drawTraits(t)
	plants := rapid.IntRange(2, 5).Draw(t, "plants")
	for i := range plants {
		w.drawPlant(t, i, plants)
	}
	w.drawStudy(t)
	for often(t, 35, "a rule") {
		w.drawRule(t, plants)
	}
	w.k = graphtest.Knowledge(w.pieces...)
	w.herb, _ = w.k.Taxon("herb")
	var err error
	if w.r, err = New(w.k); err != nil {
		panic(err)
	}
	w.drawObservation(t)
	return w
})

func (w *world) add(p graphtest.Piece, told ...string) {
	w.pieces = append(w.pieces, p)
	w.told = append(w.told, strings.Join(told, "; "))
}

// often is true in about so many of a hundred draws. It is made of tosses of a
// coin because numbers are drawn mostly small; a failing draw shrinks to false.
func often(t *rapid.T, percent int, what string) bool {
	const tosses = 7
	n := 0
	for range tosses {
		n *= 2
		if rapid.Bool().Draw(t, what) {
			n++
		}
	}
	return n*100 >= (100-percent)<<tosses
}

func (w *world) drawTraits(t *rapid.T) {
	for _, id := range traitIDs {
		n := rapid.IntRange(2, len(stateIDs)).Draw(t, id+" states")
		states := strings.Join(stateIDs[:n], " ")
		lines := []string{fmt.Sprintf("error 0.%02d", rapid.IntRange(1, 20).Draw(t, id+" error"))}
		if often(t, 30, "near") {
			a, b := rapid.IntRange(0, n-1).Draw(t, "near"), rapid.IntRange(0, n-1).Draw(t, "to")
			if a != b {
				lines = append(lines, stateIDs[a]+" ~ "+stateIDs[b])
			}
		}
		if often(t, 25, "shared group") {
			lines = append(lines, "group shared")
		}
		if id == "plant.smell" && often(t, 20, "never excludes") {
			lines = append(lines, "never excludes")
		}
		w.add(graphtest.States(id, states, lines...), append([]string{id, states}, lines...)...)
	}
	w.add(graphtest.Measure("leaf.length", "cm"), "leaf.length in cm")
	w.add(graphtest.Count("flower.petals", "seen at flowering"), "flower.petals counted at flowering")
}

// plantName names the plants of a world: the herb, then its fellows.
func plantName(i int) string {
	if i == 0 {
		return "herb"
	}
	return fmt.Sprintf("other-%d", i)
}

// states finds the states of a trait before the graph is put together.
func (w *world) states(id string) []string {
	for _, line := range w.told {
		if rest, ok := strings.CutPrefix(line, id+"; "); ok {
			states, _, _ := strings.Cut(rest, ";")
			return strings.Fields(states)
		}
	}
	panic(id)
}

func (w *world) drawPlant(t *rapid.T, i, plants int) {
	var lines []string
	if i > 0 {
		lines = append(lines, rapid.SampledFrom([]string{"deadly", "serious", "mild", "none_known"}).Draw(t, "severity"))
		if often(t, 40, "link") {
			lines = append(lines, "looks like herb")
		}
	} else if often(t, 20, "link from the herb") {
		lines = append(lines, "looks like "+plantName(plants-1))
	}
	for _, id := range traitIDs {
		lines = append(lines, w.drawStatements(t, id)...)
	}
	if often(t, 70, "length stated") {
		low := rapid.IntRange(1, 40).Draw(t, "low")
		lines = append(lines, fmt.Sprintf("leaf.length usually %d-%d cm", low, low+rapid.IntRange(0, 20).Draw(t, "more")))
	}
	if often(t, 50, "petals stated") {
		lines = append(lines, fmt.Sprintf("flower.petals always %d", rapid.IntRange(3, 12).Draw(t, "petals")))
	}
	w.add(graphtest.Plant(plantName(i), lines...), append([]string{plantName(i)}, lines...)...)
}

func (w *world) drawStatements(t *rapid.T, id string) []string {
	states := w.states(id)
	state := func() string { return rapid.SampledFrom(states).Draw(t, id+" state") }
	switch {
	case often(t, 60, id+" always"):
		return []string{id + " always " + state()}
	case often(t, 50, id+" of all kinds"):
		return w.drawAnyStatements(t, id, state)
	case often(t, 50, id+" usually"):
		return []string{id + " usually " + state(), id + " " + rapid.SampledFrom([]string{"sometimes", "rarely", "never"}).Draw(t, "how often") + " " + state()}
	}
	return nil
}

// drawAnyStatements draws whatever can be written of a trait.
func (w *world) drawAnyStatements(t *rapid.T, id string, state func() string) []string {
	var out []string
	for range rapid.IntRange(1, 4).Draw(t, "statements") {
		line := id + " " + rapid.SampledFrom(graph.FrequencyNames()).Draw(t, "frequency") + " " + state()
		if often(t, 40, "at a stage") {
			line += " at " + rapid.SampledFrom(worldStages).Draw(t, "stage")
		}
		if often(t, 40, "on a position") {
			line += " on " + rapid.SampledFrom([]string{"upper", "lower", "basal"}).Draw(t, "position")
		}
		out = append(out, line)
	}
	if often(t, 20, "overruled") {
		out = append(out, id+" is "+rapid.SampledFrom([]string{"", "not "}).Draw(t, "overruled")+"exhaustive")
	}
	return out
}

func (w *world) drawStudy(t *rapid.T) {
	if often(t, 5, "no study") {
		return
	}
	var checks []string
	for range rapid.IntRange(0, 2).Draw(t, "checks") {
		id := rapid.SampledFrom(traitIDs).Draw(t, "check")
		check := id + " as stated"
		if often(t, 30, "states named") {
			check = id + " is " + strings.Join(w.states(id)[:2], "|")
		}
		checks = append(checks, check)
	}
	gathered := rapid.SampledFrom([]string{"root at rosette flowering", "root at rosette flowering", "root at rosette", "root leaf at rosette flowering"}).Draw(t, "gathered")
	w.add(graphtest.Study("herb", gathered, checks...), append([]string{"study of the herb: " + gathered}, checks...)...)
}

// drawRule draws a rule about the herb, about every plant or about another.
func (w *world) drawRule(t *rapid.T, plants int) {
	about := rapid.SampledFrom([]string{"herb", "any", "other-1"}).Draw(t, "about")
	line := rapid.SampledFrom([]string{"leave", "must", "note"}).Draw(t, "then") + " " + about + " when " + w.drawExpression(t, plants, 2)
	for _, told := range w.told {
		if told == line {
			return
		}
	}
	w.add(graphtest.Rule(line), line)
}

func (w *world) drawExpression(t *rapid.T, plants, depth int) string {
	id := rapid.SampledFrom(traitIDs).Draw(t, "trait")
	state := rapid.SampledFrom(w.states(id)).Draw(t, "state")
	pick := rapid.IntRange(0, 9).Draw(t, "expression")
	if depth == 0 {
		pick = pick % 7
	}
	switch pick {
	case 0, 1:
		return fmt.Sprintf("%s == %q", id, state)
	case 2:
		return fmt.Sprintf("%s != %q", id, state)
	case 3:
		return fmt.Sprintf("%s in [%q, %q]", id, state, w.states(id)[0])
	case 4:
		return fmt.Sprintf("leaf.length > %d.0", rapid.IntRange(1, 60).Draw(t, "length"))
	case 5:
		return fmt.Sprintf("stage == %q", rapid.SampledFrom(worldStages).Draw(t, "stage"))
	case 6:
		return fmt.Sprintf("%s(%q)", rapid.SampledFrom([]string{"is_open", "is_ruled_out", "hoped_for"}).Draw(t, "function"), plantName(rapid.IntRange(0, plants-1).Draw(t, "plant")))
	case 7:
		return "!(" + w.drawExpression(t, plants, depth-1) + ")"
	}
	sign := rapid.SampledFrom([]string{"&&", "||"}).Draw(t, "sign")
	return "(" + w.drawExpression(t, plants, depth-1) + " " + sign + " " + w.drawExpression(t, plants, depth-1) + ")"
}

// drawObservation reads a plant in full, and now and then something else than it
// shows: at most one reading of each trait.
func (w *world) drawObservation(t *rapid.T) {
	stage := rapid.SampledFrom([]string{"rosette", "flowering", "rosette", "flowering", "flowering", "flowering", "flowering", ""}).Draw(t, "stage")
	w.obs.Stage, _ = graph.StageNamed(stage)
	w.obs.Part = rapid.SampledFrom([]string{"", "root", "root", "", "root", "leaf"}).Draw(t, "part")
	w.obs.Month = rapid.SampledFrom([]int{0, 5}).Draw(t, "month")
	plant := w.r.Matrix.TaxonIndex("herb")
	if often(t, 10, "another plant") {
		plant = rapid.IntRange(0, len(w.k.Taxa)-1).Draw(t, "plant")
	}
	for i, trait := range w.k.Vocabulary.Traits {
		r, stated := Typical(w.r.Matrix, plant, i, w.obs.Stage)
		switch {
		case often(t, 8, trait.ID+" not looked at"):
			continue
		case !stated || often(t, 5, trait.ID+" otherwise"):
			r = drawReading(t, trait)
		}
		if often(t, 12, "position told") {
			r.Position = rapid.SampledFrom([]string{"upper", "lower", "basal"}).Draw(t, "position")
		}
		r.Unsure = often(t, 8, "unsure")
		w.obs.Readings = append(w.obs.Readings, r)
	}
}

// drawReading reads anything that can be read of a trait.
func drawReading(t *rapid.T, trait *graph.Trait) graph.Reading {
	r := graph.Reading{Trait: trait.ID}
	if trait.Kind != graph.StateKind {
		r.Low = float64(rapid.IntRange(1, 90).Draw(t, trait.ID))
		r.High = r.Low + float64(rapid.SampledFrom([]int{0, 0, 5}).Draw(t, "span"))
		return r
	}
	n := len(trait.States)
	some := rapid.IntRange(1, 1<<n-1).Draw(t, trait.ID+" read")
	if often(t, 70, "one state") {
		some = 1 << rapid.IntRange(0, n-1).Draw(t, trait.ID+" read")
	}
	for i := range n {
		if some&(1<<i) != 0 {
			r.States = append(r.States, trait.States[i].ID)
		} else {
			r.Not = append(r.Not, trait.States[i].ID)
		}
	}
	if len(r.Not) != 1 || len(r.States) == 1 {
		r.Not = nil
	}
	return r
}

func (w *world) mayGather(t *rapid.T, obs graph.Observation) *Verdict {
	v, err := w.r.MayGather(w.herb, obs)
	if err != nil {
		t.Fatalf("%v\n%s", err, w)
	}
	return v
}

func (w *world) weigh(t *rapid.T, obs graph.Observation) *Answer {
	a, err := w.r.Weigh(obs)
	if err != nil {
		t.Fatalf("%v\n%s", err, w)
	}
	return a
}

func (a *Answer) of(t *rapid.T, id string) *Candidate {
	for i := range a.Candidates {
		if a.Candidates[i].Taxon.ID == id {
			return &a.Candidates[i]
		}
	}
	t.Fatalf("%s is no candidate", id)
	return nil
}

// mayShow asks the statements themselves, in the words of DESIGN section 3,
// whether plants of a taxon can show a state at a stage to a reading on a
// position of the plant that is told. It is written for the tests alone and looks
// at nothing that is compiled.
func mayShow(taxon *graph.Taxon, t *graph.Trait, state string, stage graph.Stage, position string) bool {
	given, never, always, usually := map[string]bool{}, map[string]bool{}, false, false
	for _, s := range taxon.Statements {
		if s.Trait != t.ID || s.Stages != 0 && !s.Stages.Has(stage) || s.Position != "" && s.Position != position {
			continue
		}
		if s.Frequency == graph.Never {
			never[s.State] = true
			continue
		}
		given[s.State] = true
		always = always || s.Frequency == graph.Always
		usually = usually || s.Frequency == graph.Usually
	}
	exhaustive := always || len(given) >= 2 && usually
	for _, o := range taxon.Overrules {
		if o.Trait == t.ID {
			exhaustive = o.Exhaustive && len(given) > 0
		}
	}
	if len(given) == 0 && len(never) == len(t.States) {
		return true // sources that between them leave nothing disagree, and either allows something
	}
	return given[state] || !never[state] && !exhaustive
}

// A reading with its position told excludes a plant exactly when it can show
// neither a state that was read nor one that is near it.
func TestAReadingExcludesExactlyWhoCannotShowIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		trait := w.k.Vocabulary.Traits[rapid.IntRange(0, len(traitIDs)-1).Draw(t, "trait")]
		r := drawReading(t, trait)
		r.Position = rapid.SampledFrom([]string{"upper", "lower", "basal", "young"}).Draw(t, "position")
		stage := rapid.SampledFrom(graph.Stages()).Draw(t, "stage")
		c := newCase(w.r.Matrix, graph.Observation{Stage: stage, Readings: []graph.Reading{r}})
		for i, taxon := range w.k.Taxa {
			can := !trait.Excludes
			for _, s := range r.States {
				for _, n := range append([]string{s}, trait.States[trait.StateIndex(s)].Near...) {
					can = can || mayShow(taxon, trait, n, stage, r.Position)
				}
			}
			if got := len(c.excluded[i]) > 0; got == can {
				t.Fatalf("%s at %s: excludes %s %v, and it can show it %v\n%s", r.Notation(w.k.Vocabulary), stage, taxon.ID, got, can, w)
			}
		}
	})
}

// Where on the plant something was read is knowledge too: not telling it excludes
// nobody whom the reading would not exclude wherever on the plant it was made, of
// the positions that something is stated of.
func TestNotTellingThePositionNeverExcludesMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := worlds.Draw(t, "world")
		stage := rapid.SampledFrom(graph.Stages()).Draw(t, "stage")
		for i, trait := range w.k.Vocabulary.Traits[:len(traitIDs)] {
			r := drawReading(t, trait)
			bare := newCase(w.r.Matrix, graph.Observation{Stage: stage, Readings: []graph.Reading{r}})
			for _, r.Position = range []string{"upper", "lower", "basal"} {
				told := newCase(w.r.Matrix, graph.Observation{Stage: stage, Readings: []graph.Reading{r}})
				for taxon := range w.k.Taxa {
					stated := w.r.Matrix.Column(i, stage, r.Position).Cells[taxon].Scored()
					if stated && len(bare.excluded[taxon]) > len(told.excluded[taxon]) {
						t.Fatalf("%s at %s does not exclude %s; without the position it does\n%s", r.Notation(w.k.Vocabulary), stage, w.k.Taxa[taxon].ID, w)
					}
				}
			}
		}
	})
}
