package report

import (
	"strconv"

	"github.com/paulmach/orb"

	"driftreach/geo/linear"
)

// mostLineBytes is the largest size of a layer of lines. Our choice: four layers in each of two maps
// are then below one megabyte.
const mostLineBytes = 120_000

// tracer draws lines as one path on the grid of a map. It draws each stretch between two grid points
// only once.
type tracer struct {
	view *view
	seen map[[4]int32]bool
	runs [][]dot
}

func newTracer(v *view) *tracer { return &tracer{view: v, seen: map[[4]int32]bool{}} }

// add draws a line in degrees. Parts outside the map are left out.
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

// path returns the path data, on a coarser grid if it would be too large.
func (t *tracer) path() string {
	for step := int32(1); ; step *= 2 {
		clear(t.seen)
		if b := t.data(step); len(b) <= mostLineBytes {
			return string(b)
		}
	}
}

// data writes all lines on a grid with the given step.
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

// drawn says whether the stretch has been drawn already, in either direction, and records it.
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

// thinned simplifies a line, keeping the vertices that are more than by steps from it (Douglas &
// Peucker 1973).
func thinned(line []dot, by float64) []dot {
	places := make([]orb.Point, len(line))
	for i, d := range line {
		places[i] = orb.Point{float64(d.x), float64(d.y)}
	}
	keep := linear.Kept(places, by)
	out := line[:0]
	for i, d := range line {
		if keep[i] {
			out = append(out, d)
		}
	}
	return out
}
