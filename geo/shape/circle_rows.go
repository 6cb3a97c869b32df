package shape

import (
	"math"
	"slices"
	"sort"
)

// fewCircles is the number of circles up to which a group is looked through in x alone. Our choice: rows
// gain nothing in smaller groups.
const fewCircles = 64

// rows is the circles of a group in rows of equal height, each sorted by x. With them the circles near a
// place are found in about the same time whichever way the group runs: along a stream from north to
// south all circles overlap in x.
type rows struct {
	low, height float64
	starts      []int32 // by row, and one more: where it begins in places
	places      []rowPlace
}

// rowPlace is the centre of a circle.
type rowPlace struct {
	x, y float64
	at   int32 // index of the circle
}

// newRows puts circles, which must be sorted by x, into rows; nil for few. No row is lower than twice
// the largest radius, and there are no more rows than circles. It uses the memory of rows made before,
// if not nil. Linear time.
func newRows(circles []circle, largest float64, r *rows) *rows {
	if len(circles) <= fewCircles {
		return nil
	}
	low, high := circles[0].y, circles[0].y
	for _, c := range circles {
		low, high = min(low, c.y), max(high, c.y)
	}
	if r == nil {
		r = new(rows)
	}
	r.low, r.height = low, max(2*largest, (high-low)/float64(len(circles)-1))
	r.places = slices.Grow(r.places[:0], len(circles))[:len(circles)]
	number := int((high-low)/r.height) + 3
	r.starts = slices.Grow(r.starts[:0], number)[:number]
	clear(r.starts)
	for _, c := range circles {
		r.starts[r.of(c.y)+2]++
	}
	for i := 1; i < len(r.starts); i++ {
		r.starts[i] += r.starts[i-1]
	}
	for i, c := range circles {
		next := &r.starts[r.of(c.y)+1]
		r.places[*next] = rowPlace{c.x, c.y, int32(i)}
		*next++
	}
	r.starts = r.starts[:len(r.starts)-1]
	return r
}

// of returns the row of a y from low on. It grows with y.
func (r *rows) of(y float64) int { return int((y - r.low) / r.height) }

// around returns the first and the last row that have places within reach of y.
func (r *rows) around(y, reach float64) (first, last int) {
	reach += touchTolerance // more than rounding
	return r.of(max(y-reach, r.low)), min(r.of(y+reach), len(r.starts)-2)
}

// from returns the places of a row, sorted by x, and the number of the first at x or beyond.
func (r *rows) from(row int, x float64) (places []rowPlace, first int) {
	places = r.places[r.starts[row]:r.starts[row+1]]
	last := len(places)
	for first < last {
		if mid := (first + last) / 2; places[mid].x < x {
			first = mid + 1
		} else {
			last = mid
		}
	}
	return places, first
}

// along returns the places of a row whose x is within reach of x, and some at the bounds, sorted by x.
func (r *rows) along(row int, x, reach float64) []rowPlace {
	reach += touchTolerance
	all := r.places[r.starts[row]:r.starts[row+1]]
	from := sort.Search(len(all), func(k int) bool { return all[k].x >= x-reach })
	all = all[from:]
	return all[:sort.Search(len(all), func(k int) bool { return all[k].x > x+reach })]
}

// eachBeside calls do with every circle after circle i whose centre is within reach of its centre in x
// and in y, and some farther away.
func (g *group) eachBeside(i int, reach float64, do func(j int)) {
	a := g.circles[i]
	if g.rows == nil {
		for j := i + 1; j < len(g.circles) && g.circles[j].x-a.x <= reach+touchTolerance; j++ {
			do(j)
		}
		return
	}
	first, last := g.rows.around(a.y, reach)
	for row := first; row <= last; row++ {
		for _, p := range g.rows.along(row, a.x, reach) {
			if int(p.at) > i {
				do(int(p.at))
			}
		}
	}
}

// coversByRows is covers with the neighbours found by rows: those of the circle's own row first, since
// they are the most likely to cover it; in each row, nearest in x first.
func (g *group) coversByRows(i int, covers []cover) ([]cover, bool) {
	a := g.circles[i]
	reach := a.r + g.largest
	var known sectors
	own := g.rows.of(a.y)
	first, last := g.rows.around(a.y, reach)
	for k := first - 1; k <= last; k++ {
		row := k
		switch k {
		case first - 1:
			row = own
		case own:
			continue
		}
		near, up := g.rows.from(row, a.x)
		for down := up - 1; ; up, down = up+1, down-1 {
			above := up < len(near) && near[up].x-a.x < reach
			below := down >= 0 && a.x-near[down].x < reach
			if !above && !below {
				break
			}
			if above && math.Abs(near[up].y-a.y) < reach && int(near[up].at) != i {
				covers = g.appendCover(covers, i, int(near[up].at), &known)
			}
			if below && math.Abs(near[down].y-a.y) < reach {
				covers = g.appendCover(covers, i, int(near[down].at), &known)
			}
			if known == allSectors {
				return covers, true
			}
			if !above {
				up = len(near)
			}
			if !below {
				down = -1
			}
		}
	}
	sortCovers(covers)
	return covers, false
}
