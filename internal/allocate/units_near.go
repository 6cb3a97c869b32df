package allocate

import (
	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

const (
	// straightStep is the length, in degrees, up to which a unit's edge is as straight in a stand's
	// frame as on the map. Our choice: within half a millimetre.
	straightStep = 1e-3

	// leastOverlap is the smallest common area of two units, in square metres, that is handled as an
	// overlap. Our choice: a fortieth of the last digit of acres.
	leastOverlap = 0.01
)

// cut holds the units around one stand, in the metres of the stand's frame.
type cut struct {
	frame earth.Frame
	areas []int32            // of the coverage, ascending
	parts []orb.MultiPolygon // by area; where units overlap, each is joined with all earlier ones
	joint bool               // units overlap
}

// lay clips the areas that meet box, in degrees, to its surroundings, and projects them into a
// frame centred on it.
func (m *Map) lay(box orb.Bound, areas []int32) cut {
	c := cut{frame: earth.NewFrame(box.Center()), areas: areas, parts: make([]orb.MultiPolygon, len(areas))}
	// Clipping leaves edges along the sides of its box; these must stay away from the stand.
	around := box.Pad(max(1e-5, 0.1*max(box.Max[0]-box.Min[0], box.Max[1]-box.Min[1])))
	for k, area := range areas {
		c.parts[k] = c.frame.ProjectStraight(m.coverage.Clip(area, around), straightStep)
	}
	for k := range c.parts {
		for _, other := range c.parts[:k] {
			c.joint = c.joint || shape.IntersectionArea(c.parts[k], other) > leastOverlap
		}
	}
	if c.joint {
		for k := range c.parts {
			c.parts[k], _ = shape.MakeValid(c.parts[k])
			if k > 0 {
				c.parts[k] = shape.Union([]orb.MultiPolygon{c.parts[k-1], c.parts[k]}, 1)
			}
		}
	}
	return c
}

// weights returns the square metres of an area in each unit, with those outside all units last.
func (c *cut) weights(s shape.Skyline) []float64 {
	out := make([]float64, len(c.parts)+1)
	held := 0.0
	for k, part := range c.parts {
		area := float64(s.Shared(part))
		if c.joint {
			area = max(0, area-held)
		}
		out[k] = area
		held += area
	}
	out[len(c.parts)] = max(0, float64(s.Area())-held)
	return out
}
