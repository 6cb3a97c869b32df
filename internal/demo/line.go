package demo

import (
	"slices"

	"github.com/paulmach/orb"
)

// line is one centerline: a piece of a course between two nodes.
type line struct {
	id       string
	name     string
	path     []orb.Point // metres, downstream
	order    int
	width    float64 // bankfull, metres
	branch   int     // 0 none, 1 main path, 2 minor path of a braid
	share    float64 // of the flow, where branch says so
	barrier  string  // at the downstream end
	pass     float64
	upstream float64 // km of stream above its lower end, without minor channels
}

// vertexAt returns the vertex at a share of the length from the mouth.
func vertexAt(c course, share float64) int {
	i, _ := slices.BinarySearch(c.arc, c.length()*(1-share))
	return i
}
