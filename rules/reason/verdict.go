package reason

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"telltale/graph"
	"telltale/rules"
)

// The verdicts.
const (
	Leave  = "leave"
	NotYet = "not-yet"
	Gather = "gather"
)

// Verdict is whether a taxon may be gathered, and why.
type Verdict struct {
	Taxon       *graph.Taxon
	Study       *graph.Study // nil if nobody has worked the herb up
	Part        string       // as told, or the only one gathered at the stage
	Stage       graph.Stage
	Verdict     string
	Because     []Reason
	InTheWay    []Obstacle // the plants that are not ruled out as far as it takes
	PoisonsOpen []string   // the poisonous ones among them
	Look        []Look
	Later       []Later // traits that part it from what is in the way, seen at other stages
	Rules       []rules.Result
	Say         []string // what the study says with a gather
	Slack       int      // of a gather: how many readings of an obstacle must be wrong at the least
}

// Reason is one thing that a verdict rests on. At most one of Evidence, Check,
// Obstacle and Rule is set: what the reason is about.
type Reason struct {
	Verdict  string // the verdict that this reason alone would give; Gather for what speaks for it
	Text     string
	Sources  []string
	Trait    string
	Evidence *Evidence     // a reading that speaks against the herb
	Check    *graph.Check  // a check of the study, passed or not
	Obstacle *Obstacle     // a plant that is not ruled out as far as it takes
	Rule     *rules.Result // a rule that stops, or waits
}

// Obstacle is a plant that has to be ruled out first.
type Obstacle struct {
	Taxon     *graph.Taxon
	Lookalike bool
	Groups    []string // the evidence groups that exclude it
	Needed    int      // how many it takes
	Weight    float64
}

// Later is a trait that would part the herb from an obstacle at another stage.
type Later struct {
	Trait  *graph.Trait
	Stages graph.StageSet
	Parts  []string
}

// judge collects what a verdict rests on.
type judge struct {
	r     *Reasoner
	c     *Case
	s     *scale
	w     Weights
	v     *Verdict
	herb  int
	entry []graph.Gather
}

// MayGather tells whether the taxon may be gathered from the plant observed. Part
// and stage are those of the observation.
func (r *Reasoner) MayGather(taxon *graph.Taxon, obs graph.Observation) (*Verdict, error) {
	c := newCase(r.Matrix, obs)
	j, err := r.judge(taxon, newScale(c))
	if err != nil {
		return nil, err
	}
	j.advise()
	return j.v, nil
}

// judge draws the verdict on a taxon from a case that is on the scale.
func (r *Reasoner) judge(taxon *graph.Taxon, s *scale) (*judge, error) {
	j := &judge{r: r, c: s.c, s: s, w: s.weights(), herb: r.Matrix.TaxonIndex(taxon.ID)}
	j.v = &Verdict{Taxon: taxon, Part: s.c.obs.Part, Stage: s.c.obs.Stage}
	j.v.Study, _ = r.Matrix.Knowledge.Study(taxon.ID)
	j.isGathered()
	j.isNotExcluded()
	j.passesChecks()
	j.nothingInTheWay()
	if err := j.keepsRules(); err != nil {
		return nil, err
	}
	j.fits()
	j.conclude()
	return j, nil
}

// because notes a reason, and gives it to say what it is about.
func (j *judge) because(verdict, format string, args ...any) *Reason {
	return j.sourced(verdict, "", nil, format, args...)
}

func (j *judge) sourced(verdict, trait string, sources []string, format string, args ...any) *Reason {
	j.v.Because = append(j.v.Because, Reason{Verdict: verdict, Trait: trait, Sources: sources, Text: fmt.Sprintf(format, args...)})
	return &j.v.Because[len(j.v.Because)-1]
}

