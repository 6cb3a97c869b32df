package demo

import (
	"math/rand/v2"

	"github.com/paulmach/orb"
)

// country is the invented land, in metres of a frame around its middle.
type country struct {
	courses []course // rivers and creeks; a course comes after the one it joins
	lines   []line   // the courses cut at confluences and barriers
	coast   orb.Ring // counter-clockwise
	lake    orb.MultiPolygon
}

// dice returns the random source for one part of the scenario, so that changing one part does not
// change the others.
func dice(seed, part uint64) *rand.Rand {
	return rand.New(rand.NewPCG(seed, part))
}

// The walks of the Iskarrow, which needs more than one crew.
const lowerIskarrow, upperIskarrow = "ISK lower", "ISK upper"
