package graph

import "strings"

// Taxon is a species, or a rank below it, named by the International Code of
// Nomenclature.
type Taxon struct {
	ID         string      `graph:"taxon_id,key"` // genus-species in lower case
	Name       string      `graph:"name"`
	Author     string      `graph:"author"`
	Family     string      `graph:"family,family"`
	Common     []string    `graph:"common_name,first"`
	Synonyms   []string    `graph:"synonym"`
	Range      []string    `graph:"range"` // where it grows, as the sources word it
	Sources    []string    `graph:"source,source"`
	Statements []Statement `graph:"statement"`
	Overrules  []Overrule  `graph:"overrule"`
	Toxicity   []Toxicity  `graph:"toxicity"`
	Uses       []Use       `graph:"use"`
	Lookalikes []Lookalike `graph:"lookalike"`
	File       string      `graph:"file"` // the file it was read from
}

// Genus is the first word of the scientific name.
func (t *Taxon) Genus() string {
	genus, _, _ := strings.Cut(t.Name, " ")
	return genus
}

// CommonName is the first of the common names, or the scientific name where
// there is none.
func (t *Taxon) CommonName() string {
	if len(t.Common) == 0 {
		return t.Name
	}
	return t.Common[0]
}

// Overrule replaces, for one trait of a taxon, what would follow from the
// frequencies: whether the stated values are all there are.
type Overrule struct {
	Trait      string   `graph:"trait,trait"`
	Exhaustive bool     `graph:"exhaustive"`
	Because    string   `graph:"because"`
	Sources    []string `graph:"source,source"`
}

// Severity grades the harm that a plant does to those who eat it.
type Severity uint8

// The degrees of harm. Ungraded is the zero value, for what only irritates.
const (
	Ungraded Severity = iota
	NoneKnown
	Mild
	Serious
	Deadly
)

var severityNames = [...]string{"", "none_known", "mild", "serious", "deadly"}

// String gives the word that files use, "none_known".
func (s Severity) String() string {
	if int(s) < len(severityNames) {
		return severityNames[s]
	}
	return "no severity"
}

// SeverityNamed finds the severity of that name.
func SeverityNamed(name string) (Severity, bool) {
	for i, n := range severityNames {
		if i > 0 && n == name {
			return Severity(i), true
		}
	}
	return Ungraded, false
}

// SeverityNames lists the four words.
func SeverityNames() []string { return append([]string(nil), severityNames[1:]...) }

// Poisonous tells whether the harm is deadly or serious.
func (s Severity) Poisonous() bool { return s >= Serious }

// The routes by which a plant harms.
const (
	Ingestion  = "ingestion"
	Skin       = "skin"
	SkinAndSun = "skin_and_sun"
)

// Routes lists the routes by which a plant harms.
func Routes() []string { return []string{Ingestion, Skin, SkinAndSun} }

// Toxicity is one way in which parts of a taxon harm.
type Toxicity struct {
	Parts    []string `graph:"part,part"`
	Told     string   `graph:"told"` // the part as the source words it, where that says more
	Severity Severity `graph:"severity"`
	Irritant bool     `graph:"irritant"` // it irritates the skin: a kind of harm, not a degree
	Route    string   `graph:"route"`
	Agent    string   `graph:"agent"`
	Effect   string   `graph:"effect"`
	Sources  []string `graph:"source,source"`
}

// Use is what people do with parts of a taxon. Category is a first level of
// the TDWG Economic Botany Data Collection Standard (Cook 1995).
type Use struct {
	Parts    []string `graph:"part,part"`
	Told     string   `graph:"told"`
	Category string   `graph:"category"`
	Use      string   `graph:"does"`
	Stages   StageSet `graph:"stage"`
	Caution  string   `graph:"caution"`
	Sources  []string `graph:"source,source"`
}

// UseCategories lists the first level of the TDWG Economic Botany Data Collection
// Standard (Cook 1995), its words in small letters: poisons are parted there by
// what they kill.
func UseCategories() []string {
	return []string{
		"food", "food_additives", "animal_food", "bee_plants", "invertebrate_food", "materials", "fuels", "social_uses",
		"vertebrate_poisons", "non_vertebrate_poisons", "medicines", "environmental_uses", "gene_sources",
	}
}

// UseCategory finds the category of the standard that a word stands for: its own
// name, or a shorter one that people write.
func UseCategory(word string) string {
	switch word {
	case "medicine":
		return "medicines"
	case "material":
		return "materials"
	case "environmental":
		return "environmental_uses"
	case "social":
		return "social_uses"
	case "poison":
		return "vertebrate_poisons"
	}
	return word
}

// Lookalike links a taxon to one that it is confused with. The link holds both
// ways, whichever of the two states it.
type Lookalike struct {
	Taxon      string   `graph:"taken_for,taxon"`
	Stages     StageSet `graph:"stage"`
	Evidence   string   `graph:"evidence"`
	Difference string   `graph:"difference"`
	Sources    []string `graph:"source,source"`
}

// Evidences lists who can report a confusion.
func Evidences() []string {
	return []string{"case_report", "poison_centre", "extension", "flora", "memory"}
}

// Parts lists what is gathered of a plant, or harms. "herb" is all that is above
// ground.
func Parts() []string {
	return []string{
		"root", "rhizome", "bulb", "corm", "tuber", "bulbil", "stem", "shoot", "leaf", "flower", "bud",
		"fruit", "seed", "sap", "bark", "wood", "oil", "herb", "whole_plant", "milk", "water",
	}
}

// Severity is the worst harm that eating any part of the taxon does.
func (t *Taxon) Severity() Severity {
	worst := NoneKnown
	for _, tox := range t.Toxicity {
		if tox.Route == Ingestion && tox.Severity > worst {
			worst = tox.Severity
		}
	}
	return worst
}

// PartSeverity is the worst harm that eating this part does, counting what is
// said of the whole plant; "" asks for the worst of all.
func (t *Taxon) PartSeverity(part string) Severity {
	if part == "" {
		return t.Severity()
	}
	worst := NoneKnown
	for _, tox := range t.Toxicity {
		if tox.Route == Ingestion && tox.Severity > worst && touches(tox.Parts, part) {
			worst = tox.Severity
		}
	}
	return worst
}

func touches(parts []string, part string) bool {
	for _, p := range parts {
		if p == part || p == "whole_plant" {
			return true
		}
	}
	return false
}

// Poisonous tells whether eating some part of it is deadly or serious.
func (t *Taxon) Poisonous() bool { return t.Severity().Poisonous() }

// ContactHarm gives what the plant does to the skin, nil where nothing is known.
func (t *Taxon) ContactHarm() *Toxicity {
	var worst *Toxicity
	for i := range t.Toxicity {
		tox := &t.Toxicity[i]
		if tox.Route != Ingestion && (worst == nil || tox.Severity > worst.Severity) {
			worst = tox
		}
	}
	return worst
}
