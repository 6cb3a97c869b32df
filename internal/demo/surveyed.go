package demo

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
)

// surveyedAbout is how far crews look around a plant on dry land, or beyond the edge of the lake, in
// metres. Our choice.
const surveyedAbout = 40

// writeSurveyed returns the ground surveyed in a quarter: the shores along their courses, and the
// surroundings of the lake and of the plants on dry land.
func writeSurveyed(land country, colonies []colony, quarter int) []byte {
	var out []mapFeature
	put := func(g orb.Geometry, walk, name, code, how string) {
		if visited(walk, quarter) {
			out = append(out, feature(g, attributes{
				"quarter": calendar[quarter].name, "waterBody": name, "method": how,
				"eventDate": walkedOn(land, code, quarter),
			}))
		}
	}
	for _, s := range shores {
		c := land.courses[courseIndex(land.courses, s.code)]
		put(degreesLine(c.path[vertexAt(c, s.to):vertexAt(c, s.from)+1]), s.walk, c.name, s.code, "on foot")
		if s.code == dam.code {
			lake := c.path[headOfReservoir(c) : vertexAt(c, dam.at)+1]
			put(about(lake, reservoirWidth/2+surveyedAbout), s.walk, reservoirName, s.code, "by boat")
		}
	}
	for _, c := range colonies {
		if c.code != "" {
			continue
		}
		path := []orb.Point{add(c.patches[0].at, orb.Point{1, 0})}
		for _, p := range c.patches {
			path = append(path, p.at)
		}
		put(about(path, surveyedAbout), c.walk, "", "", "on foot")
	}
	return collection(out)
}

// walkedOn returns the day on which a course was walked, as text. A blank code means dry land.
func walkedOn(land country, code string, quarter int) string {
	turn := courseIndex(land.courses, code) + 1
	return surveyDay(turn, len(land.courses)+1, quarter).Format("2006-01-02")
}

// about returns the ground within r of a path, in degrees.
func about(path []orb.Point, r geo.Meters) orb.MultiPolygon {
	ground := shape.Buffer(orb.MultiLineString{path}, r, 8)
	for _, polygon := range ground {
		for _, ring := range polygon {
			for i := range ring {
				ring[i] = degrees(ring[i])
			}
		}
	}
	return ground
}
