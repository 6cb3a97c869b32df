package linear

import (
	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// space finds the nearest place from anywhere on the globe. It keeps the runs of an index in boxes
// of earth-centred coordinates, since degrees are a poor measure of long distances. The boxes form
// a binary tree without pointers: box i contains boxes 2i+1 and 2i+2, and each leaf box holds one
// run.
type space struct {
	boxes []solid
	runs  []Run // of the leaf boxes, along a curve over the globe
}

// solid is a box in earth-centred coordinates, metres.
type solid struct{ min, max [3]float64 }

// newSpace returns the space of the lines' runs. Cost: n log n, about 0.5 us a vertex; memory: 12
// bytes a vertex.
func newSpace(lines Lines) *space {
	boxes := sortedBoxes(lines)
	s := &space{runs: make([]Run, 0, len(boxes))}
	for i := range boxes {
		s.runs = append(s.runs, boxes[i].run)
	}
	if len(s.runs) == 0 {
		return s
	}
	inner := len(s.runs) - 1
	s.boxes = make([]solid, inner+len(s.runs))
	for i, r := range s.runs {
		s.boxes[inner+i] = solidAround(lines.At(int(r.Line))[r.First : r.Last+1])
	}
	for i := inner - 1; i >= 0; i-- {
		s.boxes[i] = s.boxes[2*i+1].with(s.boxes[2*i+2])
	}
	return s
}

// solidAround returns the box around places on the ellipsoid.
func solidAround(path orb.LineString) solid {
	first := earth.ECEF(path[0])
	b := solid{first, first}
	for _, p := range path[1:] {
		at := earth.ECEF(p)
		b = b.with(solid{at, at})
	}
	return b
}

func (b solid) with(o solid) solid {
	for k := range b.min {
		b.min[k], b.max[k] = min(b.min[k], o.min[k]), max(b.max[k], o.max[k])
	}
	return b
}
