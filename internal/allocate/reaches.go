package allocate

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/drift"
)

// Reaches returns, by reach, how its length is divided among the units, in the order of the units'
// ids, with the length outside all units last. A segment is straight in degrees and is cut where it
// crosses a unit's edge; one along a border belongs to the smaller id. Parts are measured on the
// ellipsoid and rounded to 1e-4 km by largest remainder, so that they add up to the reach's own
// length. Any number of workers gives the same result.
func (m *Map) Reaches(reaches []drift.Reach, workers int) [][]Length {
	out := make([][]Length, len(reaches))
	inParts(len(reaches), workers, func(i int) {
		out[i] = m.along(reaches[i].Path, int64(math.Round(float64(reaches[i].LengthKm)*1e4)))
	})
	return out
}

// along divides the length of a path; whole is its length in units of 1e-4 km.
func (m *Map) along(path orb.LineString, whole int64) []Length {
	if box := wrapped(path.Bound()); len(path) > 0 && box.Max[0] <= 180+pastAntimeridian {
		if areas, cover := m.coverage.Meeting(box); len(areas) == 0 {
			return []Length{{m.name(cover), whole}}
		}
	}
	meters := m.measure(path)
	areas, weights := inOrder(meters)
	if len(areas) == 0 {
		return []Length{{Outside, whole}}
	}
	var out []Length
	for k, km := range byWeight(whole, weights, nil) {
		if km > 0 || len(areas) == 1 {
			out = append(out, Length{m.name(areas[k]), km})
		}
	}
	if out == nil {
		out = []Length{{m.name(areas[0]), whole}}
	}
	return out
}

// measure returns the metres of a path in each area of the coverage, -1 for none.
func (m *Map) measure(path orb.LineString) map[int32]float64 {
	meters := make(map[int32]float64)
	var parts []shape.Part
	for i := 0; i+1 < len(path); i++ {
		a := orb.Point{earth.Wrap(path[i][0]), path[i][1]}
		b := orb.Point{a[0] + earth.Wrap(path[i+1][0]-path[i][0]), path[i+1][1]}
		at := func(t float64) orb.Point {
			return orb.Point{a[0] + t*(b[0]-a[0]), a[1] + t*(b[1]-a[1])}
		}
		parts = m.coverage.Along(parts[:0], a, b)
		for _, p := range parts {
			meters[p.Area] += float64(earth.Distance(at(p.From), at(p.To)))
		}
	}
	return meters
}
