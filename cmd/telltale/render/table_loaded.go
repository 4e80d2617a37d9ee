package render

import (
	"fmt"

	"telltale/graph/store"
)

// Loaded writes what a load came to.
func Loaded(p *Page, where string, plants int, done *store.Loaded) error {
	if done.Dropped {
		p.say("What an interrupted load of other data had left was thrown away.")
	}
	if done.Resumed > 0 {
		p.say(fmt.Sprintf("An interrupted load of the same data had left %d of %d arrows; it was gone on with.", done.Resumed, done.Quads))
	}
	p.say(fmt.Sprintf("Loaded %d plants (%d arrows) into %s.", plants, done.Quads, where))
	return p.err
}
