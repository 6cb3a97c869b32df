package flow

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"driftreach/geo/earth"
)

const (
	// widestGap is the largest distance between two loose ends that counts as a gap, metres. Our
	// choice: a road with its banks, or a strip missing at the edge of a map sheet.
	widestGap = 100
	// inLine is the cosine of 30 degrees, the largest angle between either end's direction and the
	// gap. Our choice.
	inLine = 0.866
)

// openGap is a pair of loose ends, beyond the snap distance of each other, whose lines point at
// each other.
type openGap struct {
	a, b     looseEnd
	distance float64
}

// closeGaps finds the gaps in the lines, closes those up to the distance in the options, and
// reports all. It returns the places at the gaps; these are not reported as dangles. Loose ends are
// found by cell: linear.
func (b *builder) closeGaps() map[int32]bool {
	told := map[int32]bool{}
	for _, g := range b.openGaps() {
		told[g.a.place], told[g.b.place] = true, true
		ranks := []int32{g.a.end / 2, g.b.end / 2}
		slices.Sort(ranks)
		t := Trouble{Lines: ranks, At: b.points[g.a.place]}
		t.Message = fmt.Sprintf("two lines in line with each other end %.1f m apart", g.distance)
		if g.distance <= float64(b.options.CloseGap) {
			b.places.Union(g.a.place, g.b.place)
			t.Kind, t.Repair = GapClosed, "joined as one place, as the settings ask; lengths are unchanged"
		} else {
			t.Kind, t.Repair = GapOpen, "left open: no water passes"
		}
		b.report(t)
	}
	return told
}

// looseEnd is an end of a line that no other line touches.
type looseEnd struct {
	place int32
	end   int32 // index into builder.ends
}

// looseEnds returns, by place, the ends of lines whose names do not decide, at places where no
// other line ends and that lie on no other line.
func (b *builder) looseEnds() []looseEnd {
	degree := b.degrees()
	for _, c := range b.cuts {
		degree[b.places.Find(c.point)] += 2
	}
	var loose []looseEnd
	for e, p := range b.ends {
		if p >= 0 && !b.named[e/2] && degree[b.places.Find(p)] == 1 {
			loose = append(loose, looseEnd{b.places.Find(p), int32(e)})
		}
	}
	slices.SortFunc(loose, func(x, y looseEnd) int { return cmp.Compare(x.place, y.place) })
	return loose
}

// openGaps pairs loose ends, the nearest pairs first. Each end is in one pair at most.
func (b *builder) openGaps() []openGap {
	loose := b.looseEnds()
	grid, index := newCells(widestGap), newBuckets(len(loose))
	var gaps []openGap
	for i, x := range loose {
		p := b.points[x.place]
		grid.eachCell(box{p[0], p[1], p[0], p[1]}.grown(widestGap), func(k uint64) bool {
			for j := index.first(k); j >= 0; j = index.after(j) {
				y := loose[j]
				if d := separation(b.points[y.place], p); d > float64(b.options.Snap) && d <= widestGap && b.faces(x, y, d) {
					gaps = append(gaps, openGap{y, x, d})
				}
			}
			return true
		})
		index.put(grid.cellOf(p), int32(i))
	}
	slices.SortFunc(gaps, func(x, y openGap) int {
		return cmp.Or(cmp.Compare(x.distance, y.distance), cmp.Compare(x.a.place, y.a.place), cmp.Compare(x.b.place, y.b.place))
	})
	taken := map[int32]bool{}
	return slices.DeleteFunc(gaps, func(g openGap) bool {
		if taken[g.a.place] || taken[g.b.place] {
			return true
		}
		taken[g.a.place], taken[g.b.place] = true, true
		return false
	})
}

// faces reports whether two loose ends of different lines point at each other. The direction of an
// end is taken over the length of the gap.
func (b *builder) faces(x, y looseEnd, gap float64) bool {
	if x.end/2 == y.end/2 {
		return false
	}
	p, q := b.points[x.place], b.points[y.place]
	perLon, perLat := earth.LocalScale(p[1])
	gx, gy := earth.Wrap(q[0]-p[0])*perLon, (q[1]-p[1])*perLat
	ax, ay := b.heading(x.end, gap)
	bx, by := b.heading(y.end, gap)
	size := math.Hypot(gx, gy)
	return ax*gx+ay*gy >= inLine*size && -bx*gx-by*gy >= inLine*size
}

// heading returns the unit vector in which a line arrives at one of its ends, from the place that
// far back along it, or from its other end if the line is shorter.
func (b *builder) heading(end int32, back float64) (x, y float64) {
	path := slices.Clone(b.line(end / 2).Path)
	if end%2 == 0 {
		slices.Reverse(path)
	}
	last := path[len(path)-1]
	from := path[0]
	for i := len(path) - 2; i >= 0; i-- {
		if separation(path[i], last) >= back {
			from = path[i]
			break
		}
	}
	perLon, perLat := earth.LocalScale(last[1])
	x, y = earth.Wrap(last[0]-from[0])*perLon, (last[1]-from[1])*perLat
	if size := math.Hypot(x, y); size > 0 {
		return x / size, y / size
	}
	return 0, 0
}
