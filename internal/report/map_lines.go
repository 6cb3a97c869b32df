package report

import (
	"strconv"

	"github.com/paulmach/orb"

	"driftreach/geo/linear"
)

// mostLineBytes is the most a layer of lines takes. Our choice: four layers of a
// map, of two maps, stay below one megabyte.
const mostLineBytes = 120_000

// tracer draws lines as one path on the grid of a map, each stretch between
// two grid points once.
type tracer struct {
	view *view
	seen map[[4]int32]bool
	runs [][]dot
}

func newTracer(v *view) *tracer { return &tracer{view: v, seen: map[[4]int32]bool{}} }

// add draws a line of degrees; what lies wholly off the map is left out.
func (t *tracer) add(ls orb.LineString) {
	line := make([]dot, 0, len(ls))
	near := false
	for _, p := range ls {
		d := t.view.at(p)
		near = near || t.view.inside(d, 0)
		if n := len(line); n == 0 || line[n-1] != d {
			line = append(line, d)
		}
	}
	if near && len(line) > 1 {
		t.runs = append(t.runs, thinned(line, 1))
	}
}

// path returns the path's data, coarser steps taken until it is small enough.
func (t *tracer) path() string {
	for step := int32(1); ; step *= 2 {
		clear(t.seen)
		if b := t.data(step); len(b) <= mostLineBytes {
			return string(b)
		}
	}
}

// data writes every run on a grid of the given step.
func (t *tracer) data(step int32) []byte {
	var b []byte
	for _, run := range t.runs {
		open := false
		last := t.snap(run[0], step)
		for _, d := range run[1:] {
			next := t.snap(d, step)
			if next == last {
				continue
			}
			if t.drawn(last, next) {
				last, open = next, false
				continue
			}
			if !open {
				b = appendDot(b, 'M', last)
				open = true
			}
			b = appendDot(b, 'l', dot{next.x - last.x, next.y - last.y})
			last = next
		}
		if len(b) > mostLineBytes && step < 1<<12 {
			return b
		}
	}
	return b
}

func (t *tracer) snap(d dot, step int32) dot {
	s := int(step)
	if s == 1 {
		return d
	}
	half := func(x int) int {
		if x < 0 {
			return -((-x + s/2) / s) * s
		}
		return (x + s/2) / s * s
	}
	return dot{half(d.x), half(d.y)}
}

// drawn says whether the stretch is there already, whichever way, and notes it.
func (t *tracer) drawn(a, b dot) bool {
	if a.x > b.x || a.x == b.x && a.y > b.y {
		a, b = b, a
	}
	key := [4]int32{int32(a.x), int32(a.y), int32(b.x), int32(b.y)}
	if t.seen[key] {
		return true
	}
	t.seen[key] = true
	return false
}

// appendDot appends a letter and two numbers.
func appendDot(b []byte, letter byte, d dot) []byte {
	b = append(b, letter)
	b = strconv.AppendInt(b, int64(d.x), 10)
	if d.y >= 0 {
		b = append(b, ' ')
	}
	return strconv.AppendInt(b, int64(d.y), 10)
}

// thinned keeps the vertices of a line that lie more than some steps off the
// chords of those kept (Douglas & Peucker 1973).
func thinned(line []dot, by float64) []dot {
	keep := linear.Kept(len(line), by, func(i int) (x, y float64) { return float64(line[i].x), float64(line[i].y) })
	out := line[:0]
	for i, d := range line {
		if keep[i] {
			out = append(out, d)
		}
	}
	return out
}
