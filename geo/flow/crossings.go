package flow

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// mostInCell is the largest number of segment runs in a cell that is searched for crossings. Our
// choice: the ditches of a town stay below a tenth of it.
const mostInCell = 400

// passing is a place where two lines cross or touch without a node.
type passing struct {
	low, high int32 // ranks
	at        orb.Point
}

// stretchOfLine is a run of segments of one line.
type stretchOfLine struct {
	number      int32
	rank        int32
	first, last int32 // vertices
	box         box
}

// inCell is a run listed in a cell that its box touches.
type inCell struct {
	cell uint64
	run  int32
}

// reportPassings reports where lines cross or touch away from a node of either, once for each pair
// of lines. Lines whose names decide are skipped. Runs of segments are found by cell, in linear
// time unless lines crowd. Where a cell holds more than mostInCell runs, a finding says that it was
// not searched.
func (b *builder) reportPassings() {
	runs := b.runs()
	listed, long := b.runsByCell(runs)
	found := map[[2]int32]orb.Point{}
	var crowded *stretchOfLine
	cells := 0
	for len(listed) > 0 {
		n := 1
		for n < len(listed) && listed[n].cell == listed[0].cell {
			n++
		}
		here := listed[:n]
		listed = listed[n:]
		if n > mostInCell {
			if cells++; crowded == nil || here[0].run < crowded.number {
				crowded = &runs[here[0].run]
			}
			continue
		}
		for i, x := range here {
			for _, y := range here[i+1:] {
				b.meetAway(&runs[x.run], &runs[y.run], found)
			}
		}
	}
	for _, x := range long {
		for y := range runs {
			b.meetAway(&runs[x], &runs[y], found)
		}
	}
	var all []passing
	for pair, at := range found { // sorted below
		all = append(all, passing{pair[0], pair[1], at})
	}
	slices.SortFunc(all, func(a, b passing) int { return cmp.Or(cmp.Compare(a.low, b.low), cmp.Compare(a.high, b.high)) })
	for _, p := range all {
		b.report(Trouble{
			Kind: Crossing, Lines: []int32{p.low, p.high}, At: p.at,
			Message: fmt.Sprintf("lines %s and %s cross or touch where neither has a node", b.name(p.low), b.name(p.high)),
			Repair:  "not joined: each passes over the other",
		})
	}
	if crowded != nil {
		b.report(Trouble{
			Kind: Crossing, Lines: []int32{crowded.rank}, At: normal(b.line(crowded.rank).Path[crowded.first]),
			Message: fmt.Sprintf("more than %d lines crowd together in %d places, the first at line %s", mostInCell, cells, b.name(crowded.rank)),
			Repair:  "crossings without a node were not looked for there",
		})
	}
}

// runs returns the segment runs of the lines whose names do not decide.
func (b *builder) runs() []stretchOfLine {
	undecided := func(r int32) bool { return b.kept(r) && !b.named[r] }
	n := 0
	for r := range int32(b.lines.Len()) {
		if undecided(r) {
			n += (len(b.line(r).Path) + runSegments - 2) / runSegments
		}
	}
	out := make([]stretchOfLine, 0, n)
	for r := range b.lines.Len() {
		path := b.line(int32(r)).Path
		if !undecided(int32(r)) {
			continue
		}
		for first := 0; first < len(path)-1; first += runSegments {
			last := min(first+runSegments, len(path)-1)
			out = append(out, stretchOfLine{int32(len(out)), int32(r), int32(first), int32(last), boxOf(path[first : last+1])})
		}
	}
	return out
}

// mostCells is the largest number of cells a run may touch and still be listed by cell. Our choice:
// a longer run is compared with every other.
const mostCells = 64

// runsByCell lists the runs by cell, and separately those that touch very many cells.
func (b *builder) runsByCell(runs []stretchOfLine) (listed []inCell, long []int32) {
	grid, n := newCells(max(b.typicalRun(), 1)), 0
	for i := range runs {
		if cells := grid.cellCount(runs[i].box); cells <= mostCells {
			n += int(cells)
		}
	}
	listed = make([]inCell, 0, n)
	for i := range runs {
		if grid.cellCount(runs[i].box) > mostCells {
			long = append(long, int32(i))
			continue
		}
		grid.eachCell(runs[i].box, func(k uint64) bool {
			listed = append(listed, inCell{k, int32(i)})
			return true
		})
	}
	slices.SortFunc(listed, func(a, b inCell) int { return cmp.Or(cmp.Compare(a.cell, b.cell), cmp.Compare(a.run, b.run)) })
	return listed, long
}

// meetAway records where two runs of different lines meet away from every node.
func (b *builder) meetAway(x, y *stretchOfLine, found map[[2]int32]orb.Point) {
	if x.rank == y.rank || !x.box.mayMeet(y.box) {
		return
	}
	pair := [2]int32{min(x.rank, y.rank), max(x.rank, y.rank)}
	if _, known := found[pair]; known {
		return
	}
	p, q := b.line(x.rank).Path, b.line(y.rank).Path
	for i := x.first; i < x.last; i++ {
		if !boxOf(p[i : i+2]).mayMeet(y.box) {
			continue
		}
		for j := y.first; j < y.last; j++ {
			if at, meet := meetingPlace(p[i], p[i+1], q[j], q[j+1]); meet && !b.nearNode(at, x.rank) && !b.nearNode(at, y.rank) {
				found[pair] = normal(at)
				return
			}
		}
	}
}

// meetingPlace returns where two segments meet, as straight lines in degrees.
func meetingPlace(a, b, c, d orb.Point) (orb.Point, bool) {
	// longitudes relative to a
	b[0], c[0], d[0] = a[0]+earth.Wrap(b[0]-a[0]), a[0]+earth.Wrap(c[0]-a[0]), a[0]+earth.Wrap(d[0]-a[0])
	if max(a[0], b[0]) < min(c[0], d[0]) || max(c[0], d[0]) < min(a[0], b[0]) ||
		max(a[1], b[1]) < min(c[1], d[1]) || max(c[1], d[1]) < min(a[1], b[1]) {
		return orb.Point{}, false
	}
	if turn(a, b, c)*turn(a, b, d) > 0 || turn(c, d, a)*turn(c, d, b) > 0 {
		return orb.Point{}, false
	}
	from, to := across(a, b, c), across(a, b, d)
	if from == to {
		return c, true // collinear
	}
	t := from / (from - to)
	return orb.Point{c[0] + t*(d[0]-c[0]), c[1] + t*(d[1]-c[1])}, true
}

// across is twice the area of the triangle abp, positive when p lies to the left.
func across(a, b, p orb.Point) float64 {
	return (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0])
}

// nearNode reports whether a place on a line lies at one of its ends or cuts,
// within twice the snap distance, at least a centimetre.
func (b *builder) nearNode(at orb.Point, rank int32) bool {
	near := max(2*float64(b.options.Snap), 0.01)
	for _, e := range b.ends[2*rank : 2*rank+2] {
		if separation(b.points[e], at) <= near {
			return true
		}
	}
	first, _ := slices.BinarySearchFunc(b.cuts, rank, func(c cut, rank int32) int { return cmp.Compare(c.rank, rank) })
	for _, c := range b.cuts[first:] {
		if c.rank != rank {
			break
		}
		place := b.points[c.point]
		if math.Abs(place[1]-at[1])*leastLatitude > near {
			continue // thousands may be cut into one river
		}
		if separation(place, at) <= near {
			return true
		}
	}
	return false
}

// leastLatitude is less than the length of a degree of latitude anywhere, metres.
const leastLatitude = 110e3
