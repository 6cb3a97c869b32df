package webmap

import (
	"iter"
	"math"
	"slices"

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
type grid struct {
	origin orb.Point

	// room for one line, used again for the next
	path []orb.Point
	thin linear.Thinner
}

// newGrid puts the origin at the first position in the data.
func newGrid(run *result.Run) grid {
	for i := range run.Stands {
		if c := run.Stands[i].Center; finite(c) {
			return grid{origin: orb.Point{round(c[0]), round(c[1])}}
		}
	}
	for i := range run.CountLines() {
		for _, p := range run.PathOf(i) {
			if finite(p) {
				return grid{origin: orb.Point{round(p[0]), round(p[1])}}
			}
		}
	}
	return grid{}
}

func round(degrees float64) float64 { return math.Round(degrees*100) / 100 }

func finite(p orb.Point) bool { return !math.IsNaN(p[0]+p[1]) && !math.IsInf(p[0]+p[1], 0) }

// at returns a position in steps, as whole numbers. Longitude is counted the shorter way around the globe.
func (g *grid) at(p orb.Point) orb.Point {
	east := p[0] - g.origin[0]
	if math.Abs(east) > 180 {
		east = math.Remainder(east, 360)
	}
	return orb.Point{math.Round(east * steps), math.Round((p[1] - g.origin[1]) * steps)}
}

// place returns a position in steps; nothing if it is NaN.
func (g *grid) place(p orb.Point) []int {
	if !finite(p) {
		return []int{}
	}
	at := g.at(p)
	return []int{int(at[0]), int(at[1])}
}

// line returns a line's first position, and then the steps from each position to the next. The line is
// simplified, keeping the vertices that are more than thin from it (Douglas & Peucker 1973).
func (g *grid) line(ls []orb.Point) []int {
	g.path = g.path[:0]
	for _, p := range ls {
		if !finite(p) {
			continue
		}
		if at := g.at(p); len(g.path) == 0 || g.path[len(g.path)-1] != at {
			g.path = append(g.path, at)
		}
	}
	keep, kept := g.thin.Kept(g.path, thin), 0
	for i, p := range g.path {
		if keep[i] {
			g.path[kept] = p
			kept++
		}
	}
	return differences(g.path[:kept])
}

// polygons returns rings in the same form. Each polygon begins with its outer ring.
func (g *grid) polygons(rings iter.Seq2[bool, orb.Ring]) [][][]int {
	out := [][][]int{}
	for outer, r := range rings {
		if outer {
			out = append(out, nil)
		}
		if ring := g.line(r); len(ring) >= 6 {
			out[len(out)-1] = append(out[len(out)-1], ring)
		}
	}
	return slices.DeleteFunc(out, func(polygon [][]int) bool { return len(polygon) == 0 })
}

// differences returns a line's first position, and then the steps from each to the next.
func differences(path []orb.Point) []int {
	out := make([]int, 0, 2*len(path))
	last := orb.Point{}
	for _, p := range path {
		out = append(out, int(p[0]-last[0]), int(p[1]-last[1]))
		last = p
	}
	return out
}
