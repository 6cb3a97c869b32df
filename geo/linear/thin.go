package linear

import (
	"slices"

	"github.com/paulmach/orb"
)

// Thinner finds which vertices a thinned line keeps. It reuses its memory. The zero value is ready.
type Thinner struct {
	keep  []bool
	spans [][2]int
}

// Kept returns which vertices of a line in a plane to keep so that the others are at most by off
// the chords of the kept ones (Douglas & Peucker 1973). Both ends are always kept. by is in the
// unit of the positions. The answer is valid until the next call. n log n as a rule.
func (t *Thinner) Kept(line []orb.Point, by float64) []bool {
	n := len(line)
	t.keep = slices.Grow(t.keep[:0], n)[:n]
	clear(t.keep)
	if n == 0 {
		return t.keep
	}
	t.keep[0], t.keep[n-1] = true, true
	t.spans = append(t.spans[:0], [2]int{0, n - 1})
	for len(t.spans) > 0 {
		s := t.spans[len(t.spans)-1]
		t.spans = t.spans[:len(t.spans)-1]
		if k := offChord(line[s[0]:s[1]+1], by); k > 0 {
			k += s[0]
			t.keep[k] = true
			t.spans = append(t.spans, [2]int{s[0], k}, [2]int{k, s[1]})
		}
	}
	return t.keep
}

// Kept is Thinner.Kept for a single line.
func Kept(line []orb.Point, by float64) []bool { return new(Thinner).Kept(line, by) }

// nearlyOne leaves room for rounding: what looks nearer than this share of a distance is nearer.
const nearlyOne = 1 - 1e-6

// offChord returns the vertex farthest from the chord between the ends of a line, 0 when none is
// farther than by.
func offChord(line []orb.Point, by float64) int {
	a, b := line[0], line[len(line)-1]
	dx, dy := b[0]-a[0], b[1]-a[1]
	long := dx*dx + dy*dy
	far, found := by*by, 0
	clearly := far * long * nearlyOne
	for i, p := range line[:len(line)-1] {
		x, y := p[0]-a[0], p[1]-a[1]
		off := x*x + y*y
		if long > 0 {
			dot, cross := x*dx+y*dy, x*dy-y*dx
			if dot > 0 && dot < long && cross*cross < clearly {
				continue // no division for most vertices
			}
			along := min(1, max(0, dot/long))
			ex, ey := x-along*dx, y-along*dy
			off = ex*ex + ey*ey
		}
		if off > far {
			far, found = off, i
			clearly = far * long * nearlyOne
		}
	}
	return found
}
