package flow

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// cut is a place in the middle of a line where another line ends.
type cut struct {
	rank     int32
	point    int32   // of the other line's end
	measure  float64 // along the line, metres
	distance float64 // from the end to the line, metres
	segment  int32   // of the line, where it is nearest
}

// runSegments is how many segments share one box in the search for T-junctions.
// Our choice, measured.
const runSegments = 16

// findHits returns the places on or near the middle of a line that does not end there, sorted by
// line, measure and place. Places are found by cells as wide as a usual run of segments: linear
// unless boxes overlap heavily.
func (b *builder) findHits() []cut {
	return b.hitsIn(b.indexPlaces())
}

// hitsIn returns the places of an index on or near the middle of a line that does not end there,
// sorted by line, measure and place.
func (b *builder) hitsIn(index *placeIndex) []cut {
	workers := b.options.Workers
	found := make([][]cut, chunkCount(b.lines.Len(), workers))
	inChunks(b.lines.Len(), workers, func(chunk, low, high int) {
		for r := low; r < high; r++ {
			if b.ends[2*r] >= 0 {
				found[chunk] = index.hitsOf(b, int32(r), found[chunk])
			}
		}
	})
	return nearestPerLine(slices.Concat(found...))
}

// placeIndex finds places by cell.
type placeIndex struct {
	grid    cells
	buckets *buckets
	degree  []int32 // line ends at each place, by its root
	reach   float64 // metres beyond a line that are searched
}

// indexPlaces puts every place into a cell.
func (b *builder) indexPlaces() *placeIndex {
	x := &placeIndex{degree: b.degrees(), buckets: newBuckets(len(b.points))}
	x.reach = nearMiss * float64(b.options.Snap)
	// at least a metre, so that a snap distance of 0 has cells too
	x.grid = newCells(max(b.typicalRun(), 4*x.reach, 1))
	for i, p := range b.points {
		if x.degree[i] > 0 {
			x.buckets.put(x.grid.cellOf(p), int32(i))
		}
	}
	return x
}

// degrees returns how many lines end at each place, by its root; 0 for points
// that are not a root.
func (b *builder) degrees() []int32 {
	degree := make([]int32, len(b.points))
	for _, p := range b.ends {
		if p >= 0 {
			degree[b.places.Find(p)]++
		}
	}
	return degree
}

// typicalRun returns the mean length of a run of segments, metres.
func (b *builder) typicalRun() float64 {
	var length float64
	runs := 0
	for r, l := range b.length {
		if !math.IsNaN(l) {
			length += l
			runs += (len(b.line(int32(r)).Path) + runSegments - 2) / runSegments
		}
	}
	if runs == 0 {
		return 0
	}
	return length / float64(runs)
}

// hitsOf appends the places near the line at a rank, except its own ends.
func (x *placeIndex) hitsOf(b *builder, r int32, found []cut) []cut {
	path, before := b.line(r).Path, len(found)
	start, end := b.places.Read(b.ends[2*r]), b.places.Read(b.ends[2*r+1])
	for first := 0; first < len(path)-1; first += runSegments {
		last := min(first+runSegments, len(path)-1)
		around := boxOf(path[first : last+1]).grown(x.reach)
		try := func(place int32) {
			if place != start && place != end && around.holds(b.points[place]) {
				found = b.tryHit(r, place, path, first, last, x, found)
			}
		}
		if x.grid.cellCount(around) > float64(len(b.points)) {
			for i := range b.points {
				if x.degree[i] > 0 {
					try(int32(i))
				}
			}
			continue
		}
		x.grid.eachCell(around, func(k uint64) bool {
			for i := x.buckets.first(k); i >= 0; i = x.buckets.after(i) {
				try(i)
			}
			return true
		})
	}
	measureHits(path, found[before:])
	return found
}

// measureHits adds to the measures of hits on a path, which are from the vertex before, that of this vertex.
func measureHits(path orb.LineString, hits []cut) {
	if len(hits) == 0 {
		return
	}
	along := earth.LengthsAlong(path)
	for i := range hits {
		hits[i].measure = float64(along[hits[i].segment]) + hits[i].measure
	}
}

