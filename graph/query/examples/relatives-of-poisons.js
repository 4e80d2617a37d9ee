// What shares a family with a poison: every plant of a family in which eating some
// other plant is deadly or serious, with those.
var poisonous = g.V("deadly", "serious").in("<severity>").has("<route>", "ingestion").in("<toxicity>").unique();
poisonous.out("<family>").unique().toArray().sort().forEach(function (family) {
  var poisons = g.V(family).in("<family>").intersect(poisonous).unique().toArray().sort();
  g.V(family).in("<family>").toArray().sort().forEach(function (plant) {
    var others = poisons.filter(function (p) { return p !== plant; });
    if (others.length > 0) {
      g.emit({
        taxon: plant, family: family,
        severity: g.V(plant).out("<toxicity>").has("<route>", "ingestion").out("<severity>").unique().toArray().sort(),
        shares_it_with: others
      });
    }
  });
});
