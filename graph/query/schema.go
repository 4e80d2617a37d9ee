package query

import "slices"

// Arrow is one kind of arrow in the graph: from which kind of node to which kind
// of node or value it leads, and what it says.
type Arrow struct {
	From  string `json:"from"`
	Name  string `json:"arrow"`
	To    string `json:"to"` // a kind of node, or text, number, truth
	Means string `json:"means"`
}

// The sorts of values that an arrow can lead to, besides nodes.
const (
	textValue   = "text"
	numberValue = "number"
	truthValue  = "truth"
)

// Node tells how the nodes of a kind are named.
type Node struct {
	Kind  string `json:"kind"`
	Name  string `json:"name"`
	Means string `json:"means"`
}

// Nodes lists the kinds of node that queries begin from.
func Nodes() []Node {
	return []Node{
		{"taxon", "taxon/conium-maculatum", "a plant"},
		{"genus", "genus/Conium", "its genus"},
		{"family", "family/Apiaceae", "its family"},
		{"statement", "taxon/conium-maculatum/statement/012", "one thing stated of a plant: a trait, a value, how often, by whom"},
		{"toxicity", "taxon/conium-maculatum/toxicity/000", "one way in which parts of a plant harm"},
		{"use", "taxon/allium-ursinum/use/000", "one use of parts of a plant"},
		{"lookalike", "taxon/conium-maculatum/lookalike/000", "a link to a plant that it is confused with; it holds both ways and is stated once"},
		{"overrule", "taxon/conium-maculatum/overrule/000", "whether the values stated of one trait are all there are, where that is not left to the frequencies"},
		{"part", "part/root", "a part of a plant; herb is all above ground"},
		{"source", "source/memory", "a publication; memory is the source of what no publication stands behind"},
		{"trait", "trait/stem.markings", "a trait, as the vocabulary defines it"},
		{"state", "trait/stem.markings/purple_blotched", "a value that a trait can take"},
		{"study", "study/allium-ursinum", "a herb worked up for gathering"},
		{"gather", "study/allium-ursinum/gather/000", "which parts are gathered at which stages"},
		{"check", "study/allium-ursinum/gather/000/check/000", "what has to be looked at before"},
		{"tooclose", "study/allium-ursinum/too_close/000", "a plant that the herb cannot be parted from at some stages"},
		{"rule", "rule/hairless-carrot", "a rule, as its author wrote it"},
		{"ruletest", "rule/hairless-carrot/test/000", "what its author expects of it"},
		{"correction", "knowledge/correction/000", "what somebody's own data changed"},
		{"stagedef", "vocabulary/stage_def/000", "a stage of growth"},
		{"term", "vocabulary/position_def/000", "a position on the plant"},
		{"effort", "vocabulary/effort_def/000", "what a look takes"},
		{"vocabulary", "vocabulary", "the vocabulary"},
		{"knowledge", "knowledge", "where everything hangs from"},
	}
}

