package mapfile

// In a large KML each placemark has a region with a level of detail (OGC 07-147r2, sections 9.13 and
// 9.15). A globe then draws only what is large enough on the screen to be seen: of 50,000 stands, those
// nearby.
const (
	// Our choice: a stand or a stretch is drawn once it is this many pixels across.
	leastPixels = 3
	// Our choice: points and numbers are drawn once spotSteps, about 200 m, are this many pixels
	// across.
	spotPixels = 24
	spotSteps  = 20_000
)

// MostUnasked is the most stands for which a batch writes the network and map.kml without being asked:
// a small programme wants them, a large one would have to wait for them. Our choice.
const MostUnasked = 5000

// isLarge says whether a map with this number of stands is so large that the placemarks of a KML have
// regions, and a KMZ comes in parts.
func isLarge(stands int) bool { return stands > MostUnasked }

// appendRegion appends the region for a shape with the given box, drawn from the given size in pixels;
// nothing if there is no box or it crosses the antimeridian.
func appendRegion(b []byte, around box, pixels int64) []byte {
	if !around.any || around.east-around.west > halfTurn {
		return b
	}
	edge := func(name string, steps int64) {
		b = append(append(append(b, '<'), name...), '>')
		b = appendDegrees(b, steps)
		b = append(append(append(b, "</"...), name...), '>')
	}
	const margin = 1000 // 11 m, so that no region is empty
	b = append(b, "<Region><LatLonAltBox>"...)
	edge("north", around.north+margin)
	edge("south", around.south-margin)
	edge("east", min(around.east+margin, halfTurn))
	edge("west", max(around.west-margin, -halfTurn))
	b = append(b, "</LatLonAltBox><Lod>"...)
	edge("minLodPixels", pixels*perDegree)
	return append(b, "</Lod></Region>"...)
}

// appendSpotRegion appends the region for a single place.
func appendSpotRegion(b []byte, p place) []byte {
	var around box
	around.add(max(p[0]-spotSteps/2, -halfTurn), p[1]-spotSteps/2, min(p[0]+spotSteps/2, halfTurn), p[1]+spotSteps/2)
	return appendRegion(b, around, spotPixels)
}
