package linear

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// Vicinity confirms quickly, without a search, that a place is near lines; it does so for most
// places that are. It is read-only after NewVicinity and safe for concurrent use.
type Vicinity struct {
	height float64 // of a cell, degrees of latitude
	side   float64 // largest width of a cell, metres
	cells  map[uint64]struct{}
}

// degreeLat is an upper bound of a degree of latitude, in metres: 111 694 at the poles of WGS 84.
const degreeLat = 111_700

// NewVicinity returns the vicinity within radius of the lines' vertices, in degrees. Cost: linear in
// the vertices; memory: about 40 bytes for each cell that the lines pass through.
func NewVicinity(lines []orb.LineString, radius geo.Meters) *Vicinity {
	side := float64(radius) / math.Sqrt2
	v := &Vicinity{height: side / degreeLat, side: side, cells: map[uint64]struct{}{}}
	for _, path := range lines {
		var last uint64
		for i, p := range path {
			if key := v.cell(p); i == 0 || key != last {
				v.cells[key] = struct{}{}
				last = key
			}
		}
	}
	return v
}

// Holds says that p is certainly within the radius of a line. False means unknown.
func (v *Vicinity) Holds(p orb.Point) bool {
	_, holds := v.cells[v.cell(p)]
	return holds
}

// cell returns the key of the cell that contains p. A cell is part of a band of latitude, at most
// as wide as the band is high, measured at the band's wider edge.
func (v *Vicinity) cell(p orb.Point) uint64 {
	band := math.Floor(p[1] / v.height)
	edge := v.height * max(band, -band-1) // towards the equator
	scale, _ := earth.LocalScale(min(edge, 90))
	column := math.Floor(earth.Wrap(p[0]) * max(scale, 1) / v.side)
	return uint64(int64(band))<<32 ^ uint64(uint32(int32(column)))
}
