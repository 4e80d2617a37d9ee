package graph

import "strings"

// Stage is how far a plant has grown. Each stage stands for principal growth
// stages of the BBCH scale (Meier 2001, BBCH Monograph), which the vocabulary
// lists.
type Stage uint8

// The stages of growth. AnyStage is the zero value: not told, or at every stage.
const (
	AnyStage Stage = iota
	Seedling
	Rosette
	LeafyShoot
	Flowering
	Fruiting
	Dormant
)

var stageNames = [...]string{"any", "seedling", "rosette", "leafy_shoot", "flowering", "fruiting", "dormant"}

// Stages lists the six stages in the order a plant goes through them.
func Stages() []Stage {
	return []Stage{Seedling, Rosette, LeafyShoot, Flowering, Fruiting, Dormant}
}

// String gives the stage's name as files and flags write it, "leafy_shoot".
func (s Stage) String() string {
	if int(s) < len(stageNames) {
		return stageNames[s]
	}
	return "no stage"
}

// Words gives the stage as a sentence has it, "leafy shoot".
func (s Stage) Words() string { return strings.ReplaceAll(s.String(), "_", " ") }

// StageNamed finds the stage of that name; "any" and "" are AnyStage.
func StageNamed(name string) (Stage, bool) {
	if name == "" {
		return AnyStage, true
	}
	key := wordKey(name)
	for i, n := range stageNames {
		if wordKey(n) == key {
			return Stage(i), true
		}
	}
	return AnyStage, false
}

// StageNames lists the names of the six stages.
func StageNames() []string { return append([]string(nil), stageNames[1:]...) }

// StageSet is a set of stages, one bit each. The empty set in a Statement means
// at every stage.
type StageSet uint8

// StagesOf makes a set of the stages given; AnyStage adds none.
func StagesOf(stages ...Stage) StageSet {
	var set StageSet
	for _, s := range stages {
		if s != AnyStage {
			set |= 1 << (s - 1)
		}
	}
	return set
}

// AllStages is the set of all six.
func AllStages() StageSet { return StagesOf(Stages()...) }

// Has tells whether s is in the set.
func (set StageSet) Has(s Stage) bool { return s != AnyStage && set&(1<<(s-1)) != 0 }

// List gives the stages of the set in the order of growth.
func (set StageSet) List() []Stage {
	var out []Stage
	for _, s := range Stages() {
		if set.Has(s) {
			out = append(out, s)
		}
	}
	return out
}

// Names gives the names of the stages in the set.
func (set StageSet) Names() []string {
	var out []string
	for _, s := range set.List() {
		out = append(out, s.String())
	}
	return out
}

// Only gives the one stage of a set of one, and AnyStage otherwise.
func (set StageSet) Only() Stage {
	if list := set.List(); len(list) == 1 {
		return list[0]
	}
	return AnyStage
}
