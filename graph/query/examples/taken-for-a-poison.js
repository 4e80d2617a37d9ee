// Which plants are taken for a deadly one, at which stages, and who reports it: case
// reports and poison centres first. A link holds both ways and is stated once, so it
// is followed both ways.
var rank = ["case_report", "poison_centre", "extension", "flora", "memory"];
var deadly = g.V("deadly").in("<severity>").has("<route>", "ingestion").in("<toxicity>");
var links = [];
deadly.unique().toArray().forEach(function (poison) {
  var to = g.V(poison).out("<lookalike>").tag("link").out("<taken_for>");
  var from = g.V(poison).in("<taken_for>").tag("link").in("<lookalike>");
  to.tagArray().concat(from.tagArray()).forEach(function (l) {
    links.push({poison: poison, taxon: l.id, link: l.link, evidence: g.V(l.link).out("<evidence>").toValue()});
  });
});
function order(l) { return rank.indexOf(l.evidence) + l.poison + l.taxon + l.link; }
links.sort(function (a, b) { return order(a) < order(b) ? -1 : 1; });
links.forEach(function (l) {
  g.emit({
    taxon: l.taxon,
    taken_for: l.poison,
    evidence: l.evidence,
    stages: g.V(l.link).out("<stage>").toArray().sort(),
    sources: g.V(l.link).out("<source>").toArray().sort()
  });
});
