package shape

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// wholeCircle takes the place of the neighbour for an arc that is a whole circle.
const wholeCircle = -1

// shortestArc is the length below which an exposed arc counts as rounding, as where several circles
// meet in one place, metres. Our choice: 0.1 micrometre.
const shortestArc = 1e-7

// arc is a piece of a circle that no other disc covers, counter-clockwise.
type arc struct {
	circle      int32
	from, to    int32   // the neighbouring circles at its start and its end
	start, end  float64 // angles, start < end
	first, last orb.Point
}

// cover is the part of a circle inside another circle, as angles; lo in [0, 2 pi).
type cover struct {
	lo, hi float64
	by     int32
}

// exposed returns the arcs on the outline of the union of g's discs, circle by circle. Area and
// outline are computed from them. About 100 ns for each pair of neighbours, less for a circle that
// a few neighbours cover completely.
func (g *group) exposed() []arc {
	arcs := make([]arc, 0, 2*len(g.circles))
	var covers []cover
	for i := range g.circles {
		var whole bool
		if covers, whole = g.covers(i, covers[:0]); !whole {
			arcs = g.appendGaps(arcs, int32(i), covers)
		}
	}
	return arcs
}

// covers collects the covers of circle i, nearest in x first. It stops and returns true once they
// cover the whole circle.
func (g *group) covers(i int, covers []cover) ([]cover, bool) {
	// Our choice: checking after 16, 32, 64 ... covers costs little beside finding them.
	check := 16
	a := g.circles[i]
	reach := a.r + g.largest
	for up, down := i+1, i-1; ; up, down = up+1, down-1 {
		above := up < len(g.circles) && g.circles[up].x-a.x < reach
		below := down >= 0 && a.x-g.circles[down].x < reach
		if !above && !below {
			sortCovers(covers)
			return covers, false
		}
		if above {
			covers = g.appendCover(covers, i, up)
		}
		if below {
			covers = g.appendCover(covers, i, down)
		}
		if len(covers) >= check {
			check = 2 * len(covers)
			if sortCovers(covers); coverAll(covers) {
				return covers, true
			}
		}
		if !above {
			up = len(g.circles)
		}
		if !below {
			down = -1
		}
	}
}

func sortCovers(covers []cover) {
	if len(covers) > 12 {
		slices.SortFunc(covers, compareCovers)
		return
	}
	for i := 1; i < len(covers); i++ {
		for j := i; j > 0 && compareCovers(covers[j], covers[j-1]) < 0; j-- {
			covers[j], covers[j-1] = covers[j-1], covers[j]
		}
	}
}

// compareCovers orders covers by lo and by, neither of which is NaN.
func compareCovers(a, b cover) int {
	switch {
	case a.lo < b.lo:
		return -1
	case a.lo > b.lo:
		return 1
	}
	return int(a.by) - int(b.by)
}

// appendCover appends the part of circle i that disc j covers, if any.
func (g *group) appendCover(covers []cover, i, j int) []cover {
	a, b := g.circles[i], g.circles[j]
	dx, dy := b.x-a.x, b.y-a.y
	d2 := dx*dx + dy*dy
	if !crosses(a.r+b.r, d2) {
		return covers
	}
	along, half := chord(a.r, b.r, d2)
	width := math.Atan2(half, along)
	lo := math.Atan2(dy, dx) - width
	if lo < 0 {
		lo += 2 * math.Pi
	}
	return append(covers, cover{lo, lo + 2*width, int32(j)})
}

// chord returns where the common chord of two circles cuts the line between their centres, measured
// from the first, and half the chord's length. r and s are the radii, d2 the squared distance of
// the centres.
func chord(r, s, d2 float64) (along, half float64) {
	d := math.Sqrt(d2)
	along = (d + (r-s)*(r+s)/d) / 2
	return along, math.Sqrt(max(0, (r-along)*(r+along)))
}

// coverAll reports whether the sorted covers cover the whole circle.
func coverAll(covers []cover) bool {
	reach, _ := startReach(covers)
	for _, c := range covers[1:] {
		if c.lo > reach {
			return false
		}
		reach = max(reach, c.hi)
	}
	return reach >= covers[0].lo+2*math.Pi
}

// startReach returns how far the circle is covered from the first cover's start, including covers
// that run past a full turn, and which circle covers it there.
func startReach(covers []cover) (float64, int32) {
	reach, by := covers[0].hi, covers[0].by
	for _, c := range covers[1:] {
		if c.hi-2*math.Pi > reach {
			reach, by = c.hi-2*math.Pi, c.by
		}
	}
	return reach, by
}

// appendGaps appends the arcs of circle i that the sorted covers leave.
func (g *group) appendGaps(arcs []arc, i int32, covers []cover) []arc {
	if len(covers) == 0 {
		return append(arcs, arc{circle: i, from: wholeCircle, to: wholeCircle, start: 0, end: 2 * math.Pi})
	}
	reach, by := startReach(covers)
	for _, c := range covers[1:] {
		arcs = g.appendArc(arcs, arc{circle: i, from: by, to: c.by, start: reach, end: c.lo})
		if c.hi > reach {
			reach, by = c.hi, c.by
		}
	}
	return g.appendArc(arcs, arc{circle: i, from: by, to: covers[0].by, start: reach, end: covers[0].lo + 2*math.Pi})
}

func (g *group) appendArc(arcs []arc, a arc) []arc {
	if (a.end-a.start)*g.circles[a.circle].r < shortestArc {
		return arcs
	}
	a.first = g.crossing(a.from, a.circle)
	a.last = g.crossing(a.circle, a.to)
	return append(arcs, a)
}

// crossing returns where the outline passes from circle i to circle j: the place where circle i,
// counter-clockwise, enters j. Both circles use the same formula, so that the arcs before and after
// share the place to the last bit.
func (g *group) crossing(i, j int32) orb.Point {
	a, b := g.circles[i], g.circles[j]
	dx, dy := b.x-a.x, b.y-a.y
	d2 := dx*dx + dy*dy
	along, half := chord(a.r, b.r, d2)
	d := math.Sqrt(d2)
	ux, uy := dx/d, dy/d
	return orb.Point{a.x + along*ux + half*uy, a.y + along*uy - half*ux}
}
