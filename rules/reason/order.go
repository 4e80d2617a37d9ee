package reason

import (
	"cmp"
	"maps"
	"slices"
)

// sortedKeys lists the keys of a map in order, so that nothing depends on the
// order a map happens to have.
func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K {
	return slices.Sorted(maps.Keys(m))
}
