package files

import (
	"bufio"
	"os"
	"slices"
	"strings"
	"testing"

	"telltale/graph"
)

// moved gives, for each genus that WordNet and we put in different families, the
// reason. APG IV is "An update of the Angiosperm Phylogeny Group classification",
// Botanical Journal of the Linnean Society 181: 1-20, 2016; WordNet's families are
// those in use before.
var moved = map[string]string{
	"Aesculus":     "Hippocastanaceae are part of Sapindaceae in APG IV",
	"Allium":       "split from Liliaceae: Amaryllidaceae in APG IV",
	"Capparis":     "Capparidaceae is an older spelling of Capparaceae",
	"Colchicum":    "split from Liliaceae: Colchicaceae in APG IV",
	"Convallaria":  "split from Liliaceae: Asparagaceae in APG IV",
	"Digitalis":    "moved from Scrophulariaceae: Plantaginaceae in APG IV",
	"Hypericum":    "split from Clusiaceae (Guttiferae): Hypericaceae in APG IV",
	"Laburnum":     "Papilionoideae is the subfamily, Fabaceae the family",
	"Maianthemum":  "split from Liliaceae: Asparagaceae in APG IV",
	"Ornithogalum": "split from Liliaceae: Asparagaceae in APG IV",
	"Polygonatum":  "split from Liliaceae: Asparagaceae in APG IV",
	"Robinia":      "Papilionoideae is the subfamily, Fabaceae the family",
	"Sambucus":     "moved from Caprifoliaceae: Viburnaceae (Adoxaceae) in APG IV",
	"Valeriana":    "Valerianaceae are part of Caprifoliaceae in APG IV",
	"Veratrum":     "split from Liliaceae: Melanthiaceae in APG IV",
}

// TestFamiliesAndPoisonsAgreeWithWordNet puts the graph beside WordNet 3.1
// (Princeton University), which testdata/world/wordnet.tsv was read off.
func TestFamiliesAndPoisonsAgreeWithWordNet(t *testing.T) {
	k, err := Load(os.DirFS("../../data"))
	if err != nil {
		t.Fatal(err)
	}
	families := map[string]string{}
	for _, x := range k.Taxa {
		families[x.Genus()] = x.Family
	}
	asked := map[string]int{}
	for _, row := range worldRows(t, "../../testdata/world/wordnet.tsv") {
		asked[row[0]]++
		switch row[0] {
		case "genus":
			ours, theirs := families[row[1]], strings.Split(row[2], "|")
			differs := !slices.Contains(theirs, ours)
			switch {
			case ours == "":
				t.Errorf("%s is not in the graph any more", row[1])
			case differs && moved[row[1]] == "":
				t.Errorf("%s is in %s here and in %s in WordNet, and no reason is given", row[1], ours, row[2])
			case !differs && moved[row[1]] != "":
				t.Errorf("%s is in %s here as in WordNet: the reason why not is out of date", row[1], ours)
			}
		case "poison":
			if x, ok := k.Taxon(row[1]); !ok || !harms(x) {
				t.Errorf("%s (%s) is poisonous or toxic in WordNet, and harms nobody here", row[1], row[2])
			}
		}
	}
	if asked["genus"] < 100 || asked["poison"] < 15 {
		t.Errorf("only %v rows were asked: the file is not whole", asked)
	}
}

// harms tells whether a plant is deadly, serious, mild or an irritant.
func harms(t *graph.Taxon) bool {
	return slices.ContainsFunc(t.Toxicity, func(x graph.Toxicity) bool { return x.Irritant || x.Severity >= graph.Mild })
}

func worldRows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	var out [][]string
	for s := bufio.NewScanner(f); s.Scan(); {
		if line := s.Text(); line != "" && line[0] != '#' {
			out = append(out, strings.Split(line, "\t"))
		}
	}
	return out
}
