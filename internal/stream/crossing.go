package stream

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// crosser finds where a line meets itself. It reuses its memory from line to line.
type crosser struct {
	sides   []side
	drawnOn orb.LineString
}

// side is the box of one segment: along the line's longer axis, and across it.
type side struct {
	begin, end, low, high float64
	index                 int
}

// mostCompared is the mean number of pairs per segment after which the search is given up. Our
// choice: a drawn river stays below ten.
const mostCompared = 500

// crossing returns a place where the path crosses or touches itself, other than at the joint of
// neighbouring segments or where its two ends meet. The test is planar, in degrees: scale does not
// matter for crossings. Longitudes across the antimeridian are made continuous first. It sorts the
// segments along the line's longer axis and compares those whose boxes meet: n log n for an
// ordinary line. After the sort it does at most linear work, so a line that folds back over itself
// again and again may go unreported.
func (c *crosser) crossing(path orb.LineString) (orb.Point, bool) {
	if len(path) < 4 {
		return c.doubling(path)
	}
	path = c.continuous(path)
	if goesOn(path, 0) || goesOn(path, 1) {
		return orb.Point{}, false
	}
	c.fill(path)
	budget := mostCompared * len(c.sides)
	for i, a := range c.sides {
		for _, b := range c.sides[i+1:] {
			if b.begin > a.end || budget < 0 {
				break
			}
			budget--
			if b.low > a.high || a.low > b.high {
				continue
			}
			if p, meet := meeting(path, min(a.index, b.index), max(a.index, b.index)); meet {
				return p, true
			}
		}
	}
	return orb.Point{}, false
}

// goesOn says whether the path never turns back along an axis: such a path cannot meet itself.
func goesOn(path orb.LineString, axis int) bool {
	up, down := true, true
	for i := range len(path) - 1 {
		up = up && path[i][axis] < path[i+1][axis]
		down = down && path[i][axis] > path[i+1][axis]
		if !up && !down {
			return false
		}
	}
	return true
}

// doubling handles a path of two segments, which can only fold back on itself.
func (c *crosser) doubling(path orb.LineString) (orb.Point, bool) {
	if len(path) == 3 {
		return meeting(c.continuous(path), 0, 1)
	}
	return orb.Point{}, false
}

// continuous returns the path, or, if it jumps across the antimeridian, a copy whose longitudes
// continue past 180.
func (c *crosser) continuous(path orb.LineString) orb.LineString {
	for i := range len(path) - 1 {
		if math.Abs(path[i+1][0]-path[i][0]) <= 180 {
			continue
		}
		c.drawnOn = append(c.drawnOn[:0], path[0])
		for _, p := range path[1:] {
			c.drawnOn = append(c.drawnOn, near(c.drawnOn[len(c.drawnOn)-1], p))
		}
		return c.drawnOn
	}
	return path
}

func (c *crosser) fill(path orb.LineString) {
	c.sides = c.sides[:0]
	bound := path.Bound()
	x, y := 0, 1
	if bound.Max[1]-bound.Min[1] > bound.Max[0]-bound.Min[0] {
		x, y = 1, 0
	}
	for i := range len(path) - 1 {
		a, b := path[i], path[i+1]
		c.sides = append(c.sides, side{min(a[x], b[x]), max(a[x], b[x]), min(a[y], b[y]), max(a[y], b[y]), i})
	}
	slices.SortFunc(c.sides, func(a, b side) int {
		return cmp.Or(cmp.Compare(a.begin, b.begin), cmp.Compare(a.index, b.index))
	})
}

// near returns b with a longitude within half a turn of a's.
func near(a, b orb.Point) orb.Point {
	b[0] -= 360 * math.Round((b[0]-a[0])/360)
	return b
}

// meeting returns where segments i < j of the path meet, if that is not allowed.
func meeting(path orb.LineString, i, j int) (orb.Point, bool) {
	a, b, c, d := path[i], path[i+1], path[j], path[j+1]
	ends := i == 0 && j == len(path)-2 && path[0] == path[len(path)-1]
	if j == i+1 || ends {
		return folding(a, b, c, d, j == i+1)
	}
	o1, o2 := turn(a, b, c), turn(a, b, d)
	o3, o4 := turn(c, d, a), turn(c, d, b)
	switch {
	case o1*o2 < 0 && o3*o4 < 0:
		t := math.Abs(o1) / (math.Abs(o1) + math.Abs(o2))
		return orb.Point{c[0] + t*(d[0]-c[0]), c[1] + t*(d[1]-c[1])}, true
	case o1 == 0 && within(a, b, c):
		return c, true
	case o2 == 0 && within(a, b, d):
		return d, true
	case o3 == 0 && within(c, d, a):
		return a, true
	case o4 == 0 && within(c, d, b):
		return b, true
	}
	return orb.Point{}, false
}

// folding says whether two segments with a common end overlap.
func folding(a, b, c, d orb.Point, joined bool) (orb.Point, bool) {
	from, to, at := a, d, b
	if !joined {
		from, to, at = b, c, a
	}
	ux, uy := from[0]-at[0], from[1]-at[1]
	vx, vy := to[0]-at[0], to[1]-at[1]
	return at, ux*vy == uy*vx && ux*vx+uy*vy > 0
}

// turn is positive, zero or negative for p left of, on or right of the line from a to b.
func turn(a, b, p orb.Point) float64 {
	return (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0])
}

func within(a, b, p orb.Point) bool {
	return min(a[0], b[0]) <= p[0] && p[0] <= max(a[0], b[0]) &&
		min(a[1], b[1]) <= p[1] && p[1] <= max(a[1], b[1])
}
