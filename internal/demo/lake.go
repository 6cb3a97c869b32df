package demo

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
)

// growLake returns the lake behind the dam, in metres. It is made of discs along the drowned course,
// narrow at the upper end, uneven on both sides and cut off straight at the dam.
func growLake(seed uint64, courses []course) orb.MultiPolygon {
	r := dice(seed, 3)
	c := courses[courseIndex(courses, dam.code)]
	from, to := c.arc[headOfReservoir(c)], c.arc[vertexAt(c, dam.at)]
	phase := 2 * math.Pi * r.Float64()
	var discs []shape.Disc
	for at := from + lakeStep; at <= to; at += lakeStep {
		on, _ := c.at(at)
		discs = append(discs, shape.Disc{Center: on, Radius: lakeRadius(at-from, phase)})
	}
	lake, _ := shape.DrawDiscs(discs, shoreChord)
	return shape.Difference(lake, belowDam(c, to))
}

// lakeStep is the distance between discs, and shoreChord how far a chord of the shore may lie inside
// the curve, both in metres. Our choice: a shore as traced from air photographs.
const (
	lakeStep   = 8
	shoreChord = 0.5
)

// lakeRadius returns the half width at a distance below the upper end, in metres. It widens over the
// first 300 m to the reservoir's width, varied by 12 %. Our choice, by eye.
func lakeRadius(down, phase float64) geo.Meters {
	const head = 300
	wide := reservoirWidth / 2 * (1 + 0.08*math.Sin(phase+down/110) + 0.04*math.Sin(3*phase+down/37))
	return geo.Meters(wide * math.Sqrt(min(1, down/head)))
}

// belowDam returns the ground below the dam that the discs of the reservoir overlap.
func belowDam(c course, at float64) orb.MultiPolygon {
	on, heading := c.at(at)
	const aside = reservoirWidth
	left, right := ahead(on, heading+math.Pi/2, aside), ahead(on, heading-math.Pi/2, aside)
	return orb.MultiPolygon{{{left, right, ahead(right, heading, aside), ahead(left, heading, aside), left}}}
}

// writeWater returns the water surfaces.
func writeWater(land country) []byte {
	lake := land.lake.Clone()
	for _, polygon := range lake {
		for _, ring := range polygon {
			for i := range ring {
				ring[i] = degrees(ring[i])
			}
		}
	}
	return collection([]mapFeature{feature(lake, attributes{"water_id": "PEL", "waterBody": reservoirName, "kind": "reservoir"})})
}
