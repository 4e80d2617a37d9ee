// All deadly plants of wet places with compound umbels, and who says that they
// grow there.
function stated(plant, trait, states) {
  var says = g.V(plant).out("<statement>").has("<trait>", trait);
  return says.has("<state>", ...states).except(g.V("never").in("<frequency>"));
}
var deadly = g.V("deadly").in("<severity>").has("<route>", "ingestion").in("<toxicity>");
deadly.unique().toArray().sort().forEach(function (plant) {
  var wet = stated(plant, "<trait/plant.habitat>", ["wetland", "streamside", "wet_meadow"]);
  var umbels = stated(plant, "<trait/inflorescence.type>", ["compound_umbel"]);
  if (wet.count() > 0 && umbels.count() > 0) {
    g.emit({
      taxon: plant,
      common_name: g.V(plant).out("<first_common_name>").toValue(),
      places: wet.out("<state>").unique().toArray().sort(),
      sources: wet.out("<source>").unique().toArray().sort()
    });
  }
});