// isGathered asks whether anybody gathers this part at this stage.
func (j *judge) isGathered() {
	v := j.v
	if v.Study == nil {
		if sev := v.Taxon.PartSeverity(v.Part); sev.Poisonous() {
			j.sourced(Leave, "", toxicSources(v.Taxon), "%s is %s to eat", v.Taxon.CommonName(), sev)
			return
		}
		j.because(NotYet, "nobody has worked this herb up here")
		return
	}
	if v.Stage == graph.AnyStage {
		j.because(NotYet, "the stage of growth is not told: give one of %s", strings.Join(gatheredAt(v.Study, v.Part).Names(), ", "))
		return
	}
	j.entry = v.Study.For(v.Part, v.Stage)
	if len(j.entry) == 0 {
		what := v.Taxon.CommonName()
		if v.Part != "" {
			what = "the " + partWords(v.Part) + " of " + what
		}
		j.because(Leave, "%s is not gathered at the stage %s; it is: %s", what, v.Stage.Words(), gatheredWords(v.Study))
		return
	}
	if parts := partsOf(j.entry); v.Part == "" && len(parts) == 1 {
		v.Part = parts[0]
	}
	for _, g := range j.entry {
		for _, s := range g.Say {
			if !slices.Contains(v.Say, s) {
				v.Say = append(v.Say, s)
			}
		}
	}
}

func partWords(part string) string { return strings.ReplaceAll(part, "_", " ") }

func toxicSources(t *graph.Taxon) []string {
	for _, x := range t.Toxicity {
		if x.Route == graph.Ingestion && x.Severity == t.Severity() {
			return x.Sources
		}
	}
	return nil
}

func gatheredAt(s *graph.Study, part string) graph.StageSet {
	var out graph.StageSet
	for _, g := range s.For(part, graph.AnyStage) {
		out |= g.Stages
	}
	if out == 0 {
		return graph.AllStages()
	}
	return out
}

func gatheredWords(s *graph.Study) string {
	var out []string
	for _, g := range s.Gather {
		var parts, stages []string
		for _, p := range g.Parts {
			parts = append(parts, partWords(p))
		}
		for _, st := range g.Stages.List() {
			stages = append(stages, st.Words())
		}
		out = append(out, strings.Join(parts, ", ")+" at "+strings.Join(stages, ", "))
	}
	if len(out) == 0 {
		return "never"
	}
	return strings.Join(out, "; ")
}

func partsOf(entries []graph.Gather) []string {
	var out []string
	for _, g := range entries {
		for _, p := range g.Parts {
			if !slices.Contains(out, p) {
				out = append(out, p)
			}
		}
	}
	return out
}

// isNotExcluded asks whether a sure reading makes the herb itself impossible.
func (j *judge) isNotExcluded() {
	for _, i := range j.c.excluded[j.herb] {
		e := j.s.evidence(j.herb, i)
		j.sourced(Leave, e.Trait.ID, statedSources(e.Stated), "%s: you read %s, and %s has %s", e.Trait.Label, e.Reading.Value(j.vocabulary()), j.v.Taxon.CommonName(), StatedWords(e.Stated)).Evidence = &e
	}
	for i := range j.c.obs.Readings {
		if r := &j.c.obs.Readings[i]; r.Unsure && j.s.ratios[i][j.herb] < 1 {
			e := j.s.evidence(j.herb, i)
			j.sourced(NotYet, e.Trait.ID, nil, "%s: you are not sure of %s, and that would speak against %s", e.Trait.Label, e.Reading.Value(j.vocabulary()), j.v.Taxon.CommonName()).Evidence = &e
		}
	}
}

func (j *judge) vocabulary() *graph.Vocabulary { return j.r.Matrix.Knowledge.Vocabulary }

