// Herbs whose uses and toxicity touch the same part: what is used of a plant, and
// what the same part does to those who take it wrongly.
function touch(a, b) {
  return a === b || a === "<part/whole_plant>" || b === "<part/whole_plant>";
}
function parted(plant, what, arrows) {
  var path = g.V(plant).out(what);
  for (var tag in arrows) path = path.saveOpt(arrows[tag], tag);
  return path.tag("node").out("<part>").tagArray();
}
g.V("taxon").in("<is_a>").toArray().sort().forEach(function (plant) {
  var harms = parted(plant, "<toxicity>", {severity: "<severity>", route: "<route>", effect: "<effect>"})
    .filter(function (h) { return h.severity !== "none_known"; });
  if (harms.length === 0) return;
  parted(plant, "<use>", {does: "<does>", category: "<category>"}).forEach(function (use) {
    harms.forEach(function (harm) {
      if (!touch(use.id, harm.id)) return;
      g.emit({
        taxon: plant, part: use.id, category: use.category, use: use.does,
        severity: harm.severity || "irritant", route: harm.route, effect: harm.effect,
        use_sources: g.V(use.node).out("<source>").toArray().sort(),
        harm_sources: g.V(harm.node).out("<source>").toArray().sort()
      });
    });
  });
});
