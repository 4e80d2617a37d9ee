// Package store opens graphs. The default one is the knowledge that comes with
// the program, held in memory; it is the only package that knows how a graph is
// kept.
package store
