package earth

import (
	"math"

	"github.com/paulmach/orb"
)

// Turned brings a longitude to -180..180 degrees. Unlike Wrap, it leaves both ends as they are.
func Turned(lon float64) float64 {
	return lon - turnsOf(lon)
}

// turnsOf returns the whole turns, in degrees, that Turned subtracts.
func turnsOf(lon float64) float64 {
	if math.Abs(lon) <= 180 {
		return 0
	}
	return 360 * math.Round(lon/360)
}

// TurnedArea returns an area moved east by the given degrees: itself for 0, else a copy.
func TurnedArea(area orb.Polygon, degrees float64) orb.Polygon {
	if degrees == 0 {
		return area
	}
	out := area.Clone()
	for _, ring := range out {
		for i := range ring {
			ring[i][0] += degrees
		}
	}
	return out
}

// EveryTurn returns areas, and copies of their polygons one turn of the globe to the east or west
// where such a copy comes within past degrees of -180..180. So ground across the antimeridian is
// found from either side.
func EveryTurn(areas orb.MultiPolygon, past float64) orb.MultiPolygon {
	var out orb.MultiPolygon
	for _, polygon := range areas {
		box := polygon.Bound()
		for _, turn := range []float64{0, -360, 360} {
			if box.Max[0]+turn >= -180-past && box.Min[0]+turn <= 180+past {
				out = append(out, TurnedArea(polygon, turn))
			}
		}
	}
	return out
}

// RunOn moves each vertex of a path in degrees to the shorter way round from the vertex before, and
// the first to within half a turn of the longitude from, which is brought to -180..180. So a path
// that was cut at the antimeridian, or jumps there, continues past 180. It changes the path in
// place.
func RunOn(path orb.LineString, from float64) {
	last := Turned(from)
	for i := range path {
		path[i][0] -= turnsOf(path[i][0] - last) // equal longitudes stay equal, so that rings stay closed
		last = path[i][0]
	}
}

// RunOnAreas is RunOn for every ring, all starting from the first vertex of the first ring, so that
// parts on both sides of the antimeridian come together. Empty rings are skipped.
func RunOnAreas(areas orb.MultiPolygon) {
	var from *float64
	for _, polygon := range areas {
		for _, ring := range polygon {
			if len(ring) == 0 {
				continue
			}
			if from == nil {
				first := ring[0][0]
				from = &first
			}
			RunOn(orb.LineString(ring), *from)
		}
	}
}
