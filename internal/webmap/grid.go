package webmap

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo/linear"
	"driftreach/internal/result"
)

// steps is the resolution of positions in steps per degree: about a tenth of a metre.
const steps = 1e6

// thin is how far a vertex may be from the simplified line, in steps: half a metre. Our choice: finer
// than a screen shows until a stand fills it.
const thin = 5.0

// grid converts positions to whole steps from an origin, which are small numbers.
type grid struct{ origin orb.Point }

// newGrid puts the origin at the first position in the data.
func newGrid(run *result.Run) grid {
	for i := range run.Stands {
		if c := run.Stands[i].Center; finite(c) {
			return grid{orb.Point{round(c[0]), round(c[1])}}
		}
	}
	for i := range run.Centerlines {
		for _, p := range run.Centerlines[i].Path {
			if finite(p) {
				return grid{orb.Point{round(p[0]), round(p[1])}}
			}
		}
	}
	return grid{}
}

func round(degrees float64) float64 { return math.Round(degrees*100) / 100 }

func finite(p orb.Point) bool { return !math.IsNaN(p[0]+p[1]) && !math.IsInf(p[0]+p[1], 0) }

// at returns a position in steps. Longitude is counted the shorter way around the globe.
func (g grid) at(p orb.Point) [2]int {
	return [2]int{int(math.Round(math.Remainder(p[0]-g.origin[0], 360) * steps)), int(math.Round((p[1] - g.origin[1]) * steps))}
}

// place returns a position in steps; nothing if it is NaN.
func (g grid) place(p orb.Point) []int {
	if !finite(p) {
		return []int{}
	}
	at := g.at(p)
	return at[:]
}

// line returns a line's first position, and then the steps from each position to the next.
func (g grid) line(ls orb.LineString) []int {
	path := make([][2]int, 0, len(ls))
	for _, p := range ls {
		if !finite(p) {
			continue
		}
		if at := g.at(p); len(path) == 0 || path[len(path)-1] != at {
			path = append(path, at)
		}
	}
	return differences(thinned(path))
}

// polygons returns rings in the same form.
func (g grid) polygons(mp orb.MultiPolygon) [][][]int {
	out := make([][][]int, 0, len(mp))
	for _, polygon := range mp {
		rings := make([][]int, 0, len(polygon))
		for _, r := range polygon {
			if ring := g.line(orb.LineString(r)); len(ring) >= 6 {
				rings = append(rings, ring)
			}
		}
		if len(rings) > 0 {
			out = append(out, rings)
		}
	}
	return out
}

func differences(path [][2]int) []int {
	out := make([]int, 0, 2*len(path))
	last := [2]int{}
	for _, p := range path {
		out = append(out, p[0]-last[0], p[1]-last[1])
		last = p
	}
	return out
}

// thinned simplifies a line, keeping the vertices that are more than thin from it (Douglas & Peucker
// 1973).
func thinned(path [][2]int) [][2]int {
	keep := linear.Kept(len(path), thin, func(i int) (x, y float64) { return float64(path[i][0]), float64(path[i][1]) })
	n := 0
	for _, kept := range keep {
		if kept {
			n++
		}
	}
	out := make([][2]int, 0, n)
	for i, p := range path {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}