// tryHit appends a hit when a place is near the segments first to last of a line's path: within the snap
// distance, or, for a loose end, within reach. Its measure is from the start of its segment.
func (b *builder) tryHit(r, place int32, path orb.LineString, first, last int, x *placeIndex, found []cut) []cut {
	p := b.points[place]
	perLon, perLat := earth.LocalScale(p[1])
	limit := float64(b.options.Snap)
	if x.degree[place] == 1 {
		limit = x.reach
	}
	best, segment, fraction := limit*limit, -1, 0.0
	ax, ay := earth.Wrap(path[first][0]-p[0])*perLon, (path[first][1]-p[1])*perLat
	for i := first; i < last; i++ {
		bx, by := ax+earth.Wrap(path[i+1][0]-path[i][0])*perLon, (path[i+1][1]-p[1])*perLat
		if d2, t := fromOrigin(ax, ay, bx, by); d2 <= best && (d2 < best || segment < 0) {
			best, segment, fraction = d2, i, t
		}
		ax, ay = bx, by
	}
	if segment < 0 {
		return found
	}
	measure := fraction * float64(earth.Distance(path[segment], path[segment+1]))
	return append(found, cut{r, place, measure, math.Sqrt(best), int32(segment)})
}

// fromOrigin returns the square of the distance from the origin to a segment and
// the fraction of the segment at which it is nearest.
func fromOrigin(ax, ay, bx, by float64) (squared, fraction float64) {
	dx, dy := bx-ax, by-ay
	if l2 := dx*dx + dy*dy; l2 > 0 {
		fraction = min(max(-(ax*dx+ay*dy)/l2, 0), 1)
	}
	x, y := ax+fraction*dx, ay+fraction*dy
	return x*x + y*y, fraction
}

// nearestPerLine keeps the nearest hit for each pair of line and place, sorted by line, measure and
// place.
func nearestPerLine(hits []cut) []cut {
	slices.SortFunc(hits, func(a, b cut) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.point, b.point),
			cmp.Compare(a.distance, b.distance), cmp.Compare(a.measure, b.measure))
	})
	hits = slices.CompactFunc(hits, func(a, b cut) bool { return a.rank == b.rank && a.point == b.point })
	slices.SortFunc(hits, func(a, b cut) int {
		return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.measure, b.measure), cmp.Compare(a.point, b.point))
	})
	return hits
}

// goesThrough says for each place, by its root, whether a line ends there and
// another begins.
func (b *builder) goesThrough() []bool {
	const comes, leaves = 1, 2
	way := make([]uint8, len(b.points))
	for e, p := range b.ends {
		if p >= 0 {
			way[b.places.Find(p)] |= [2]uint8{leaves, comes}[e%2]
		}
	}
	through := make([]bool, len(way))
	for i, w := range way {
		through[i] = w == comes|leaves
	}
	return through
}

// takeCuts turns hits within the snap distance into cuts. Where one line ends and another begins,
// nothing is cut or joined: that place has both inflow and outflow without the crossed line. This
// is judged before any cut. A hit within the snap distance, along the line, of the line's own end
// or of the cut before it joins that place.
func (b *builder) takeCuts(hits []cut) {
	snap := float64(b.options.Snap)
	through := b.goesThrough()
	for _, h := range hits {
		if h.distance > snap || b.named[h.rank] {
			continue
		}
		before := len(b.cuts) - 1
		switch {
		case through[h.point]:
			b.report(Trouble{
				Kind: Crossing, Lines: []int32{h.rank}, At: b.points[h.point],
				Message: fmt.Sprintf("one line ends and another begins on line %s, %.1f m from its start, where it has no node", b.name(h.rank), h.measure),
				Repair:  "not joined: the water flows on past it",
			})
		case h.measure <= snap:
			b.places.Union(h.point, b.ends[2*h.rank])
		case h.measure >= b.length[h.rank]-snap:
			b.places.Union(h.point, b.ends[2*h.rank+1])
		case before >= 0 && b.cuts[before].rank == h.rank && h.measure-b.cuts[before].measure <= snap:
			b.places.Union(h.point, b.cuts[before].point)
		default:
			b.cuts = append(b.cuts, h)
		}
	}
	for _, c := range b.cuts {
		b.report(Trouble{
			Kind: TJunction, Lines: []int32{c.rank}, At: b.points[c.point],
			Message: fmt.Sprintf("another line ends on line %s, %.1f m from its start", b.name(c.rank), c.measure),
			Repair:  "split there",
		})
	}
}
