package graphtest

import (
	"fmt"
	"strings"

	"telltale/graph"
)

// Piece is one thing that a small graph is made of.
type Piece func(*graph.Knowledge)

// memory is where every made fact comes from.
var memory = []string{graph.Memory}

// Knowledge puts the pieces together, with all stages, the four positions and
// the six efforts of a look, and makes them ready to be asked. A trait comes
// before what speaks of it.
func Knowledge(pieces ...Piece) *graph.Knowledge {
	k := &graph.Knowledge{Vocabulary: &graph.Vocabulary{}}
	v := k.Vocabulary
	for i, s := range graph.Stages() {
		v.Stages = append(v.Stages, graph.StageDef{Stage: s, BBCH: []int{i}, Means: "how a plant looks at the stage " + s.Words()})
	}
	for _, p := range []string{"upper", "lower", "basal", "young"} {
		v.Positions = append(v.Positions, graph.Term{Name: p, Means: "the " + p + " leaves"})
	}
	for i, e := range []string{"eye", "touch", "smell", "lens", "cut", "dig"} {
		v.Efforts = append(v.Efforts, graph.Effort{Name: e, Cost: float64(i + 1), Means: "a look by " + e, From: graph.Memory})
	}
	for _, p := range pieces {
		p(k)
	}
	k.Sort()
	return k
}

// Seen is an observation at a stage, "" where it is not told, of readings as the
// command line takes them. "month=5" and "part=root" are its circumstances.
func Seen(k *graph.Knowledge, stage string, readings ...string) graph.Observation {
	obs := graph.Observation{Stage: stageNamed(stage)}
	for _, text := range readings {
		switch name, value, _ := strings.Cut(text, "="); name {
		case "month":
			month, err := graph.ParseMonth(value)
			check(err)
			obs.Month = month
		case "part":
			obs.Part = value
		default:
			r, err := graph.ParseReading(k.Vocabulary, text)
			check(err)
			obs.Readings = append(obs.Readings, r)
		}
	}
	return obs
}

func stageNamed(name string) graph.Stage {
	s, ok := graph.StageNamed(name)
	if !ok {
		panic(fmt.Sprintf("graphtest: there is no stage %q", name))
	}
	return s
}

func stagesNamed(names []string) graph.StageSet {
	var set graph.StageSet
	for _, n := range names {
		set |= graph.StagesOf(stageNamed(n))
	}
	return set
}

func check(err error) {
	if err != nil {
		panic("graphtest: " + err.Error())
	}
}

func unread(what, line string) {
	panic(fmt.Sprintf("graphtest: %q is no line of a %s", line, what))
}
