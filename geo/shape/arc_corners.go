package shape

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"github.com/paulmach/orb"
)

// clearance is the distance at which outlines that touch are drawn apart, metres. Our choice: a
// micrometre keeps the result valid and is far below any survey.
const clearance = 1e-6

// appendCorners appends the corners of arc a except the last.
func (g *group) appendCorners(ring orb.Ring, a arc) orb.Ring {
	c := g.circles[a.circle]
	if a.from == wholeCircle {
		// Half a turn on is the smallest x, where the normal form starts.
		a.start, a.end = math.Pi, 3*math.Pi
	}
	stops := g.stops(a)
	if len(stops) == 0 && a.from == wholeCircle {
		n := sides(c.r, g.sagitta)
		step := 2 * math.Pi / n
		r := c.r * math.Sqrt(step/math.Sin(step))
		return appendTurns(ring, c, r, a.start, step, 0, int(n))
	}
	from := stop{a.start, c.r}
	if a.from == wholeCircle {
		from = stops[0]
		stops = append(stops[1:], stop{from.angle + 2*math.Pi, from.r})
		ring = append(ring, c.at(from))
	} else {
		stops = append(stops, stop{a.end, c.r})
		ring = append(ring, a.first)
	}
	for i, to := range stops {
		ring = appendBetween(ring, c, from, to, sides(c.r, g.sagitta))
		if from = to; i+1 < len(stops) {
			ring = append(ring, c.at(to))
		}
	}
	return ring
}

// stop is a corner that an arc must have: its direction and distance from the centre.
type stop struct{ angle, r float64 }

func (c circle) at(s stop) orb.Point {
	sin, cos := math.Sincos(s.angle)
	return orb.Point{c.x + s.r*cos, c.y + s.r*sin}
}

// stops returns the places inside arc a where its circle nearly touches
// another, in order.
func (g *group) stops(a arc) []stop {
	at := sort.Search(len(g.touches), func(k int) bool { return g.touches[k].circle >= a.circle })
	var stops []stop
	for ; at < len(g.touches) && g.touches[at].circle == a.circle; at++ {
		t := g.touches[at]
		angle := t.angle + 2*math.Pi*math.Ceil((a.start-t.angle)/(2*math.Pi))
		if a.from == wholeCircle || angle > a.start+leastTurn && angle < a.end-leastTurn {
			inward := max(0, clearance-t.gap) / 2
			stops = append(stops, stop{angle, g.circles[a.circle].r - inward})
		}
	}
	slices.SortFunc(stops, func(s, t stop) int { return cmp.Or(cmp.Compare(s.angle, t.angle), cmp.Compare(s.r, t.r)) })
	return apartStops(stops, a.from == wholeCircle)
}

// leastTurn is the smallest angle between two stops, radians. Our choice: 11 micrometres on a
// circle of a tenth of an acre, far above rounding. Where stops are closer, as where circles in
// nearly the same place nearly touch a third, one is enough.
const leastTurn = 1e-6

// apartStops returns sorted stops without those too near the one before. The kept stop moves as far
// inward as the dropped one. round says that the last stop is next to the first.
func apartStops(stops []stop, round bool) []stop {
	kept := stops[:0]
	for _, s := range stops {
		if n := len(kept); n > 0 && s.angle-kept[n-1].angle < leastTurn {
			kept[n-1].r = min(kept[n-1].r, s.r)
			continue
		}
		kept = append(kept, s)
	}
	if n := len(kept); round && n > 1 && kept[0].angle+2*math.Pi-kept[n-1].angle < leastTurn {
		kept[0].r = min(kept[0].r, kept[n-1].r)
		kept = kept[:n-1]
	}
	return kept
}

// appendBetween appends the corners between two stops, all at one distance R from the centre, as
// many as a circle of the given number of sides has in that angle. R is chosen so that the sector
// keeps its area: with n sides of turn t, sin t ((n-2) R^2 + (from.r + to.r) R) = r^2 n t.
func appendBetween(ring orb.Ring, c circle, from, to stop, sides float64) orb.Ring {
	turn := to.angle - from.angle
	n := max(2, math.Ceil(turn*sides/(2*math.Pi)))
	step := turn / n
	b := from.r + to.r
	k := c.r * c.r * turn / math.Sin(step)
	// The root of (n-2) R^2 + b R - k, in the form that holds for n = 2.
	r := 2 * k / (b + math.Sqrt(b*b+4*(n-2)*k))
	return appendTurns(ring, c, r, from.angle, step, 1, int(n))
}

// appendTurns appends the corners lo to hi-1, counted in steps from angle start.
func appendTurns(ring orb.Ring, c circle, r, start, step float64, lo, hi int) orb.Ring {
	sin, cos := math.Sincos(start + step*float64(lo))
	dx, dy := r*cos, r*sin
	sin, cos = math.Sincos(step)
	for range hi - lo {
		ring = append(ring, orb.Point{c.x + dx, c.y + dy})
		dx, dy = dx*cos-dy*sin, dx*sin+dy*cos
	}
	return ring
}
