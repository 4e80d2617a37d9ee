// Package graph is what Telltale knows of plants, in the words of the people
// who gather them: a Taxon is described by Statements, each of one Trait with a
// value, how often the plant shows it, at which Stage of growth, on which part
// of the shoot, and who says so. A Vocabulary defines the traits and the states
// they can take; a Study works one herb up for gathering; a Reading is one trait
// as somebody saw it, and an Observation the readings of one plant.
//
// Everything known together is a Knowledge. Quads writes it as the nodes and
// arrows of a graph that Cayley can store, and Read gets it back by asking the
// graph. Nothing in this package draws conclusions: packages rules and
// rules/reason do.
package graph
