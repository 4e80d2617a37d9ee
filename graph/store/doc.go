// Package store keeps graphs. The one that comes with the program is held in
// memory; others are a file, or a schema of a PostgreSQL database that a group
// shares. It is the only package that knows how a graph is kept.
//
// Whatever the place, a Store opens the graph there for asking, and loads
// knowledge in place of what is there:
//
//	s, err := store.At("herbs.db")              // or "postgres://host/database"
//	done, err := s.Load(ctx, knowledge, store.Loading{})
//	g, err := s.Open(ctx)
//	knowledge, err := g.Knowledge(ctx)
//
// A load changes all or nothing. It fills a new graph beside the old one, batch
// by batch, reads it back, and only when every arrow is there puts it in place of
// the old one in one step: a rename of the file, or one transaction. Whoever has
// the old graph open goes on asking the old one. A load that was stopped, killed
// or cut off leaves the old graph as it was, and the next load of the same
// knowledge goes on where it stopped; one of other knowledge begins anew.
//
// Every graph bears a Stamp of what was loaded. What is read is held against it,
// so that a damaged graph is an error, never a smaller one.
//
// # A file
//
// FILE is a bbolt database, filled as FILE.loading and then renamed. One load at a
// time can run for a file; any number of readers can have it open.
//
// # PostgreSQL
//
// Each load fills a schema of its own, telltale_1, telltale_2, ..., and the table
// telltale.generation tells which of them is the graph. Schemas that nobody reads
// any more are dropped by the next load. Whoever loads needs the right to create
// schemas in the database. Whoever only asks needs USAGE on the schema telltale,
// given once by the one who loads:
//
//	GRANT USAGE ON SCHEMA telltale TO teachers;
//
// Every load after that lets teachers read what it loaded.
package store
