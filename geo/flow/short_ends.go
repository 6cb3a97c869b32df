package flow

import (
	"fmt"
	"math"

	"driftreach/geo/earth"
)

const (
	// nearMiss is the distance, in snap distances, within which an unconnected end short of a line is
	// reported, wherever it points. Our choice.
	nearMiss = 10
	// ahead is the cosine of 60 degrees, the largest angle between the direction in which a line
	// arrives at its downstream end and the way from there to the nearest place of a line up to
	// widestGap away. Our choice: tributaries join at up to such an angle from the square.
	ahead = 0.5
)

// reportShortEnds reports loose ends that stop short of a line, except those at gaps: either end
// within nearMiss, and downstream ends that point at a line within widestGap. A stream that is cut
// at a road or at the edge of a wide river ends so, and no water passes.
func (b *builder) reportShortEnds(hits []cut, gaps map[int32]bool) {
	ends := b.singleEnds()
	nearest := map[int32]cut{}
	take := func(h cut) {
		if old, ok := nearest[h.point]; !ok || h.distance < old.distance {
			nearest[h.point] = h
		}
	}
	for _, h := range hits {
		if _, single := ends[h.point]; single && !b.named[h.rank] {
			take(h)
		}
	}
	for _, h := range b.hitsAhead(nearest, gaps) {
		take(h)
	}
	for _, point := range sortedKeys(nearest) {
		h := nearest[point]
		if h.distance <= float64(b.options.Snap) || gaps[point] {
			continue
		}
		end, repair := ends[point], "left open: no water passes"
		if h.distance <= nearMiss*float64(b.options.Snap) {
			repair += "; a larger snap distance would join them"
		}
		b.report(Trouble{
			Kind: Dangle, Lines: []int32{end / 2, h.rank}, At: b.points[point],
			Message: fmt.Sprintf("line %s %s %.1f m short of line %s", b.name(end/2), [2]string{"begins", "ends"}[end%2], h.distance, b.name(h.rank)),
			Repair:  repair,
		})
	}
}

// singleEnds returns the end of a line at each place where no other line ends.
func (b *builder) singleEnds() map[int32]int32 {
	degree, ends := b.degrees(), map[int32]int32{}
	for e, p := range b.ends {
		if p < 0 {
			continue
		}
		if place := b.places.Find(p); degree[place] == 1 {
			ends[place] = int32(e)
		}
	}
	return ends
}

// hitsAhead returns the places of lines within widestGap that the loose downstream ends point at,
// except those of ends in near, which are reported already, and at gaps.
func (b *builder) hitsAhead(near map[int32]cut, gaps map[int32]bool) []cut {
	x := &placeIndex{degree: make([]int32, len(b.points)), buckets: newBuckets(len(b.points)), reach: widestGap}
	x.grid = newCells(max(b.typicalRun(), 4*x.reach))
	ends := map[int32]int32{}
	for _, l := range b.looseEnds() {
		if _, told := near[l.place]; !told && !gaps[l.place] && l.end%2 == 1 {
			ends[l.place], x.degree[l.place] = l.end, 1
			x.buckets.put(x.grid.cellOf(b.points[l.place]), l.place)
		}
	}
	if len(ends) == 0 {
		return nil
	}
	var found []cut
	for _, h := range b.hitsIn(x) {
		if !b.named[h.rank] && b.pointsAt(ends[h.point], h) {
			found = append(found, h)
		}
	}
	return found
}

// pointsAt says whether the line that ends at end points at a hit. Its direction is taken over the
// length of the gap.
func (b *builder) pointsAt(end int32, h cut) bool {
	from := b.points[h.point]
	perLon, perLat := earth.LocalScale(from[1])
	path := b.line(h.rank).Path[h.segment:]
	ax, ay := earth.Wrap(path[0][0]-from[0])*perLon, (path[0][1]-from[1])*perLat
	bx, by := ax+earth.Wrap(path[1][0]-path[0][0])*perLon, (path[1][1]-from[1])*perLat
	_, t := fromOrigin(ax, ay, bx, by)
	x, y := ax+t*(bx-ax), ay+t*(by-ay)
	hx, hy := b.heading(end, h.distance)
	return hx*x+hy*y >= ahead*math.Hypot(x, y)
}
