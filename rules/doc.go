// Package rules makes the rules of the trade work. A rule is a CEL expression
// over the traits of the vocabulary,
//
//	stem.surface == "hairless" && stage == "rosette"
//
// that fires, keeps quiet, or waits: what nobody has looked at, or is not sure of,
// is unknown, and an unknown that matters leaves a residual expression and the
// traits it waits for. A state trait is a string, a measure a number in the
// trait's unit, a count or a month a whole number; stage, part and month are
// there too. The one CEL environment of the program is made here, by NewEnv.
package rules
