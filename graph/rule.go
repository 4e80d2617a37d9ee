package graph

// What follows from a rule when it fires.
const (
	Leave = "leave" // do not gather
	Must  = "must"  // gather only if it holds
	ItIs  = "it-is" // a rule of thumb: what satisfies this is the plant
	Note  = "note"  // say this
)

// Consequences lists what can follow from a rule.
func Consequences() []string { return []string{Leave, Must, ItIs, Note} }

// Rule is a rule as its author wrote it. When is a CEL expression; For is the
// taxon it is about, "" for any plant. Package rules makes it work.
type Rule struct {
	ID      string     `graph:"rule_id,key"`
	For     string     `graph:"for_taxon,taxon"`
	Then    string     `graph:"then"`
	When    string     `graph:"when"`
	Because string     `graph:"because"`
	Sources []string   `graph:"source,source"`
	Tests   []RuleTest `graph:"test"`
	Place   Place      `graph:"place"`      // of the rule
	WhenAt  Place      `graph:"when_place"` // of the first character of When
	Indent  int        `graph:"indent"`     // columns before each further line of When
}

// The outcomes of a rule.
const (
	Fires = "fires"
	Quiet = "quiet"
	Waits = "waits"
)

// Outcomes lists how a rule can come out.
func Outcomes() []string { return []string{Fires, Quiet, Waits} }

// RuleTest is what an author expects of a rule.
type RuleTest struct {
	Given  Observation `graph:"given"`
	Hoped  string      `graph:"hoped_for,taxon"` // the taxon that the gatherer hopes for, "" for the rule's own
	Expect string      `graph:"expect"`          // fires, quiet or waits
	For    []string    `graph:"waits_for"`       // the traits waited for, where that is told
	Place  Place       `graph:"place"`
}
