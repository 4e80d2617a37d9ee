// Package query asks a graph in Cayley's own languages. It is for questions that no
// command of Telltale has: what shares a family with a poison, which facts rest on
// memory alone, where the same part is food and poison.
//
//	answer, err := query.Run(ctx, quads, query.Query{Language: query.Gizmo, Name: "query", Text: text}, query.Limits{})
//
// An answer lists what is stated. It draws no conclusions: what the graph does not
// list is not thereby harmless, and no query clears a plant for gathering. The
// severity of a plant is that of its worst toxicity by ingestion.
//
// # The graph
//
// Nodes are named by their kind and id, <taxon/conium-maculatum>. Arrows lead from
// them to other nodes or to values. Everything that is said of a plant is a node of
// its own between the plant and what is said, so that it can have sources:
//
//	<taxon/conium-maculatum> -statement-> <taxon/conium-maculatum/statement/012>
//	     -trait->     <trait/stem.markings>
//	     -state->     "purple_blotched"
//	     -frequency-> "usually"
//	     -stage->     "flowering"          (no stage: at every stage)
//	     -source->    <source/gc-conium>   (<source/memory>: no publication)
//
//	<taxon/...> -toxicity->  -part-> <part/root>, -severity-> "deadly", -route-> "ingestion", -source-> ...
//	<taxon/...> -use->       -part-> <part/leaf>, -category-> "food", -does-> "soup", -source-> ...
//	<taxon/...> -lookalike-> -taken_for-> <taxon/...>, -stage-> ..., -evidence-> "case_report", -source-> ...
//	<taxon/...> -family->    <family/Apiaceae>
//
// A lookalike link holds both ways and is stated once: follow it forwards and
// backwards. A statement with the frequency "never" says that a value was looked for
// and does not occur. Arrows lists all there are, and `telltale graph schema` prints
// them.
//
// # Gizmo
//
// Paths in JavaScript. Names in angle brackets are nodes and arrows, other texts are
// values:
//
//	g.V("deadly").in("<severity>").in("<toxicity>").unique().all()
//
// begins at the text "deadly", goes back along severity to what is deadly, and back
// along toxicity to the plants. Further words: out, in, both; has("<arrow>", value),
// which keeps nodes; tag("name") and save("<arrow>", "name"), which put a node into a
// column; back("name"), which returns to a tag; intersect, union, except of another
// path; unique, limit, order; all, which hands over the rows; and toArray, tagArray,
// count and forEach, which give them to JavaScript. g.emit(object) hands over a row
// made in JavaScript. The examples of this package show each at work.
//
// # GraphQL
//
// Trees: nodes(id: "<taxon/conium-maculatum>") { name toxicity { route source } }. An
// arrow with ~ before it is followed backwards; @opt behind one lets it be missing.
//
// # MQL
//
// Patterns in JSON: [{"<is_a>": "taxon", "<family>": "<family/Apiaceae>", "<name>":
// null}]. What is null is filled in. Lines that begin with # are comment.
//
// # What a query may take
//
// A query is stopped after its time, 10 seconds where nothing else is told, or when
// it takes more than a gigabyte of memory. It gives a thousand rows at the most, and
// says when there are more. It cannot write: nothing that it can reach writes, and
// the graph that it is given refuses to be written to.
package query