// Arrows is the schema of the graph: every arrow that there can be, by the node
// that it leaves from.
func Arrows() []Arrow {
	return []Arrow{
		{"taxon", "taxon_id", textValue, "its id, conium-maculatum"},
		{"taxon", "name", textValue, "its scientific name"},
		{"taxon", "author", textValue, "who named it"},
		{"taxon", "family", "family", "its family"},
		{"taxon", "in_genus", "genus", "its genus"},
		{"taxon", "common_name", textValue, "a common name"},
		{"taxon", "first_common_name", textValue, "the common name that is shown"},
		{"taxon", "synonym", textValue, "another scientific name of it"},
		{"taxon", "range", textValue, "where it grows, as the sources word it"},
		{"taxon", "statement", "statement", "something stated of it"},
		{"taxon", "toxicity", "toxicity", "a way in which it harms"},
		{"taxon", "use", "use", "a use of it"},
		{"taxon", "lookalike", "lookalike", "a link to a plant it is confused with (or from it: the link is stated once)"},
		{"taxon", "overrule", "overrule", "a word on whether what is stated of a trait is all there is"},
		{"taxon", "source", "source", "a source for its names and family"},
		{"taxon", "file", textValue, "the file it was read from"},

		{"genus", "in_family", "family", "its family"},

		{"statement", "trait", "trait", "the trait"},
		{"statement", "state", textValue, "the value, for a trait with states"},
		{"statement", "range", textValue, "the value, for measures, counts and months: (2-)5-15(-20)"},
		{"statement", "frequency", textValue, "how often: always, usually, sometimes, rarely, never"},
		{"statement", "stage", textValue, "at which stage; none for every stage"},
		{"statement", "position", textValue, "where on the plant: upper, lower, basal, young; none for anywhere"},
		{"statement", "note", textValue, "what else is said"},
		{"statement", "source", "source", "who says so"},

		{"toxicity", "part", "part", "the part that harms"},
		{"toxicity", "told", textValue, "the part as the source words it"},
		{"toxicity", "severity", textValue, "deadly, serious, mild or none_known; none for what only irritates"},
		{"toxicity", "irritant", truthValue, "true if it irritates the skin; none if not"},
		{"toxicity", "route", textValue, "ingestion, skin or skin_and_sun"},
		{"toxicity", "agent", textValue, "the poison"},
		{"toxicity", "effect", textValue, "what it does"},
		{"toxicity", "source", "source", "who says so"},

		{"use", "part", "part", "the part that is used"},
		{"use", "told", textValue, "the part as the source words it"},
		{"use", "category", textValue, "a category of the TDWG Economic Botany standard: food, medicines, vertebrate_poisons ... "},
		{"use", "does", textValue, "what it is used for"},
		{"use", "stage", textValue, "at which stage"},
		{"use", "caution", textValue, "what to mind"},
		{"use", "source", "source", "who says so"},

		{"lookalike", "taken_for", "taxon", "the other plant"},
		{"lookalike", "stage", textValue, "at which stage; none for every stage"},
		{"lookalike", "evidence", textValue, "who reports the confusion: case_report, poison_centre, extension, flora or memory"},
		{"lookalike", "difference", textValue, "how to tell them apart, in a sentence"},
		{"lookalike", "source", "source", "who says so"},

		{"overrule", "trait", "trait", "the trait"},
		{"overrule", "exhaustive", truthValue, "true if the values stated are all there are; none if not"},
		{"overrule", "because", textValue, "why"},
		{"overrule", "source", "source", "who says so"},

		{"trait", "trait_id", textValue, "its id, stem.markings"},
		{"trait", "kind", textValue, "state, measure, count or months"},
		{"trait", "unit", textValue, "cm or mm, for a measure"},
		{"trait", "organ", textValue, "the organ it is a trait of"},
		{"trait", "label", textValue, "plain words for it"},
		{"trait", "word", textValue, "an everyday name of it"},
		{"trait", "question", textValue, "what to ask when looking"},
		{"trait", "means", textValue, "what is looked at, and how"},
		{"trait", "see_at", textValue, "a stage at which it can be seen"},
		{"trait", "effort", textValue, "what the look takes: eye, touch, smell, lens, cut or dig"},
		{"trait", "caution", textValue, "where the looking itself can hurt"},
		{"trait", "group", textValue, "the evidence group"},
		{"trait", "excludes", truthValue, "true if a reading of it can rule a plant out; none if not"},
		{"trait", "because", textValue, "why it cannot"},
		{"trait", "many", truthValue, "true if several states hold of one plant at once; none if not"},
		{"trait", "error_rate", numberValue, "the chance that an observer reads it wrongly"},
		{"trait", "error_from", textValue, "where that number comes from"},
		{"trait", "has_state", "state", "a value it can take"},

		{"state", "state_id", textValue, "its id, purple_blotched"},
		{"state", "means", textValue, "what it looks like"},
		{"state", "word", textValue, "an everyday word for it"},
		{"state", "near", textValue, "the id of a state that it is taken for"},

		{"source", "source_id", textValue, "its id"},
		{"source", "title", textValue, "its title"},
		{"source", "publisher", textValue, "who published it"},
		{"source", "year", numberValue, "when"},
		{"source", "url", textValue, "where it can be read"},
		{"source", "kind", textValue, "flora, extension, agency, journal, ..."},

		{"study", "study_of", textValue, "the id of the herb"},
		{"study", "about", textValue, "why this herb, and what goes wrong"},
		{"study", "gather", "gather", "what is gathered, and when"},
		{"study", "leave_rule", "rule", "when to leave it anyway"},
		{"study", "too_close", "tooclose", "a plant that is too close to it at some stages"},
		{"study", "source", "source", "a source for the study"},
		{"study", "file", textValue, "the file it was read from"},

		{"tooclose", "with", "taxon", "the plant"},
		{"tooclose", "stage", textValue, "a stage at which two constant differences are not to be had"},
		{"tooclose", "because", textValue, "why"},
		{"tooclose", "parted", textValue, "how or when the two can be told apart"},
		{"tooclose", "source", "source", "who says so"},

		{"gather", "part", "part", "a part that is gathered"},
		{"gather", "stage", textValue, "a stage at which it is"},
		{"gather", "check", "check", "what has to be looked at before"},
		{"gather", "say", textValue, "what to say when it may be gathered, a sentence a line"},
		{"gather", "source", "source", "who says so"},

		{"check", "trait", "trait", "the trait to look at"},
		{"check", "position", textValue, "where on the plant"},
		{"check", "state", textValue, "a state that will do; none for any that is stated of the plant"},
		{"check", "because", textValue, "why"},
		{"check", "source", "source", "who says so"},

		{"rule", "rule_id", textValue, "its id"},
		{"rule", "for_taxon", "taxon", "the plant it is about; none for every plant"},
		{"rule", "then", textValue, "what follows from it: leave, must, it-is or note"},
		{"rule", "when", textValue, "the expression"},
		{"rule", "because", textValue, "why"},
		{"rule", "source", "source", "who says so"},
		{"rule", "test", "ruletest", "what its author expects of it"},
		{"rule", "place", textValue, "where it is written, file:line:column"},
		{"rule", "when_place", textValue, "where its expression is written"},
		{"rule", "indent", numberValue, "how far further lines of the expression are indented there"},

		{"ruletest", "given", textValue, "the readings given, one a line"},
		{"ruletest", "given_stage", textValue, "the stage given"},
		{"ruletest", "given_month", numberValue, "the month given"},
		{"ruletest", "given_part", textValue, "the part given"},
		{"ruletest", "hoped_for", "taxon", "the plant that is hoped for, where it is not the rule's own"},
		{"ruletest", "expect", textValue, "fires, quiet or waits"},
		{"ruletest", "waits_for", textValue, "the trait that it must wait for"},
		{"ruletest", "place", textValue, "where it is written"},

		{"correction", "kind", textValue, "what was changed: taxon, trait, study, rule or source"},
		{"correction", "of", textValue, "its id"},
		{"correction", "what", textValue, "what of it was changed"},
		{"correction", "file", textValue, "the file that changed it"},

		{"stagedef", "stage", textValue, "the stage: seedling, rosette, leafy_shoot, flowering, fruiting or dormant"},
		{"stagedef", "bbch", numberValue, "a principal growth stage of the BBCH scale that it covers"},
		{"stagedef", "means", textValue, "what a plant looks like then"},

		{"term", "name", textValue, "the position"},
		{"term", "means", textValue, "where that is"},

		{"effort", "name", textValue, "the effort"},
		{"effort", "cost", numberValue, "what it costs beside a look with the bare eye"},
		{"effort", "means", textValue, "what it takes"},
		{"effort", "from", textValue, "where that number comes from"},

		{"vocabulary", "trait_def", "trait", "a trait"},
		{"vocabulary", "stage_def", "stagedef", "a stage"},
		{"vocabulary", "position_def", "term", "a position"},
		{"vocabulary", "effort_def", "effort", "an effort"},

		{"knowledge", "vocabulary", "vocabulary", "the vocabulary"},
		{"knowledge", "knows_taxon", "taxon", "a plant"},
		{"knowledge", "knows_study", "study", "a study"},
		{"knowledge", "knows_rule", "rule", "a rule that is in no study"},
		{"knowledge", "knows_source", "source", "a source"},
		{"knowledge", "correction", "correction", "what somebody's own data changed"},

		{AnyNode, "is_a", textValue, "the kind of the node, as named here: \"taxon\"; families, parts and the source memory have none"},
		{AnyNode, "order", numberValue, "its place in the list it stands in"},
	}
}

// AnyNode stands in the schema for nodes of any kind.
const AnyNode = "any"

func arrowNames() []string {
	var out []string
	for _, a := range Arrows() {
		if !slices.Contains(out, a.Name) {
			out = append(out, a.Name)
		}
	}
	return out
}

func arrowNamed(name string) bool { return slices.Contains(arrowNames(), name) }
