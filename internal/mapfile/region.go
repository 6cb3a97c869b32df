package mapfile

import "github.com/twpayne/go-kml/v3"

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

// region returns the region for a shape with the given box, drawn from the given size in pixels; nil if
// there is no box or it crosses the antimeridian.
func region(around box, pixels float64) kml.Element {
	if !around.any || around.east-around.west > halfTurn {
		return nil
	}
	const margin = 1000 // 11 m, so that no region is empty
	return kml.Region(
		kml.LatLonAltBox(
			kml.North(degrees(around.north+margin)),
			kml.South(degrees(around.south-margin)),
			kml.East(degrees(min(around.east+margin, halfTurn))),
			kml.West(degrees(max(around.west-margin, -halfTurn))),
		),
		kml.LOD(kml.MinLODPixels(pixels)),
	)
}

// spotRegion returns the region for a single place.
func spotRegion(p place) kml.Element {
	var around box
	around.add(max(p[0]-spotSteps/2, -halfTurn), p[1]-spotSteps/2, min(p[0]+spotSteps/2, halfTurn), p[1]+spotSteps/2)
	return region(around, spotPixels)
}
