package geo

import (
	"cmp"
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// ComparePoints orders positions by their first coordinate, from west to east, then by the second.
func ComparePoints(a, b orb.Point) int {
	if c := cmp.Compare(a[0], b[0]); c != 0 {
		return c
	}
	return cmp.Compare(a[1], b[1])
}

// CompareLines orders sets of lines by their positions; of two with the same beginning the shorter
// comes first.
func CompareLines[L ~[]orb.LineString](a, b L) int {
	return slices.CompareFunc(a, b, func(x, y orb.LineString) int { return slices.CompareFunc(x, y, ComparePoints) })
}

// CompareAreas orders areas by their positions, polygon by polygon and ring by ring.
func CompareAreas(a, b orb.MultiPolygon) int {
	return slices.CompareFunc(a, b, func(p, q orb.Polygon) int {
		return slices.CompareFunc(p, q, func(x, y orb.Ring) int { return slices.CompareFunc(x, y, ComparePoints) })
	})
}

// Distance returns the straight-line distance between two points of one metric frame, in metres. It
// neither overflows nor underflows for positions on earth. One square root.
func Distance(p, q orb.Point) Meters {
	dx, dy := q[0]-p[0], q[1]-p[1]
	return Meters(math.Sqrt(dx*dx + dy*dy))
}

// SegmentDistance returns the distance in metres from p to the nearest place on the segment a-b of
// the same metric frame, and that place as the fraction t of the way from a to b, 0 to 1. A segment
// of length 0 gives t 0. One division and one square root.
func SegmentDistance(p, a, b orb.Point) (d Meters, t float64) {
	ux, uy := b[0]-a[0], b[1]-a[1]
	vx, vy := p[0]-a[0], p[1]-a[1]
	along, whole := vx*ux+vy*uy, ux*ux+uy*uy
	switch {
	case along <= 0:
		return Meters(math.Sqrt(vx*vx + vy*vy)), 0
	case along >= whole:
		return Distance(p, b), 1
	}
	t = along / whole
	dx, dy := vx-t*ux, vy-t*uy
	return Meters(math.Sqrt(dx*dx + dy*dy)), t
}

// RingArea returns the planar area of a ring in a metric frame, in square metres: positive when
// counter-clockwise, negative when clockwise, 0 for fewer than three vertices. The closing vertex
// may be left out. Shoelace formula relative to the first vertex, so that large coordinates lose no
// digits. Linear in the vertices.
func RingArea(r orb.Ring) SquareMeters {
	if len(r) < 3 {
		return 0
	}
	x0, y0 := r[0][0], r[0][1]
	px, py := r[1][0]-x0, r[1][1]-y0
	twice := 0.0
	for _, v := range r[2:] {
		x, y := v[0]-x0, v[1]-y0
		twice += px*y - x*py
		px, py = x, y
	}
	return SquareMeters(twice / 2)
}

// PolygonArea returns the planar area in square metres of polygons in a metric frame that do not
// overlap: outer rings minus holes, in any winding. Linear in the vertices.
func PolygonArea(mp orb.MultiPolygon) SquareMeters {
	var sum SquareMeters
	for _, p := range mp {
		for i, r := range p {
			area := SquareMeters(math.Abs(float64(RingArea(r))))
			if i > 0 {
				area = -area
			}
			sum += area
		}
	}
	return sum
}

// CompareBools orders false before true, as the functions of package cmp do.
func CompareBools(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
