package earth

import (
	"math"

	"github.com/paulmach/orb"
)

// Turned brings a longitude to -180..180 degrees. Both ends stay as they are,
// unlike with Wrap.
func Turned(lon float64) float64 {
	if math.Abs(lon) <= 180 {
		return lon
	}
	return lon - 360*math.Round(lon/360)
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

// RunOn takes each vertex of a path of degrees the shorter way round from the
// one before, the first from the longitude from, brought to -180..180. So what
// was cut at the antimeridian, or jumps there, runs on past 180. It changes the
// path itself.
func RunOn(path orb.LineString, from float64) {
	last := Turned(from)
	for i := range path {
		path[i][0] = last + Turned(path[i][0]-last)
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
