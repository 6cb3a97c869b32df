package shape

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// manySides is the number of vertices from which an area is grown along its outline rather than by
// the polygon library, which cuts every side with all that lie within the distance: an outline of
// 25 000 vertices 12 cm apart took it 23 s for 30 m. Our choice: as fine a track around a stand
// takes the library a tenth of a second.
const manySides = 512

// bufferOutline returns mp grown by r, or shrunk for a negative r; false where rounding spoils it.
// Parts of mp may overlap only where it grows. No line crosses an outline of the ground within r of
// all outlines: so each lies wholly inside mp or wholly outside. Those outside bound the grown
// area, those inside, turned round, the shrunk one. Near linear in the vertices.
func bufferOutline(mp orb.MultiPolygon, r float64, quadrantSegments int) (orb.MultiPolygon, bool) {
	var lines []orb.LineString
	for _, polygon := range mp {
		for _, ring := range polygon {
			lines = append(lines, closedLine(ring))
		}
	}
	far := max(r, -r)
	radius := make([]geo.Meters, len(lines))
	for i := range radius {
		radius[i] = geo.Meters(far)
	}
	inside := NewCoverage([]orb.MultiPolygon{mp})
	var outlines []orb.Ring
	for _, polygon := range BufferLines(lines, radius, quadrantSegments, 1) {
		for _, ring := range polygon {
			switch in := inside.First(ring[0]) >= 0; {
			case !in && r > 0:
				outlines = append(outlines, ring)
			case in && r < 0:
				slices.Reverse(ring)
				outlines = append(outlines, ring)
			}
		}
	}
	grown, ok := nestByTurn(outlines)
	if !ok {
		return nil, false
	}
	return normalize(grown), true
}

// closedLine returns a ring as a line that ends where it begins.
func closedLine(ring orb.Ring) orb.LineString {
	line := slices.Clone(orb.LineString(ring))
	if len(line) > 0 && line[0] != line[len(line)-1] {
		line = append(line, line[0])
	}
	return line
}
