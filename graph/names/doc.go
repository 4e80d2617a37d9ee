// Package names reads scientific names of plants as floras, labels and people
// write them, and finds the plants that are meant. It follows the International
// Code of Nomenclature for algae, fungi, and plants (Shenzhen Code, Turland & al.
// 2018): names of genera, species and ranks below (articles 20, 23 and 24), author
// citations (articles 46 and 49, recommendations 50C and 50D), hybrids (chapter H).
// The words cf., aff., sp. and agg. are no part of a name under the Code; they are
// read as open nomenclature uses them (Bengtson 1988, Palaeontology 31: 223-227).
//
//	n, err := names.Parse("Salix x capreola Andersson")
//	n.Canonical()          // Salix ×capreola
//	n.Authorship.String()  // Andersson
//
// An Index holds what the plants of a graph are called and answers which of them
// a text can mean, the surest first.
package names
