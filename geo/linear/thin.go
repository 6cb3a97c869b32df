package linear

// Kept returns which of n vertices of a line to keep so that the others are at most by off the
// chords of the kept ones (Douglas & Peucker 1973). Both ends are always kept. at gives the
// vertices' positions in a plane; by is in its unit. n log n as a rule.
func Kept(n int, by float64, at func(i int) (x, y float64)) []bool {
	keep := make([]bool, n)
	if n == 0 {
		return keep
	}
	keep[0], keep[n-1] = true, true
	spans := [][2]int{{0, n - 1}}
	for len(spans) > 0 {
		s := spans[len(spans)-1]
		spans = spans[:len(spans)-1]
		if k := offChord(s[0], s[1], by, at); k > 0 {
			keep[k] = true
			spans = append(spans, [2]int{s[0], k}, [2]int{k, s[1]})
		}
	}
	return keep
}

// offChord returns the vertex between first and last farthest from their chord, 0 when none is
// farther than by.
func offChord(first, last int, by float64, at func(i int) (x, y float64)) int {
	ax, ay := at(first)
	bx, endY := at(last)
	dx, dy := bx-ax, endY-ay
	long := dx*dx + dy*dy
	far, found := by*by, 0
	for i := first + 1; i < last; i++ {
		x, y := at(i)
		x, y = x-ax, y-ay
		off := x*x + y*y
		if long > 0 {
			along := min(1, max(0, (x*dx+y*dy)/long))
			ex, ey := x-along*dx, y-along*dy
			off = ex*ex + ey*ey
		}
		if off > far {
			far, found = off, i
		}
	}
	return found
}
