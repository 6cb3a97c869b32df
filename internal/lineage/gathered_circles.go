package lineage

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/disjoint"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/spill"
)

// circle is ground around a place in degrees.
type circle struct {
	at     orb.Point
	radius geo.Meters
}

// box returns the box of the circle, in degrees.
func (c circle) box() orb.Bound {
	frame, side := earth.NewFrame(c.at), float64(c.radius)
	return orb.Bound{Min: frame.Inverse(orb.Point{-side, -side}), Max: frame.Inverse(orb.Point{side, side})}
}

// whereabouts are circles in groups. A group has one box, so that only the circles of groups with
// boxes that touch need boxes of their own at one time.
type whereabouts struct {
	circles []circle
	group   []int32 // by circle
	boxes   []orb.Bound
	of      []int32 // by stand: its group; -1 for none yet
}

// add adds a circle to the group of a stand; to one of its own for -1.
func (w *whereabouts) add(c circle, stand int32) {
	box, group := c.box(), int32(-1)
	if stand >= 0 {
		for len(w.of) <= int(stand) {
			w.of = append(w.of, -1)
		}
		group = w.of[stand]
	}
	if group < 0 {
		group = int32(len(w.boxes))
		w.boxes = append(w.boxes, box)
		if stand >= 0 {
			w.of[stand] = group
		}
	} else {
		w.boxes[group] = w.boxes[group].Union(box)
	}
	w.circles, w.group = append(w.circles, c), append(w.group, group)
}

// draw returns the circles dissolved, in degrees. Circles that may touch are drawn together, each such
// set in its own frame. It takes the circles over.
func (w *whereabouts) draw(workers int, shelf *spill.Shelf) Pieces {
	classes := shape.Together(w.boxes)
	classOf := make([]int32, len(w.boxes))
	for k, class := range classes {
		for _, group := range class {
			classOf[group] = int32(k)
		}
	}
	count := len(classes)
	first, sorted := disjoint.Group(count, len(w.group), func(i int) int32 { return classOf[w.group[i]] })
	w.boxes, w.of, w.group, classes, classOf = nil, nil, nil, nil, nil
	out := newCollector(count, shelf)
	inSpans(count, workers, func(k int) { w.drawClass(sorted[first[k]:first[k+1]], k, out) })
	return out.pieces()
}

// drawClass draws the circles of class k.
func (w *whereabouts) drawClass(class []int32, k int, out *collector) {
	boxes := make([]orb.Bound, len(class))
	for n, i := range class {
		boxes[n] = w.circles[i].box()
	}
	for _, touching := range shape.Together(boxes) {
		positions := make([]orb.Point, len(touching))
		for n, m := range touching {
			positions[n] = w.circles[class[m]].at
		}
		frame := earth.NewFrame(earth.Center(positions))
		discs := make([]shape.Disc, len(positions))
		for n, m := range touching {
			discs[n] = shape.Disc{Center: frame.Forward(positions[n]), Radius: w.circles[class[m]].radius}
		}
		drawn, _ := shape.DrawDiscs(discs, coarseChord)
		out.add(k, frame.Unproject(drawn))
	}
}
