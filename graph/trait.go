package graph

// Kind is what sort of value a trait takes.
type Kind uint8

// The kinds of trait.
const (
	StateKind Kind = iota + 1
	MeasureKind
	CountKind
	MonthsKind
)

var kindNames = [...]string{"", "state", "measure", "count", "months"}

// String gives the word that files use, "measure".
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "no kind"
}

// KindNamed finds the kind of that name.
func KindNamed(name string) (Kind, bool) {
	for i, n := range kindNames {
		if i > 0 && n == name {
			return Kind(i), true
		}
	}
	return 0, false
}

// KindNames lists the four words.
func KindNames() []string { return append([]string(nil), kindNames[1:]...) }

// Trait is a property of an organ, "leaf.arrangement".
type Trait struct {
	ID       string   `graph:"trait_id,key"`
	Kind     Kind     `graph:"kind"`
	Unit     string   `graph:"unit"` // cm or mm, for a measure
	Organ    string   `graph:"organ"`
	Label    string   `graph:"label"` // plain words for it, used in sentences
	Words    []string `graph:"word"`
	Question string   `graph:"question"`
	Means    string   `graph:"means"`
	SeeAt    StageSet `graph:"see_at"` // the stages at which it can be seen
	Effort   string   `graph:"effort"`
	Caution  string   `graph:"caution"` // where the looking itself can hurt
	Group    string   `graph:"group"`   // evidence group
	// Excludes is whether a reading of the trait can rule a plant out; habitat,
	// life cycle and months never do.
	Excludes bool   `graph:"excludes"`
	Because  string `graph:"because"` // why not, where it does not
	Many     bool   `graph:"many"`    // several states can hold of one plant at once
	// ErrorRate is the chance that an observer reads the trait wrongly, and
	// ErrorFrom where that number comes from.
	ErrorRate float64 `graph:"error_rate"`
	ErrorFrom string  `graph:"error_from"`
	States    []State `graph:"has_state"`
}

// State is a value that a trait can take.
type State struct {
	ID    string   `graph:"state_id,key"`
	Means string   `graph:"means"`
	Words []string `graph:"word"` // everyday synonyms
	Near  []string `graph:"near"` // the states it is taken for, both ways once indexed
}

// StateIndex finds the state's place in States, -1 if the trait has no such.
func (t *Trait) StateIndex(id string) int {
	for i := range t.States {
		if t.States[i].ID == id {
			return i
		}
	}
	return -1
}

// StateIDs lists the states.
func (t *Trait) StateIDs() []string {
	out := make([]string, len(t.States))
	for i := range t.States {
		out[i] = t.States[i].ID
	}
	return out
}

// Visible tells whether the trait can be seen at the stage; at a stage that is
// not told every trait may be.
func (t *Trait) Visible(stage Stage) bool {
	return stage == AnyStage || t.SeeAt == 0 || t.SeeAt.Has(stage)
}

// EvidenceGroup is the group that a reading of the trait counts in. All measures
// together are one.
func (t *Trait) EvidenceGroup() string {
	if t.Kind == MeasureKind {
		return "measures"
	}
	return t.Group
}

// MaxStates is how many states a trait can have: a set of them is held in the
// bits of one machine word.
const MaxStates = 64
