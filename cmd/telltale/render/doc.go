// Package render puts answers into words for people and into documents for
// programs. It computes nothing: what is ruled out, weighed or decided was so
// before it came here.
//
// Text comes in an order that suits somebody who stands beside the plant: first
// the answer, then the poisons, then what to look at next, then why, and what to
// mind last. Every line keeps within the page's width, and colour says nothing
// that words do not.
package render
