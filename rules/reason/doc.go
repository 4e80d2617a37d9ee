// Package reason draws the conclusions. It is a line of steps that can be
// followed, and tested, one by one:
//
//	readings -> possible -> excluded -> standing -> weight -> next look -> verdict
//
// What a plant can show of a trait follows from how often it is stated to
// (possible.go). A sure reading excludes a plant that can show neither what was
// read nor anything that is taken for it (exclude.go). Enough of these, each from
// an evidence group of its own, rule the plant out: two for a poisonous plant,
// one for any other (standing.go). How well the rest fit is weighed against one
// more candidate, a plant outside this graph (weight.go); what would tell most is
// looked at next (look.go); whether the herb may be gathered is decided by what
// is ruled out, never by weight (verdict.go).
package reason
