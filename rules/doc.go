// Package rules makes the rules of the trade work. A rule is a CEL expression
// over the traits of the vocabulary,
//
//	stem.surface == "hairless" && stage == "rosette"
//
// with what follows from it: leave the plant, or gather only if it holds, or a
// rule of thumb, or a note. Put to what somebody saw of a plant it does one of
// three things. It fires, it keeps quiet, or it waits: what nobody has looked at,
// or is not sure of, is unknown, and an unknown that matters leaves a residual
// expression and the traits it waits for. So && and || join three truth values,
// as Kleene put them in 1952: a rosette with a hairy stem is quiet though its
// stage is not told, and a hairless stem alone waits for the stage.
//
// # What can be written
//
// A state trait is compared with its states in quotes, by ==, != and in; a measure
// with a number of its unit, a count or a month with a whole number, by < <= > >=
// too. The stage, the part and the month are there under those names. Comparisons
// are joined by &&, ||, ! and ?:, where a test that waits makes the whole wait.
// Three questions bring the reasoner in:
//
//	hoped_for("daucus-carota")        the gatherer hopes for this plant
//	is_ruled_out("conium-maculatum")  sure readings rule it out
//	is_open("conium-maculatum")       they do not
//
// In a leave rule or a must rule, is_open and is_ruled_out wait until the plant is
// ruled out: further readings could still do that, and knowing less must never
// allow more. A note or a rule of thumb takes things as they stand.
//
// Anything else that CEL can do is refused, so that every word of a rule is
// checked against the vocabulary before any plant is looked at, and no rule can
// run long. Whatever is wrong is reported at once, each thing with its file, line,
// column and the nearest real name.
//
// # One of these
//
// Where a reading leaves several states, a span, or where a trait was read twice,
// the rule is put to each value that may be true: if all come to the same, that is
// the outcome, and otherwise the rule waits for the trait.
//
// The one CEL environment of the program is made here, by NewEnv.
package rules
