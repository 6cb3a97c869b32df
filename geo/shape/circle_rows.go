package shape

import "sort"

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
// the largest radius, and there are no more rows than circles. Linear time.
func newRows(circles []circle, largest float64) *rows {
	if len(circles) <= fewCircles {
		return nil
	}
	low, high := circles[0].y, circles[0].y
	for _, c := range circles {
		low, high = min(low, c.y), max(high, c.y)
	}
	r := &rows{low: low, height: max(2*largest, (high-low)/float64(len(circles)-1)), places: make([]rowPlace, len(circles))}
	r.starts = make([]int32, int((high-low)/r.height)+3)
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

// coversByRows is covers with the neighbours found by rows: those of the circle's own row first, nearest
// in x first, since they are the most likely to cover it.
func (g *group) coversByRows(i int, covers []cover) ([]cover, bool) {
	a := g.circles[i]
	reach := a.r + g.largest
	check := firstCheck
	add := func(p rowPlace) (whole bool) {
		if dy := p.y - a.y; int(p.at) != i && dy < reach && -dy < reach {
			covers = g.appendCover(covers, i, int(p.at))
		}
		if len(covers) >= check {
			check *= 2
			sortCovers(covers)
			return coverAll(covers)
		}
		return false
	}
	own := g.rows.of(a.y)
	near := g.rows.along(own, a.x, reach)
	at := sort.Search(len(near), func(k int) bool { return near[k].x >= a.x })
	for up, down := at, at-1; up < len(near) || down >= 0; up, down = up+1, down-1 {
		if up < len(near) && add(near[up]) || down >= 0 && add(near[down]) {
			return covers, true
		}
	}
	first, last := g.rows.around(a.y, reach)
	for row := first; row <= last; row++ {
		if row == own {
			continue
		}
		for _, p := range g.rows.along(row, a.x, reach) {
			if add(p) {
				return covers, true
			}
		}
	}
	sortCovers(covers)
	return covers, false
}
