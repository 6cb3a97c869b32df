package shape

import (
	"math"
	"math/bits"
	"slices"
	"sync"

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

// cover is the part of a circle inside another circle, from lo to hi: here in quarters, see
// quarters, with lo in [0, 4); for the arcs of a closing as angles.
type cover struct {
	lo, hi float64
	by     int32
}

// exposed returns the arcs on the outline of the union of g's discs, circle by circle. Area and
// outline are computed from them. They are found once for a group and must not be changed. Some 50 ns
// for each pair of neighbours, less for a circle that a few neighbours cover completely.
func (g *group) exposed() []arc {
	if g.found {
		return g.arcs
	}
	covers := coverRooms.Get().(*[]cover)
	defer coverRooms.Put(covers)
	arcs := slices.Grow(g.arcs[:0], len(g.circles))
	for i := range g.circles {
		var whole bool
		if *covers, whole = g.covers(i, (*covers)[:0]); !whole {
			arcs = g.appendGaps(arcs, int32(i), *covers)
		}
	}
	g.arcs, g.found = arcs, true
	return arcs
}

// coverRooms has slices to be used again.
var coverRooms = sync.Pool{New: func() any { return new([]cover) }}

// covers collects the covers of circle i, nearest in x first, and sorts them. It stops and returns true
// once they cover the whole circle for certain.
func (g *group) covers(i int, covers []cover) ([]cover, bool) {
	if g.rows != nil {
		return g.coversByRows(i, covers)
	}
	var known sectors
	a := g.circles[i]
	reach := a.r + g.largest
	for up, down := i+1, i-1; ; up, down = up+1, down-1 {
		above := up < len(g.circles) && g.circles[up].x-a.x < reach
		below := down >= 0 && a.x-g.circles[down].x < reach
		if !above && !below {
			sortCovers(covers)
			return covers, false
		}
		if above && math.Abs(g.circles[up].y-a.y) < reach {
			covers = g.appendCover(covers, i, up, &known)
		}
		if below && math.Abs(g.circles[down].y-a.y) < reach {
			covers = g.appendCover(covers, i, down, &known)
		}
		if known == allSectors {
			return covers, true
		}
		if !above {
			up = len(g.circles)
		}
		if !below {
			down = -1
		}
	}
}

// sectors has a bit for each of 64 equal parts of a turn: set if a single cover covers the part. With all
// of them set the circle is covered, without sorting its covers.
type sectors uint64

const (
	allSectors       = ^sectors(0)
	sectorsInQuarter = 64 / fullTurn
)

// with adds the parts that a cover of a circle covers for certain.
func (s sectors) with(c cover) sectors {
	first, end := int(c.lo*sectorsInQuarter)+1, int(c.hi*sectorsInQuarter)
	if first >= end {
		return s
	}
	return s | sectors(bits.RotateLeft64(1<<(end-first)-1, first))
}

// sortCovers sorts covers by lo and by, neither of which is NaN.
func sortCovers(covers []cover) {
	if len(covers) > 24 {
		slices.SortFunc(covers, func(a, b cover) int {
			if a.before(b) {
				return -1
			}
			return 1
		})
		return
	}
	for i := 1; i < len(covers); i++ {
		c, j := covers[i], i
		for ; j > 0 && c.before(covers[j-1]); j-- {
			covers[j] = covers[j-1]
		}
		covers[j] = c
	}
}

// before says whether a comes before b; no two covers of a circle are by the same circle.
func (a cover) before(b cover) bool { return a.lo < b.lo || a.lo == b.lo && a.by < b.by }

// fullTurn is a turn in quarters.
const fullTurn = 4

// quarters returns where the direction x, y lies in a turn, from 0 for +x to below 4. It grows with
// the angle and is exact at whole quarters, so that directions can be sorted and compared without
// an arc tangent. Opposite directions are 2 apart.
func quarters(x, y float64) float64 {
	up := math.Copysign(1, y) // no branch: directions come in no order
	if q := 2 - up - up*(x/(math.Abs(x)+math.Abs(y))); q < fullTurn {
		return q
	}
	return 0
}

// appendCover appends the part of circle i that disc j covers, if any, and adds it to known.
func (g *group) appendCover(covers []cover, i, j int, known *sectors) []cover {
	a, b := &g.circles[i], &g.circles[j]
	dx, dy := b.x-a.x, b.y-a.y
	d2 := dx*dx + dy*dy
	if !crosses(a.r+b.r, d2) {
		return covers
	}
	// Where the chord cuts and half its length, as in chord, but d times as much: directions need no
	// division.
	d := math.Sqrt(d2)
	along := (d2 + (a.r-b.r)*(a.r+b.r)) / 2
	half := math.Sqrt(max(0, (a.r*d-along)*(a.r*d+along)))
	lo := quarters(along*dx+half*dy, along*dy-half*dx)
	wide := quarters(along*dx-half*dy, along*dy+half*dx) - lo
	if wide < 0 {
		wide += fullTurn
	}
	// Rounding may put the ends in the wrong order where the circles touch: less than half of the
	// circle is covered where the chord is on the side of the other circle.
	switch {
	case along >= 0 && wide > 3:
		wide = 0
	case along < 0 && wide < 1:
		wide = fullTurn
	}
	c := cover{lo, lo + wide, int32(j)}
	*known = known.with(c)
	return append(covers, c)
}

// angles returns the angles from which and up to which cover c of circle i reaches, in the turn that
// its quarters are in.
func (g *group) angles(i int32, c cover) (lo, hi float64) {
	a, b := g.circles[i], g.circles[c.by]
	dx, dy := b.x-a.x, b.y-a.y
	along, half := chord(a.r, b.r, dx*dx+dy*dy)
	width := math.Atan2(half, along)
	lo = math.Atan2(dy, dx) - width
	if lo < 0 {
		lo += 2 * math.Pi
	}
	hi = lo + 2*width
	// An angle and its quarters differ by less than 0.05 of a turn; near the start of a turn,
	// rounding may put them into neighbouring ones.
	turns := 2 * math.Pi * math.Round(c.lo/fullTurn-lo/(2*math.Pi))
	return lo + turns, hi + turns
}

// chord returns where the common chord of two circles cuts the line between their centres, measured
// from the first, and half the chord's length. r and s are the radii, d2 the squared distance of
// the centres.
func chord(r, s, d2 float64) (along, half float64) {
	d := math.Sqrt(d2)
	along = (d + (r-s)*(r+s)/d) / 2
	return along, math.Sqrt(max(0, (r-along)*(r+along)))
}

// startReach returns the cover that covers the circle farthest from the first cover's start. One
// that runs past a full turn is returned a turn back.
func startReach(covers []cover) cover {
	far := covers[0]
	for _, c := range covers[1:] {
		if c.hi-fullTurn > far.hi {
			far = cover{c.lo - fullTurn, c.hi - fullTurn, c.by}
		}
	}
	return far
}

// appendGaps appends the arcs of circle i that the sorted covers leave.
func (g *group) appendGaps(arcs []arc, i int32, covers []cover) []arc {
	if len(covers) == 0 {
		return append(arcs, arc{circle: i, from: wholeCircle, to: wholeCircle, start: 0, end: 2 * math.Pi})
	}
	far := startReach(covers)
	for _, c := range covers[1:] {
		if c.lo > far.hi {
			arcs = g.appendArc(arcs, i, far, c)
		}
		if c.hi > far.hi {
			far = c
		}
	}
	if last := covers[0]; last.lo+fullTurn > far.hi {
		last.lo, last.hi = last.lo+fullTurn, last.hi+fullTurn
		arcs = g.appendArc(arcs, i, far, last)
	}
	return arcs
}

// appendArc appends the arc of circle i between two covers.
func (g *group) appendArc(arcs []arc, i int32, before, after cover) []arc {
	a := arc{circle: i, from: before.by, to: after.by}
	_, a.start = g.angles(i, before)
	a.end, _ = g.angles(i, after)
	if (a.end-a.start)*g.circles[i].r < shortestArc {
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
