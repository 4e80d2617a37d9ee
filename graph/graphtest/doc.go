// Package graphtest makes small graphs for tests, in lines that read like those
// of a flora:
//
//	k := graphtest.Knowledge(
//		graphtest.States("stem.surface", "hairless bristly woolly", "bristly ~ woolly", "group hairs"),
//		graphtest.Plant("carrot", "stem.surface usually bristly", "stem.surface rarely hairless at rosette", "looks like hemlock"),
//		graphtest.Plant("hemlock", "deadly", "stem.surface always hairless"),
//		graphtest.Study("carrot", "root at rosette", "stem.surface is bristly"),
//		graphtest.Rule(`leave carrot when stem.surface == "hairless"`),
//	)
//	obs := graphtest.Seen(k, "rosette", "stem.surface=bristly")
//
// Its plants are made up, every fact of theirs is from memory, and a line that
// cannot be read panics. Nothing outside tests imports it.
package graphtest
