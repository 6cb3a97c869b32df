package earth

import (
	"math"

	"github.com/paulmach/orb"
)

// Turned brings a longitude to -180..180 degrees. Both ends stay as they are,
// unlike with Wrap.
func Turned(lon float64) float64 {
	return lon - turnsOf(lon)
}

// turnsOf returns the whole turns, in degrees, that Turned takes away.
func turnsOf(lon float64) float64 {
	if math.Abs(lon) <= 180 {
		return 0
	}
	return 360 * math.Round(lon/360)
}

// TurnedArea returns an area moved east by so many degrees: itself for 0, else a
// copy.
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

// EveryTurn returns areas with those of their polygons that, a turn of the globe to
// the east or west, come within past degrees of -180..180: so what runs on over the
// antimeridian is met from either side.
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

// RunOn takes each vertex of a path of degrees the shorter way round from the
// one before, the first from the longitude from, brought to -180..180. So what
// was cut at the antimeridian, or jumps there, runs on past 180. It changes the
// path itself.
func RunOn(path orb.LineString, from float64) {
	last := Turned(from)
	for i := range path {
		path[i][0] -= turnsOf(path[i][0] - last) // equal longitudes stay equal, so that rings stay closed
		last = path[i][0]
	}
}

// RunOnAreas is RunOn for every ring, all from the first vertex of the first, so
// that parts on both sides of the antimeridian come together. Empty rings are
// passed over.
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
