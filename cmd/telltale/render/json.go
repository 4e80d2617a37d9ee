package render

import (
	"encoding/json"
	"io"

	"telltale/graph"
	"telltale/rules"
	"telltale/rules/reason"
)

// JSON writes a value as indented JSON.
func JSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// WeighDoc is what `weigh --format json` writes. Weights and Outside sum to 1
// over all candidates; Limit cuts the list, not the sum.
type WeighDoc struct {
	Stage       string         `json:"stage"`
	Readings    []string       `json:"readings"` // as they were understood
	Candidates  []CandidateDoc `json:"candidates"`
	Outside     float64        `json:"outside"`
	Known       bool           `json:"known"` // some open candidate weighs no less than outside
	PoisonsOpen []string       `json:"poisons_open"`
	Next        []LookDoc      `json:"next"`
	Rules       []RuleDoc      `json:"rules"`
	OwnData     []OwnDataDoc   `json:"own_data"` // what own data changed or added of what the answer rests on
	Cautions    []string       `json:"cautions"`
}

// CandidateDoc is one taxon that the plant could be.
type CandidateDoc struct {
	Taxon       string        `json:"taxon"`
	Name        string        `json:"name"`
	CommonNames []string      `json:"common_names"`
	Weight      float64       `json:"weight"`
	Standing    string        `json:"standing"` // open, contested or ruled_out
	Severity    string        `json:"severity"` // deadly, serious, mild or none_known
	Supports    []EvidenceDoc `json:"supports"`
	Against     []EvidenceDoc `json:"against"`
	Excludes    []EvidenceDoc `json:"excludes"`
}

