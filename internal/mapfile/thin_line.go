package mapfile

import (
	"math"
	"slices"
)

// thinTolerance is how far, in metres, a simplified line on the KML map may be from the full one. Our
// choice: a twentieth of the accuracy of a survey position. GeoJSON keeps every vertex, and outlines
// are never simplified, because that would change their area.
const thinTolerance = 0.2

// metersPerStep is the length in metres of one step of latitude: 1e-7 of a mean degree of 111 195 m
// (sphere of 6 371 km, accurate enough for a tolerance).
const metersPerStep = 0.0111195

// thinner removes vertices that a map does not need. It reuses its memory.
type thinner struct {
	keep  []bool
	stack [][2]int
	out   []place
}

// line returns an open line with only the vertices it needs.
func (t *thinner) line(l []place) []place {
	if len(l) < 3 {
		return l
	}
	t.mark(l, [][2]int{{0, len(l) - 1}})
	return t.out
}

// mark marks the ends of the given spans and all vertices that are too far from the chords, and
// collects them.
func (t *thinner) mark(path []place, spans [][2]int) {
	t.keep = slices.Grow(t.keep[:0], len(path))[:len(path)]
	clear(t.keep)
	t.stack = append(t.stack[:0], spans...)
	squeeze := math.Cos(path[0].lat() * math.Pi / 180)
	for len(t.stack) > 0 {
		s := t.stack[len(t.stack)-1]
		t.stack = t.stack[:len(t.stack)-1]
		t.keep[s[0]], t.keep[s[1]] = true, true
		if k := offChord(path, s[0], s[1], squeeze); k > 0 {
			t.stack = append(t.stack, [2]int{s[0], k}, [2]int{k, s[1]})
		}
	}
	t.out = t.out[:0]
	for i, p := range path {
		if t.keep[i] {
			t.out = append(t.out, p)
		}
	}
}

// offChord returns the index of the vertex between a and b that is farthest from their chord; 0 if all
// are within the tolerance.
func offChord(path []place, a, b int, squeeze float64) int {
	const limit = (thinTolerance / metersPerStep) * (thinTolerance / metersPerStep)
	from := path[a]
	cx, cy := float64(path[b][0]-from[0])*squeeze, float64(path[b][1]-from[1])
	length := cx*cx + cy*cy
	worst, at := limit, 0
	promising := worst * length * nearlyOne
	for i, p := range path[a+1 : b] {
		x, y := float64(p[0]-from[0])*squeeze, float64(p[1]-from[1])
		var d float64
		switch along := x*cx + y*cy; {
		case along <= 0: // nearest to the start of the chord
			d = x*x + y*y
		case along >= length: // nearest to its end
			d = (x-cx)*(x-cx) + (y-cy)*(y-cy)
		default:
			cross := x*cy - y*cx
			if cross *= cross; cross < promising {
				continue // no division for most vertices
			}
			d = cross / length
		}
		if d > worst {
			worst, at = d, a+1+i
			promising = worst * length * nearlyOne
		}
	}
	return at
}

// nearlyOne leaves room for the rounding of a product and a quotient.
const nearlyOne = 1 - 1e-12
