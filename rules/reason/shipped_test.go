package reason

import (
	"context"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"telltale/graph"
	"telltale/graph/graphtest"
	"telltale/graph/store"
)

// shipped is a reasoner on the knowledge that comes with the program, read from
// its files.
var shipped = sync.OnceValues(func() (*Reasoner, error) {
	k, err := store.Build(context.Background(), os.DirFS("../../data"))
	if err != nil {
		return nil, err
	}
	return New(k)
})

func reasonerShipped(t testing.TB) *Reasoner {
	t.Helper()
	r, err := shipped()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// typicalPlant is the observation of a typical plant, read in full, with some
// readings put in the place of those of the same traits; "-trait" takes one away.
func typicalPlant(t testing.TB, r *Reasoner, taxon, stage string, readings ...string) graph.Observation {
	t.Helper()
	i := r.Matrix.TaxonIndex(taxon)
	s, ok := graph.StageNamed(stage)
	if i < 0 || !ok {
		t.Fatalf("there is no %s at %s", taxon, stage)
	}
	obs := TypicalObservation(r.Matrix, i, s)
	for _, text := range readings {
		name := strings.TrimPrefix(text, "-")
		var added []graph.Reading
		if name == text {
			added = graphtest.Seen(r.Matrix.Knowledge, stage, text).Readings
			name = added[0].Trait
		}
		obs.Readings = slices.DeleteFunc(obs.Readings, func(x graph.Reading) bool { return x.Trait == name })
		obs.Readings = append(obs.Readings, added...)
	}
	return obs
}

func askShipped(t testing.TB, herb, part string, obs graph.Observation) *Verdict {
	t.Helper()
	r := reasonerShipped(t)
	taxon, ok := r.Matrix.Knowledge.Taxon(herb)
	if !ok {
		t.Fatalf("there is no %s", herb)
	}
	obs.Part = part
	v, err := r.MayGather(taxon, obs)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A typical plant of the herb, read in full, may be gathered: what rules every
// poison out can be seen. Wild carrot roots are dug from rosettes, where nothing but
// the hairs parts it from four deadly umbellifers: they are never cleared.
func TestATypicalHerbMayBeGathered(t *testing.T) {
	for _, herb := range []struct{ taxon, part, stage string }{
		{"daucus-carota", "seed", "fruiting"},
		{"allium-ursinum", "leaf", "leafy_shoot"}, {"allium-ursinum", "leaf", "flowering"},
	} {
		t.Run(herb.taxon+" "+herb.part, func(t *testing.T) {
			obs := typicalPlant(t, reasonerShipped(t), herb.taxon, herb.stage)
			if v := askShipped(t, herb.taxon, herb.part, obs); v.Verdict != Gather {
				t.Errorf("%s:\n%s", v.Verdict, against(v))
			}
		})
	}
}

// The confusions that kill, as somebody hoping for the herb would read them: never
// gather, and the plant it really is stands among what is still open.
func TestTheConfusionsThatKill(t *testing.T) {
	r := reasonerShipped(t)
	hairless := []string{"plant.clothing_hairs=hairless", "leaf.upper_surface=hairless", "leaf.lower_surface=hairless", "leaf.stalk_surface=hairless"}
	tests := []struct {
		name              string
		herb, part, stage string
		plant             string // what is in the hand
		readings          []string
		open              string // what has to be named as open
	}{
		{"a hemlock rosette without blotches, dug as wild carrot", "daucus-carota", "root", "rosette", "conium-maculatum", []string{"stem.markings=none", "leaf.stalk_colour=green"}, "conium-maculatum"},
		{"the same, and it smells of carrot to somebody", "daucus-carota", "root", "rosette", "conium-maculatum", []string{"stem.markings=none", "leaf.stalk_colour=green", "plant.odour_crushed=carrot"}, "conium-maculatum"},
		{"the same, and its hairs are only hoped for", "daucus-carota", "root", "rosette", "conium-maculatum", []string{"stem.markings=none", "plant.odour_crushed=carrot", "plant.clothing_hairs=hairy?", "leaf.lower_surface=softly_hairy?"}, "conium-maculatum"},
		{"hemlock in fruit without blotches, for wild carrot seed", "daucus-carota", "seed", "fruiting", "conium-maculatum", []string{"stem.markings=none"}, "conium-maculatum"},
		{"a hairless wild carrot", "daucus-carota", "root", "rosette", "daucus-carota", hairless, "conium-maculatum"},
		{"a wild carrot whose hairs nobody looked at", "daucus-carota", "root", "rosette", "daucus-carota", []string{"-plant.clothing_hairs", "-leaf.upper_surface", "-leaf.lower_surface", "-leaf.stalk_surface", "-stem.surface", "-stem.hair_type", "-stem.hair_position"}, "conium-maculatum"},
		{"a first-year hemlock rosette, for cow parsley", "anthriscus-sylvestris", "leaf", "rosette", "conium-maculatum", []string{"stem.markings=none"}, "conium-maculatum"},
		{"a first-year rosette of hemlock water-dropwort, for parsnip", "pastinaca-sativa", "root", "rosette", "oenanthe-crocata", nil, "oenanthe-crocata"},
		{"a first-year rosette of water hemlock, for wild carrot", "daucus-carota", "root", "rosette", "cicuta-maculata", nil, "cicuta-maculata"},
		{"a garlic-smelling hand over lily of the valley", "allium-ursinum", "leaf", "leafy_shoot", "convallaria-majalis", []string{"plant.odour_crushed=onion_garlic"}, "convallaria-majalis"},
		{"a garlic-smelling hand over autumn crocus", "allium-ursinum", "leaf", "leafy_shoot", "colchicum-autumnale", []string{"plant.odour_crushed=onion_garlic"}, "colchicum-autumnale"},
		{"a garlic-smelling hand over lords-and-ladies", "allium-ursinum", "leaf", "leafy_shoot", "arum-maculatum", []string{"plant.odour_crushed=onion_garlic"}, "arum-maculatum"},
		{"a single shoot of lily of the valley, its sheath hidden", "allium-ursinum", "leaf", "leafy_shoot", "convallaria-majalis", []string{"plant.odour_crushed=onion_garlic", "-leaf.sheath", "-leaf.rising"}, "convallaria-majalis"},
		{"false hellebore dug as ramps by a garlic-smelling hand", "allium-tricoccum", "leaf", "leafy_shoot", "veratrum-viride", []string{"plant.odour_crushed=onion_garlic"}, "veratrum-viride"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			v := askShipped(t, test.herb, test.part, typicalPlant(t, r, test.plant, test.stage, test.readings...))
			if v.Verdict == Gather {
				t.Errorf("gather, with a slack of %d", v.Slack)
			}
			if !slices.Contains(v.PoisonsOpen, test.open) {
				t.Errorf("%s, and %s is not among what is open: %v", v.Verdict, test.open, v.PoisonsOpen)
			}
		})
	}
}

// One mistake never clears a poison: whichever kind of evidence is read on it as
// the herb has it, all the rest as the poison has it, nobody gathers it.
func TestOneMistakeNeverClearsAPoison(t *testing.T) {
	r := reasonerShipped(t)
	for _, test := range []struct{ poison, herb, part, stage string }{
		{"conium-maculatum", "daucus-carota", "root", "rosette"},
		{"convallaria-majalis", "allium-ursinum", "leaf", "leafy_shoot"},
		{"colchicum-autumnale", "allium-ursinum", "leaf", "leafy_shoot"},
	} {
		t.Run(test.poison+" as "+test.herb, func(t *testing.T) {
			obs := typicalPlant(t, r, test.poison, test.stage)
			groups := map[string]bool{}
			for _, x := range obs.Readings {
				trait, _ := r.Matrix.Knowledge.Vocabulary.Trait(x.Trait)
				groups[trait.EvidenceGroup()] = true
			}
			for _, group := range sortedKeys(groups) {
				v := askShipped(t, test.herb, test.part, mistakenIn(r, obs, group, test.herb))
				if v.Verdict == Gather || !slices.Contains(v.PoisonsOpen, test.poison) {
					t.Errorf("mistaken in %s: %s, open are %v", group, v.Verdict, v.PoisonsOpen)
				}
			}
		})
	}
}

// mistakenIn gives the observation with the readings of one evidence group as the
// herb has them.
func mistakenIn(r *Reasoner, obs graph.Observation, group, herb string) graph.Observation {
	out := obs
	out.Readings = slices.Clone(obs.Readings)
	for i, x := range out.Readings {
		trait := r.Matrix.Knowledge.Vocabulary.TraitIndex(x.Trait)
		if r.Matrix.Knowledge.Vocabulary.Traits[trait].EvidenceGroup() != group {
			continue
		}
		if reading, ok := Typical(r.Matrix, r.Matrix.TaxonIndex(herb), trait, obs.Stage); ok {
			out.Readings[i] = reading
		}
	}
	return out
}

// pair is a herb that is worked up and a poisonous plant linked to it.
type pair struct {
	herb, poison *graph.Taxon
	study        *graph.Study
}

// poisonousPairs lists them, by herb and poison.
func poisonousPairs(r *Reasoner) []pair {
	k := r.Matrix.Knowledge
	var out []pair
	for _, study := range k.Studies {
		herb, _ := k.Taxon(study.Taxon)
		linked := map[string]bool{}
		for _, l := range k.LinksOf(study.Taxon) {
			linked[l.Other] = true
		}
		for _, id := range sortedKeys(linked) {
			if other, _ := k.Taxon(id); other.Poisonous() {
				out = append(out, pair{herb, other, study})
			}
		}
	}
	return out
}

// No plant of the graph is excluded by what is typical of it.
func TestNoPlantIsExcludedByWhatIsTypicalOfIt(t *testing.T) {
	r := reasonerShipped(t)
	for i, taxon := range r.Matrix.Knowledge.Taxa {
		for _, stage := range graph.Stages() {
			for _, x := range TypicalObservation(r.Matrix, i, stage).Readings {
				trait := r.Matrix.Knowledge.Vocabulary.TraitIndex(x.Trait)
				if excludes(r.Matrix.Knowledge.Vocabulary.Traits[trait], &x, possibleAt(r.Matrix, i, trait, graph.StagesOf(stage), "")) {
					t.Errorf("%s at %s: %s", taxon.ID, stage, x.Notation(r.Matrix.Knowledge.Vocabulary))
				}
			}
		}
	}
}

// DESIGN section 3: habitat, month and life cycle never exclude, in the
// vocabulary that is shipped as in the design.
func TestTheVocabularyKeepsHabitatSeasonAndLifeCycleFromExcluding(t *testing.T) {
	v := reasonerShipped(t).Matrix.Knowledge.Vocabulary
	found := 0
	for _, trait := range v.Traits {
		soft := trait.ID == "plant.habitat" || trait.ID == "plant.life_cycle" || strings.HasPrefix(trait.ID, "season.")
		if soft {
			found++
		}
		if trait.Excludes == soft {
			t.Errorf("%s excludes: %v", trait.ID, trait.Excludes)
		}
	}
	if found < 4 {
		t.Errorf("only %d of these traits are in the vocabulary", found)
	}
}

// against lists what keeps a verdict from being a gather.
func against(v *Verdict) string {
	var out []string
	for _, b := range v.Because {
		if b.Verdict != Gather {
			out = append(out, b.Verdict+": "+b.Text)
		}
	}
	return strings.Join(out, "\n")
}
