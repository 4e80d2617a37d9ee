package graph

// Frequency is how often plants of a taxon show a value, as a flora words it.
type Frequency uint8

// The frequencies, from the most to the least often. Never says that the value
// was looked for and does not occur.
const (
	Always Frequency = iota + 1
	Usually
	Sometimes
	Rarely
	Never
)

var frequencyNames = [...]string{"", "always", "usually", "sometimes", "rarely", "never"}

// String gives the word that files use, "usually".
func (f Frequency) String() string {
	if int(f) < len(frequencyNames) {
		return frequencyNames[f]
	}
	return "no frequency"
}

// FrequencyNamed finds the frequency of that name.
func FrequencyNamed(name string) (Frequency, bool) {
	for i, n := range frequencyNames {
		if i > 0 && n == name {
			return Frequency(i), true
		}
	}
	return 0, false
}

// FrequencyNames lists the five words.
func FrequencyNames() []string { return append([]string(nil), frequencyNames[1:]...) }

// Statement says that plants of a taxon show one value of a trait this often.
// State is set for a trait with states, Range for measures (in the unit of the
// trait), counts and months. An empty Stages means at every stage, an empty
// Position anywhere on the plant.
type Statement struct {
	Trait     string    `graph:"trait,trait"`
	State     string    `graph:"state"`
	Range     Range     `graph:"range"`
	Frequency Frequency `graph:"frequency"`
	Stages    StageSet  `graph:"stage"`
	Position  string    `graph:"position"`
	Sources   []string  `graph:"source,source"`
	Note      string    `graph:"note"`
}

// At tells whether the statement holds at the stage.
func (s *Statement) At(stage Stage) bool { return s.Stages == 0 || s.Stages.Has(stage) }

// Value gives the value as files write it: a state's name, or a range.
func (s *Statement) Value() string {
	if s.State != "" {
		return s.State
	}
	return s.Range.String()
}
