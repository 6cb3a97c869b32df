package mapfile

// A large map gives each placemark its region with a level of detail (OGC 07-147r2,
// sections 9.13 and 9.15), so that a globe draws what is large enough on the screen to be
// seen and passes over the rest: of 50,000 stands those near by.
const (
	// Our choice: a stand or a stretch is drawn from so many pixels across.
	leastPixels = 3
	// Our choice: points and numbers are drawn once spotSteps, about 200 m, are so many
	// pixels across.
	spotPixels = 24
	spotSteps  = 20_000
)

// MostUnasked is the most stands for which a batch writes the network and map.kml without
// being asked: a small programme wants them, a large one would wait for them. Our choice.
const MostUnasked = 5000

// isLarge says whether a run's map is so large that placemarks have regions.
func isLarge(stands int) bool { return stands > MostUnasked }

// appendRegion appends the region of a shape around which the box lies, drawn from so
// many pixels on; nothing without a box, and across the antimeridian.
func appendRegion(b []byte, around box, pixels int64) []byte {
	if !around.any || around.east-around.west > halfTurn {
		return b
	}
	edge := func(name string, steps int64) {
		b = append(append(append(b, '<'), name...), '>')
		b = appendDegrees(b, steps)
		b = append(append(append(b, "</"...), name...), '>')
	}
	const margin = 1000 // so that none is empty: 11 m
	b = append(b, "<Region><LatLonAltBox>"...)
	edge("north", around.north+margin)
	edge("south", around.south-margin)
	edge("east", min(around.east+margin, halfTurn))
	edge("west", max(around.west-margin, -halfTurn))
	b = append(b, "</LatLonAltBox><Lod>"...)
	edge("minLodPixels", pixels*perDegree)
	return append(b, "</Lod></Region>"...)
}

// appendSpotRegion appends the region of a place.
func appendSpotRegion(b []byte, p place) []byte {
	var around box
	around.add(max(p[0]-spotSteps/2, -halfTurn), p[1]-spotSteps/2, min(p[0]+spotSteps/2, halfTurn), p[1]+spotSteps/2)
	return appendRegion(b, around, spotPixels)
}
