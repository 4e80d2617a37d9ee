package reason

import (
	"strings"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/matrix"
)

// surface is the trait that the tables below are about.
var surface = graphtest.States("stem.surface", "hairless bristly woolly")

// canShow compiles one plant and says what it can show of the first trait at a
// stage, or "any", and a position: "hairless bristly", or "anything".
func canShow(k *graph.Knowledge, stage, position string) string {
	stages := graph.AllStages()
	if s, _ := graph.StageNamed(stage); s != graph.AnyStage {
		stages = graph.StagesOf(s)
	}
	t := k.Vocabulary.Traits[0]
	p := possibleAt(matrix.Compile(k), 0, 0, stages, position)
	if p.Anything || p.States == allStates(t) {
		return "anything"
	}
	var out []string
	for i := range t.States {
		if p.States&(1<<i) != 0 {
			out = append(out, t.States[i].ID)
		}
	}
	return strings.Join(out, " ")
}

// DESIGN section 3, Possible.
func TestWhatFrequenciesLeavePossible(t *testing.T) {
	tests := []struct {
		name  string
		lines string
		want  string
	}{
		{"a trait nobody has scored leaves everything", "", "anything"},
		{"a lone usually leaves everything: the unblotched hemlock kills", "usually hairless", "anything"},
		{"a lone sometimes leaves everything", "sometimes hairless", "anything"},
		{"a lone rarely leaves everything", "rarely hairless", "anything"},
		{"always is all there is", "always hairless", "hairless"},
		{"always, and by another source rarely something else", "always hairless, rarely bristly", "hairless bristly"},
		{"always, by two sources of two states", "always hairless, always bristly", "hairless bristly"},
		{"two states of which one is usual are all there are", "usually hairless, rarely bristly", "hairless bristly"},
		{"two usual states are all there are", "usually hairless, usually bristly", "hairless bristly"},
		{"two states of which neither is usual leave the third", "sometimes hairless, rarely bristly", "anything"},
		{"one state in two frequencies is still one state", "usually hairless, sometimes hairless", "anything"},
		{"never takes its own state away and no other", "never hairless", "bristly woolly"},
		{"never beside a lone usually", "usually hairless, never bristly", "hairless woolly"},
		{"never beside a lone usually is no second state given", "usually hairless, never woolly", "hairless bristly"},
		{"never of all but one", "never bristly, never woolly", "hairless"},
		{"never of every state: the sources disagree, and either allows something", "never hairless, never bristly, never woolly", "anything"},
		{"never beside states that are all there are", "usually hairless, rarely bristly, never woolly", "hairless bristly"},
		{"sources that disagree: possible if either allows it", "never hairless, rarely hairless", "anything"},
		{"sources that disagree on the state that always shows", "always hairless, never hairless", "hairless"},
		{"sources that disagree on one of those that are all there are", "usually hairless, sometimes bristly, never bristly", "hairless bristly"},
		{"overruled: always is not all there is", "always hairless, is not exhaustive", "anything"},
		{"overruled: named variation is not all there is", "usually hairless, rarely bristly, is not exhaustive", "anything"},
		{"overruled: what never shows stays out all the same", "always hairless, never woolly, is not exhaustive", "hairless bristly"},
		{"overruled: a lone usually is all there is", "usually hairless, is exhaustive", "hairless"},
		{"overruled: sometimes and rarely are all there are", "sometimes hairless, rarely bristly, is exhaustive", "hairless bristly"},
		{"overruled where no state is given: a plant shows something", "never hairless, is exhaustive", "bristly woolly"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var lines []string
			for _, l := range strings.Split(test.lines, ", ") {
				if l != "" {
					lines = append(lines, "stem.surface "+l)
				}
			}
			k := graphtest.Knowledge(surface, graphtest.Plant("a", lines...))
			if got := canShow(k, "rosette", ""); got != test.want {
				t.Errorf("%q leaves %q, want %q", test.lines, got, test.want)
			}
		})
	}
}

