package batch

import (
	"fmt"

	"driftreach/geo/parallel"
)

// stage is one step of the computation.
type stage struct {
	name string
	run  func() error // nil for a step that this batch does not need
}

// when returns a step that runs only if given is true.
func when(given bool, run func() error) func() error {
	if !given {
		return nil
	}
	return run
}

// inTurn runs stages one after the other, until one fails or the context ends.
func (c *computation) inTurn(all []stage) error {
	for _, s := range all {
		if s.run == nil {
			continue
		}
		if err := c.ctx.Err(); err != nil {
			return err
		}
		done := c.host.Listener().Stage(s.name)
		err := s.run()
		done()
		if err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
	}
	return nil
}

// atOnce runs independent chains of stages at the same time.
func (c *computation) atOnce(chains ...[]stage) error {
	var tasks parallel.Group
	tasks.SetLimit(c.host.Goroutines())
	for _, chain := range chains {
		tasks.Go(func() error { return c.inTurn(chain) })
	}
	return tasks.Wait()
}