// EvidenceDoc is one reading beside what is stated. FromMemory says that no
// publication stands behind what is stated.
type EvidenceDoc struct {
	Trait      string   `json:"trait"`
	Read       string   `json:"read"`
	Stated     string   `json:"stated"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
	Ratio      float64  `json:"ratio"` // how much likelier than on a plant outside the graph
}

// LookDoc is one trait to look at.
type LookDoc struct {
	Trait    string   `json:"trait"`
	Question string   `json:"question"`
	Effort   string   `json:"effort"`
	Caution  string   `json:"caution,omitempty"`
	RulesOut []string `json:"rules_out"`
	Bits     float64  `json:"bits"`
}

// RuleDoc is how one rule came out.
type RuleDoc struct {
	ID         string   `json:"id"`
	For        string   `json:"for,omitempty"`
	Then       string   `json:"then"`
	Outcome    string   `json:"outcome"` // fires, quiet or waits
	WaitsFor   []string `json:"waits_for"`
	Residual   string   `json:"residual"`
	Because    string   `json:"because"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

// VerdictDoc is what `may-gather --format json` writes.
type VerdictDoc struct {
	Taxon       string       `json:"taxon"`
	Part        string       `json:"part"`
	Stage       string       `json:"stage"`
	Readings    []string     `json:"readings"` // as they were understood
	Verdict     string       `json:"verdict"`  // leave, not-yet or gather
	Because     []string     `json:"because"`
	Reasons     []ReasonDoc  `json:"reasons"` // the same, with what each rests on
	PoisonsOpen []string     `json:"poisons_open"`
	InTheWay    []string     `json:"in_the_way"` // all plants not ruled out as far as it takes, harmless ones too
	Look        []LookDoc    `json:"look"`
	Later       []LaterDoc   `json:"later"`
	Rules       []RuleDoc    `json:"rules"`
	OwnData     []OwnDataDoc `json:"own_data"` // what own data changed or added of what the verdict rests on
	Cautions    []string     `json:"cautions"`
}

// ReasonDoc is one thing a verdict rests on. Verdict is what it alone would give.
type ReasonDoc struct {
	Text       string   `json:"text"`
	Verdict    string   `json:"verdict"`
	Trait      string   `json:"trait,omitempty"`
	Sources    []string `json:"sources"`
	FromMemory bool     `json:"from_memory"`
}

// LaterDoc is a trait that parts plants at other stages than this.
type LaterDoc struct {
	Trait  string   `json:"trait"`
	Stages []string `json:"stages"`
	Parts  []string `json:"parts"`
}

// WeighJSON puts an answer into its document; limit cuts the candidates where it
// is above 0.
func WeighJSON(k *graph.Knowledge, obs *graph.Observation, a *reason.Answer, limit int) WeighDoc {
	doc := WeighDoc{Stage: stageName(a.Stage), Readings: notations(k, obs), Candidates: []CandidateDoc{}, Outside: a.Outside, Known: a.Known(), PoisonsOpen: never(a.PoisonsOpen),
		Next: lookDocs(a.Next), Rules: ruleDocs(a.Rules), Cautions: WeighCautions(k)}
	shown := a.Candidates
	if limit > 0 {
		shown = shown[:min(limit, len(shown))]
	}
	doc.OwnData = ownDataDocs(ownInWeigh(k, obs, a, shown))
	for _, c := range shown {
		doc.Candidates = append(doc.Candidates, CandidateDoc{
			Taxon: c.Taxon.ID, Name: c.Taxon.Name, CommonNames: never(c.Taxon.Common), Weight: c.Weight, Standing: c.Standing.String(),
			Severity: c.Taxon.Severity().String(), Supports: evidenceDocs(k, c.Supports), Against: evidenceDocs(k, c.Against), Excludes: evidenceDocs(k, c.Excludes),
		})
	}
	return doc
}

// VerdictJSON puts a verdict into its document.
func VerdictJSON(k *graph.Knowledge, obs *graph.Observation, v *reason.Verdict) VerdictDoc {
	doc := VerdictDoc{Taxon: v.Taxon.ID, Part: v.Part, Stage: stageName(v.Stage), Verdict: v.Verdict, Readings: notations(k, obs), Because: []string{}, Reasons: []ReasonDoc{},
		PoisonsOpen: never(v.PoisonsOpen), InTheWay: []string{}, Look: lookDocs(v.Look), Later: []LaterDoc{}, Rules: ruleDocs(v.Rules), OwnData: ownDataDocs(ownInVerdict(k, obs, v)), Cautions: VerdictCautions(v)}
	for _, b := range v.Because {
		doc.Because = append(doc.Because, withMemory(b.Text, b.Sources))
		doc.Reasons = append(doc.Reasons, ReasonDoc{Text: b.Text, Verdict: b.Verdict, Trait: b.Trait, Sources: never(b.Sources), FromMemory: fromMemory(b.Sources)})
	}
	for _, o := range v.InTheWay {
		doc.InTheWay = append(doc.InTheWay, o.Taxon.ID)
	}
	for _, l := range v.Later {
		doc.Later = append(doc.Later, LaterDoc{Trait: l.Trait.ID, Stages: l.Stages.Names(), Parts: never(l.Parts)})
	}
	return doc
}

// notations writes readings the way the command line takes them.
func notations(k *graph.Knowledge, obs *graph.Observation) []string {
	out := []string{}
	for i := range obs.Readings {
		out = append(out, obs.Readings[i].Notation(k.Vocabulary))
	}
	return out
}

func stageName(s graph.Stage) string {
	if s == graph.AnyStage {
		return ""
	}
	return s.String()
}

// never makes an empty list of a nil one, which JSON would call null.
func never(x []string) []string {
	if x == nil {
		return []string{}
	}
	return x
}

func evidenceDocs(k *graph.Knowledge, all []reason.Evidence) []EvidenceDoc {
	out := []EvidenceDoc{}
	for _, e := range all {
		sources := sourcesOf(e.Stated)
		out = append(out, EvidenceDoc{Trait: e.Trait.ID, Read: e.Reading.Value(k.Vocabulary), Stated: StatedWords(e.Trait, e.Stated),
			Sources: never(sources), FromMemory: fromMemory(sources), Ratio: e.Ratio})
	}
	return out
}

func lookDocs(all []reason.Look) []LookDoc {
	out := []LookDoc{}
	for _, l := range all {
		out = append(out, LookDoc{Trait: l.Trait.ID, Question: l.Trait.Question, Effort: l.Trait.Effort, Caution: l.Trait.Caution, RulesOut: never(l.RulesOut), Bits: l.Bits})
	}
	return out
}

func ruleDocs(all []rules.Result) []RuleDoc {
	out := []RuleDoc{}
	for _, r := range all {
		out = append(out, RuleDoc{ID: r.Rule.ID, For: r.Rule.For, Then: r.Rule.Then, Outcome: r.Outcome, WaitsFor: never(r.WaitsFor), Residual: r.Residual,
			Because: r.Rule.Because, Sources: never(r.Rule.Sources), FromMemory: fromMemory(r.Rule.Sources)})
	}
	return out
}