func statedSources(list []*graph.Statement) []string {
	var out []string
	for _, s := range list {
		for _, id := range s.Sources {
			if !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return out
}

// StatedWords puts statements into words: "always hairless, rarely bristly".
func StatedWords(list []*graph.Statement) string {
	var out []string
	for _, s := range list {
		words := s.Frequency.String() + " " + strings.ReplaceAll(s.Value(), "_", " ")
		if s.Position != "" {
			words += " on the " + s.Position + " part"
		}
		if !slices.Contains(out, words) {
			out = append(out, words)
		}
	}
	if len(out) == 0 {
		return "nothing stated"
	}
	return strings.Join(out, ", ")
}

// passesChecks asks for every check that the study demands at this stage.
func (j *judge) passesChecks() {
	seen := map[string]bool{}
	for _, g := range j.entry {
		for i := range g.Checks {
			check := &g.Checks[i]
			name := check.Trait + "@" + check.Position + "=" + strings.Join(check.States, "|")
			if !seen[name] {
				seen[name] = true
				j.check(check)
			}
		}
	}
}

func (j *judge) check(check *graph.Check) {
	trait := j.vocabulary().TraitIndex(check.Trait)
	t := j.vocabulary().Traits[trait]
	want := strings.ReplaceAll(strings.Join(check.States, " or "), "_", " ")
	if want == "" {
		want = "as stated of the plant"
	}
	unsure, unfit := false, ""
	for i := range j.c.obs.Readings {
		r := &j.c.obs.Readings[i]
		switch {
		case r.Trait != check.Trait || check.Position != "" && r.Position != check.Position:
		case r.Unsure:
			unsure = true
		case j.agrees(check, trait, r):
			j.sourced(Gather, check.Trait, check.Sources, "%s: %s, as it has to be", t.Label, r.Value(j.vocabulary())).Check = check
			return
		default:
			unfit = r.Value(j.vocabulary())
		}
	}
	state := "not looked at yet"
	switch {
	case unfit != "":
		state = "you read " + unfit
	case unsure:
		state = "you are not sure"
	}
	j.sourced(NotYet, check.Trait, check.Sources, "%s: %s. It has to be %s: %s", t.Label, state, want, check.Because).Check = check
}

// agrees tells whether a sure reading fits a check: every state it leaves is one
// that the check names, or where it names none one that is stated of the herb.
func (j *judge) agrees(check *graph.Check, trait int, r *graph.Reading) bool {
	t := j.vocabulary().Traits[trait]
	cell := &j.r.Matrix.Column(trait, j.v.Stage, r.Position).Cells[j.herb]
	if t.Kind != graph.StateKind {
		p := possibleIn(t, cell)
		return !p.Anything && r.Low >= p.Low-rounding && r.High <= p.High+rounding
	}
	accepted := stateSet(t, check.States)
	if len(check.States) == 0 {
		for i := range cell.Groups {
			accepted |= cell.Groups[i].Positives()
		}
	}
	read := stateSet(t, r.States)
	return read != 0 && read&^accepted == 0
}

// nothingInTheWay asks whether every plant that could be taken for the herb is
// ruled out: poisonous lookalikes by two evidence groups, every other poison and
// every harmless lookalike by one.
func (j *judge) nothingInTheWay() {
	if j.v.Stage == graph.AnyStage {
		return
	}
	lookalike := j.r.lookalikesOf(j.herb, j.v.Stage)
	slack := math.MaxInt
	for i, t := range j.r.Matrix.Knowledge.Taxa {
		o := Obstacle{Taxon: t, Lookalike: lookalike[i], Needed: needed(t.Poisonous(), lookalike[i]), Weight: j.w.Taxa[i]}
		if i == j.herb || o.Needed == 0 {
			continue
		}
		o.Groups = j.c.groups(i)
		if t.Poisonous() {
			slack = min(slack, len(o.Groups))
		}
		if len(o.Groups) < o.Needed {
			j.v.InTheWay = append(j.v.InTheWay, o)
		}
	}
	if slack < math.MaxInt {
		j.v.Slack = slack
	}
	slices.SortStableFunc(j.v.InTheWay, func(a, b Obstacle) int {
		if a.Taxon.Poisonous() != b.Taxon.Poisonous() {
			if a.Taxon.Poisonous() {
				return -1
			}
			return 1
		}
		return compareFalling(a.Weight, b.Weight)
	})
	for i := range j.v.InTheWay {
		o := &j.v.InTheWay[i]
		if o.Taxon.Poisonous() {
			j.v.PoisonsOpen = append(j.v.PoisonsOpen, o.Taxon.ID)
		}
		j.because(NotYet, "%s", o.words()).Obstacle = o
	}
}

// needed is how many evidence groups have to exclude a plant before the herb may
// be gathered.
func needed(poisonous, lookalike bool) int {
	switch {
	case poisonous && lookalike:
		return 2
	case poisonous || lookalike:
		return 1
	}
	return 0
}

func (o *Obstacle) words() string {
	kind := ""
	switch {
	case o.Taxon.Poisonous() && o.Lookalike:
		kind = o.Taxon.Severity().String() + " lookalike "
	case o.Taxon.Poisonous():
		kind = o.Taxon.Severity().String() + " "
	default:
		kind = "lookalike "
	}
	name := o.Taxon.CommonName() + " (" + o.Taxon.Name + ")"
	if len(o.Groups) == 0 {
		return "the " + kind + name + " is still open"
	}
	return fmt.Sprintf("the %s%s is excluded by one kind of evidence only (%s); it takes %d", kind, name, strings.Join(o.Groups, ", "), o.Needed)
}

// keepsRules puts the rules about the herb, and those about any plant, to the
// observation.
func (j *judge) keepsRules() error {
	var list []*rules.Rule
	for _, rule := range j.r.Rules.Rules {
		if rule.About(j.v.Taxon.ID) {
			list = append(list, rule)
		}
	}
	results, err := j.r.try(j.c, list, j.v.Taxon.ID)
	if err != nil {
		return err
	}
	j.v.Rules = results
	for i := range results {
		j.ruled(&results[i])
	}
	return nil
}

func (j *judge) ruled(res *rules.Result) {
	r := res.Rule
	because := strings.TrimSuffix(strings.TrimSpace(r.Because), ".")
	switch {
	case r.Then == graph.Leave && res.Outcome == graph.Fires:
		j.sourced(Leave, "", r.Sources, "rule %s: %s", r.ID, because).Rule = res
	case r.Then == graph.Leave && res.Outcome == graph.Waits:
		j.sourced(NotYet, "", r.Sources, "rule %s waits for %s: leave it if %s (%s)", r.ID, j.labels(res.WaitsFor), res.Residual, because).Rule = res
	case r.Then == graph.Must && res.Outcome == graph.Waits:
		j.sourced(NotYet, "", r.Sources, "rule %s has to hold and waits for %s: %s (%s)", r.ID, j.labels(res.WaitsFor), res.Residual, because).Rule = res
	case r.Then == graph.Must && res.Outcome == graph.Quiet:
		j.sourced(NotYet, "", r.Sources, "rule %s has to hold and does not: %s", r.ID, because).Rule = res
	}
}

func (j *judge) labels(names []string) string {
	var out []string
	for _, n := range names {
		if t, ok := j.vocabulary().Trait(n); ok {
			n = t.Label
		}
		out = append(out, n)
	}
	return strings.Join(out, ", ")
}

// fits asks whether a plant outside this graph is the better answer.
func (j *judge) fits() {
	if j.w.Taxa[j.herb] < j.w.Outside {
		j.because(NotYet, "a plant I do not know would fit what you read better than %s does", j.v.Taxon.CommonName())
	}
}

// conclude draws the verdict from the reasons.
func (j *judge) conclude() {
	j.v.Verdict = Gather
	for _, b := range j.v.Because {
		switch {
		case b.Verdict == Leave:
			j.v.Verdict = Leave
		case b.Verdict == NotYet && j.v.Verdict == Gather:
			j.v.Verdict = NotYet
		}
	}
	if j.v.Verdict == Gather {
		j.v.PoisonsOpen = nil
	}
}

// advise says what to look at next, and what other stages would show.
func (j *judge) advise() {
	if j.v.Verdict == NotYet && j.v.Study != nil && j.v.Stage != graph.AnyStage {
		j.v.Look, j.v.Later = j.nextLooks()
	}
}

// nextLooks lists what to look at: the checks and rules that wait, and what rules
// out the plants in the way if the plant is the herb hoped for.
func (j *judge) nextLooks() ([]Look, []Later) {
	danger := make([]int, len(j.r.Matrix.Knowledge.Taxa))
	for _, o := range j.v.InTheWay {
		danger[j.r.Matrix.TaxonIndex(o.Taxon.ID)] = o.Needed - len(o.Groups)
	}
	hoped := Weights{Taxa: make([]float64, len(danger))}
	hoped.Taxa[j.herb] = 1
	bits := map[string]float64{}
	for _, l := range j.s.looks(j.w, make([]int, len(danger))) {
		bits[l.Trait.ID] = l.Bits
	}
	looks := j.s.looks(hoped, danger)
	waited := j.waitedFor()
	var first, rest []Look
	for _, l := range looks {
		l.Bits = bits[l.Trait.ID]
		l.RulesOut = j.ruledOutByTypical(l)
		if i := slices.Index(waited, l.Trait.ID); i >= 0 {
			waited = slices.Delete(waited, i, i+1)
			first = append(first, l)
		} else if len(l.RulesOut) > 0 {
			rest = append(rest, l)
		}
	}
	for _, id := range waited {
		if t, ok := j.vocabulary().Trait(id); ok {
			first = append(first, Look{Trait: t, Bits: bits[id]})
		}
	}
	return append(first, rest...), j.later()
}

// waitedFor lists the traits that checks and rules still ask for.
func (j *judge) waitedFor() []string {
	var out []string
	add := func(id string) {
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	for _, b := range j.v.Because {
		if b.Verdict == NotYet && b.Trait != "" {
			add(b.Trait)
		}
	}
	for _, res := range j.v.Rules {
		if res.Outcome == graph.Waits && (res.Rule.Then == graph.Leave || res.Rule.Then == graph.Must) {
			for _, w := range res.WaitsFor {
				add(w)
			}
		}
	}
	return out
}

// ruledOutByTypical lists the plants in the way that a look would exclude if it
// shows what the herb usually shows.
func (j *judge) ruledOutByTypical(l Look) []string {
	trait := j.vocabulary().TraitIndex(l.Trait.ID)
	reading, ok := Typical(j.r.Matrix, j.herb, trait, j.v.Stage)
	if !ok {
		return nil
	}
	var out []string
	for _, o := range j.v.InTheWay {
		i := j.r.Matrix.TaxonIndex(o.Taxon.ID)
		if !slices.Contains(o.Groups, l.Trait.EvidenceGroup()) && excludes(l.Trait, &reading, possibleAt(j.r.Matrix, i, trait, j.c.stages, "")) {
			out = append(out, o.Taxon.ID)
		}
	}
	return out
}

// later finds, for the plants in the way that nothing seen at this stage parts
// from the herb, the stages at which something does.
func (j *judge) later() []Later {
	var out []Later
	for _, o := range j.v.InTheWay {
		i := j.r.Matrix.TaxonIndex(o.Taxon.ID)
		if len(ConstantGroups(j.r.Matrix, j.herb, i, j.v.Stage)) >= o.Needed {
			continue
		}
		for _, stage := range graph.Stages() {
			if stage == j.v.Stage {
				continue
			}
			for _, d := range Apart(j.r.Matrix, j.herb, i, stage) {
				if d.How == ConstantDifference {
					out = addLater(out, d.Trait, stage, o.Taxon.ID)
				}
			}
		}
	}
	return out
}

func addLater(list []Later, t *graph.Trait, stage graph.Stage, taxon string) []Later {
	for i := range list {
		if list[i].Trait == t {
			list[i].Stages |= graph.StagesOf(stage)
			if !slices.Contains(list[i].Parts, taxon) {
				list[i].Parts = append(list[i].Parts, taxon)
			}
			return list
		}
	}
	return append(list, Later{Trait: t, Stages: graph.StagesOf(stage), Parts: []string{taxon}})
}
