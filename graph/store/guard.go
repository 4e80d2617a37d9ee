package store

import (
	"fmt"
	"runtime/debug"
)

// guarded does what may run into a damaged file: bbolt panics there, and reading
// past the end of a file that shrank is a fault of the memory map. Both become
// errors.
func guarded(do func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if what := recover(); what != nil {
			err = fmt.Errorf("the graph is damaged (%v); load it again", what)
		}
	}()
	return do()
}
