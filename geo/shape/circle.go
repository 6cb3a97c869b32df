package shape

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
)

// touchTolerance is how deep two circles must overlap to count as crossing, metres. Our choice: a
// thousand times the rounding of a frame some 1000 km wide, a millionth of what a survey can
// resolve.
const touchTolerance = 1e-9

// circle is a disc in coordinates relative to its group's origin.
type circle struct{ x, y, r float64 }

// group is a set of discs handled together: sorted by x, y and radius, none empty, none inside
// another, each with the number of its connected component.
type group struct {
	origin    orb.Point
	circles   []circle
	component disjoint.Sets
	largest   float64
	rows      *rows // nil for few circles
	arcs      []arc // once found is true; see exposed
	found     bool
	wide      *widened // the last that grown returned
	sagitta   float64  // of the chords that draw its arcs; 0 for those of Disc.Polygon
	touches   []touch
	corners   orb.Ring // room for a ring
}

// groups has groups whose memory is used again.
var groups = sync.Pool{New: func() any { return new(group) }}

// done lets go of a group, which must not be used again.
func (g *group) done() { groups.Put(g) }

// touch is a place where a circle comes so near to another without crossing it that drawn outlines
// could cross: the direction of the place from the centre, and the gap between the two circles.
type touch struct {
	circle     int32
	angle, gap float64
}

// newGroup reads the discs, with radii enlarged by grow, to be drawn by chords with the given
// sagitta. n log n; quadratic only in discs of many sizes near one place, or much smaller than the
// largest.
func newGroup(discs []Disc, grow, sagitta float64) *group {
	g := newMeasured(discs, grow)
	g.sagitta = sagitta
	g.relate()
	return g
}

// newMeasured is newGroup for measuring without drawing: it does not look for connected components
// or near touches.
func newMeasured(discs []Disc, grow float64) *group {
	g := groups.Get().(*group)
	g.measure(discs, grow)
	return g
}

// measure makes of g what newMeasured returns, in the memory of the circles it had.
func (g *group) measure(discs []Disc, grow float64) {
	*g = group{circles: slices.Grow(g.circles[:0], len(discs)), rows: g.rows, arcs: g.arcs, wide: g.wide, corners: g.corners}
	if g.wide != nil {
		g.wide.known = false
	}
	for _, d := range discs {
		if d.empty() {
			continue
		}
		if len(g.circles) == 0 || geo.ComparePoints(d.Center, g.origin) < 0 {
			g.origin = d.Center
		}
		g.circles = append(g.circles, circle{d.Center[0], d.Center[1], float64(d.Radius)})
	}
	for i, c := range g.circles {
		g.circles[i] = circle{c.x - g.origin[0], c.y - g.origin[1], c.r + grow}
	}
	slices.SortFunc(g.circles, compareCircles)
	g.dropRepeats()
	g.rows = newRows(g.circles, g.largest, g.rows)
	g.dropInner()
}

func compareCircles(a, b circle) int {
	if a.x != b.x {
		return cmp.Compare(a.x, b.x)
	}
	if a.y != b.y {
		return cmp.Compare(a.y, b.y)
	}
	return cmp.Compare(a.r, b.r)
}

// dropRepeats keeps only the largest of several circles with the same centre.
func (g *group) dropRepeats() {
	kept := g.circles[:0]
	for i, c := range g.circles {
		if i+1 < len(g.circles) && g.circles[i+1].x == c.x && g.circles[i+1].y == c.y {
			continue
		}
		kept = append(kept, c)
		g.largest = max(g.largest, c.r)
	}
	g.circles = kept
}

// dropInner drops circles inside another; of equal circles the first stays.
func (g *group) dropInner() {
	least := g.largest
	for _, c := range g.circles {
		least = min(least, c.r)
	}
	var inner []bool
	within := g.largest - least + touchTolerance // no circle's centre is farther inside another
	for i, a := range g.circles {
		g.eachBeside(i, within, func(j int) {
			b := g.circles[j]
			dx, dy, reach := b.x-a.x, b.y-a.y, math.Abs(a.r-b.r)+touchTolerance
			if dx*dx+dy*dy > reach*reach {
				return
			}
			if inner == nil {
				inner = make([]bool, len(g.circles))
			}
			if b.r > a.r {
				inner[i] = true
			} else {
				inner[j] = true
			}
		})
	}
	if inner == nil {
		return
	}
	kept := g.circles[:0]
	for i, c := range g.circles {
		if !inner[i] {
			kept = append(kept, c)
		}
	}
	g.circles = kept
	g.rows = newRows(kept, g.largest, g.rows)
}

// nearTouch is the gap, as a share of both radii, below which the outlines of two circles get a
// corner at the place where they are nearest. Corners lie outside the circle by less than step^2/6
// = 4e-4 of the radius, or two thirds of the chords' sagitta; so a gap below three sagittas is near
// too.
const nearTouch = 1e-3

// relate finds which circles are connected and which nearly touch.
func (g *group) relate() {
	if shown := g.crowded(); shown != nil {
		g.relateCrowded(shown)
		return
	}
	g.relatePairs()
}

// relatePairs is relate by all pairs of circles near each other.
func (g *group) relatePairs() {
	g.component = disjoint.NewSets(len(g.circles))
	g.pairs(func(i, j int, d2 float64) {
		a, b := g.circles[i], g.circles[j]
		if crosses(a.r+b.r, d2) {
			g.component.Union(int32(i), int32(j))
			return
		}
		if gap, near := g.gap(a, b, d2); near {
			angle := math.Atan2(b.y-a.y, b.x-a.x)
			g.touches = append(g.touches, touch{int32(i), angle, gap}, touch{int32(j), angle + math.Pi, gap})
		}
	})
	g.relationsKnown()
}

// relationsKnown makes components and touches ready to be asked.
func (g *group) relationsKnown() {
	for i := range g.component {
		g.component[i] = g.component.Find(int32(i))
	}
	slices.SortFunc(g.touches, func(a, b touch) int {
		return cmp.Or(cmp.Compare(a.circle, b.circle), cmp.Compare(a.angle, b.angle), cmp.Compare(a.gap, b.gap))
	})
}

// crosses reports whether two circles overlap by more than the tolerance. sum is the sum of their
// radii, d2 the squared distance of their centres.
func crosses(sum, d2 float64) bool {
	sum -= touchTolerance
	return d2 < sum*sum
}

// beside returns the squared distance of the centres of two circles, and whether they overlap, or lie so
// near each other that they may nearly touch.
func (g *group) beside(a, b circle) (d2 float64, ok bool) {
	d2 = squareApart(a, b)
	s := (a.r+b.r)*(1+nearTouch) + 3*g.sagitta
	return d2, d2 <= s*s
}

// gap returns the gap between two circles that do not cross, and whether they nearly touch.
func (g *group) gap(a, b circle, d2 float64) (gap float64, near bool) {
	gap = math.Sqrt(d2) - a.r - b.r
	return gap, gap < nearTouch*(a.r+b.r)+3*g.sagitta
}

// squareApart returns the squared distance of two centres.
func squareApart(a, b circle) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	return dx*dx + dy*dy
}

// pairs calls do for each i < j whose circles have boxes near each other, with the squared distance
// of their centres.
func (g *group) pairs(do func(i, j int, d2 float64)) {
	reach := g.largest*(1+nearTouch) + 3*g.sagitta
	for i, a := range g.circles {
		g.eachBeside(i, a.r*(1+nearTouch)+reach, func(j int) {
			if d2, beside := g.beside(a, g.circles[j]); beside {
				do(i, j, d2)
			}
		})
	}
}
