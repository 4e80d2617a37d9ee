// Package author lays out the files in which somebody works up a herb: forms with
// every useful trait as a question, comments that teach what the words decide, and
// the schemas that let an editor complete and check them.
package author