// The same by stage of growth and position on the plant.
func TestWhatIsPossibleHereAndNow(t *testing.T) {
	tests := []struct {
		name            string
		lines           []string
		stage, position string
		want            string
	}{
		{"a stage nobody has scored leaves everything", []string{"always hairless at flowering"}, "rosette", "", "anything"},
		{"scored of the rosette says nothing of the leafy shoot", []string{"always hairless at rosette"}, "leafy_shoot", "", "anything"},
		{"scored of every stage holds at each", []string{"always hairless"}, "dormant", "", "hairless"},
		{"a stage's own statement adds to what holds at every stage", []string{"always hairless", "sometimes bristly at rosette"}, "rosette", "", "hairless bristly"},
		{"and does not at another stage", []string{"always hairless", "sometimes bristly at rosette"}, "flowering", "", "hairless"},
		{"a lone usually at every stage and a second state at one: all there are there", []string{"usually hairless", "rarely bristly at rosette"}, "rosette", "", "hairless bristly"},
		{"and everything elsewhere", []string{"usually hairless", "rarely bristly at rosette"}, "flowering", "", "anything"},
		{"stage not told: what any stage allows", []string{"always hairless at flowering", "always bristly at rosette"}, "any", "", "anything"},
		{"stage not told, every stage scored", []string{"always hairless at seedling rosette leafy_shoot", "always bristly at flowering fruiting dormant"}, "any", "", "hairless bristly"},

		{"upper leaves by their own statements", []string{"always hairless on upper", "always bristly on lower"}, "flowering", "upper", "hairless"},
		{"lower leaves by theirs", []string{"always hairless on upper", "always bristly on lower"}, "flowering", "lower", "bristly"},
		{"where on the plant is not told: what either allows", []string{"always hairless on upper", "always bristly on lower"}, "flowering", "", "hairless bristly"},
		{"a position nobody has scored leaves everything", []string{"always hairless on upper"}, "flowering", "lower", "anything"},
		{"only upper leaves scored, position not told", []string{"always hairless on upper"}, "flowering", "", "anything"},
		{"only lower leaves scored, position not told", []string{"always hairless on lower"}, "flowering", "", "anything"},
		{"only basal leaves of a shoot scored, position not told", []string{"always hairless on basal"}, "leafy_shoot", "", "anything"},
		{"a rosette has no other leaves than basal ones", []string{"always hairless on basal"}, "rosette", "", "hairless"},
		{"nor has a seedling", []string{"always hairless on basal"}, "seedling", "", "hairless"},
		{"upper and basal are all leaves there are", []string{"always hairless on upper", "always bristly on basal"}, "flowering", "", "hairless bristly"},
		{"a lone usually at one of two positions leaves everything there", []string{"usually hairless on upper", "always bristly on lower"}, "flowering", "", "anything"},
		{"one usually on each of two positions is a lone one on each", []string{"usually hairless on upper", "usually bristly on lower"}, "flowering", "", "anything"},
		{"the whole plant's always holds on the upper leaves", []string{"always hairless"}, "flowering", "upper", "hairless"},
		{"the upper leaves' own adds to the whole plant's", []string{"always hairless", "rarely woolly on upper"}, "flowering", "upper", "hairless woolly"},
		{"and does not to the lower leaves'", []string{"always hairless", "rarely woolly on upper"}, "flowering", "lower", "hairless"},
		{"a lone usually of the whole plant leaves everything on the other leaves", []string{"usually hairless", "rarely woolly on upper"}, "flowering", "lower", "anything"},
		{"and so where the position is not told", []string{"usually hairless", "rarely woolly on upper"}, "flowering", "", "anything"},
		{"position not told: the whole plant's and the upper leaves'", []string{"always hairless", "rarely woolly on upper"}, "flowering", "", "hairless woolly"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var lines []string
			for _, l := range test.lines {
				lines = append(lines, "stem.surface "+l)
			}
			k := graphtest.Knowledge(surface, graphtest.Plant("a", lines...))
			if got := canShow(k, test.stage, test.position); got != test.want {
				t.Errorf("%v leaves %q at %s %s, want %q", test.lines, got, test.stage, test.position, test.want)
			}
		})
	}
}
