package earth

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Grid finds points near a place anywhere on the globe. Poles and the antimeridian need no special
// care, since its cells are cubes in earth-centred coordinates.
type Grid struct {
	side  float64
	cells map[[3]int32][]int32
}

// smallestCell keeps the cell numbers within 32 bits. Our choice.
const smallestCell = 0.01

// NewGrid returns a grid of cells as wide as reach, the farthest distance that Near covers.
func NewGrid(reach geo.Meters) *Grid {
	return &Grid{max(float64(reach), smallestCell), map[[3]int32][]int32{}}
}

// Add adds a point with its index.
func (g *Grid) Add(index int32, p orb.Point) {
	cell := g.cell(p)
	g.cells[cell] = append(g.cells[cell], index)
}

// Near calls look for the points of the 27 cells around a place until it returns false. These
// include every point within reach, and some farther points. Points of one cell come in the order
// they were added.
func (g *Grid) Near(p orb.Point, look func(index int32) bool) {
	if len(g.cells) == 0 {
		return
	}
	c := g.cell(p)
	for x := c[0] - 1; x <= c[0]+1; x++ {
		for y := c[1] - 1; y <= c[1]+1; y++ {
			for z := c[2] - 1; z <= c[2]+1; z++ {
				for _, index := range g.cells[[3]int32{x, y, z}] {
					if !look(index) {
						return
					}
				}
			}
		}
	}
}

// cell returns the cube that contains a point. A chord is no longer than the arc, so points within
// reach are in neighbouring cubes.
func (g *Grid) cell(p orb.Point) (cell [3]int32) {
	for k, v := range ECEF(p) {
		cell[k] = int32(math.Floor(v / g.side))
	}
	return cell
}
