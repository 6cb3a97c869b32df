package earth

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Grid finds points near a place, anywhere on the globe: poles and antimeridian
// are places like others, since its cells are cubes of the earth-centred frame.
type Grid struct {
	side  float64
	cells map[[3]int32][]int32
}

// smallestCell keeps the cells' numbers within 32 bits. Our choice.
const smallestCell = 0.01

// NewGrid returns a grid of cells as wide as the given distance, which is the
// farthest that Near will find.
func NewGrid(reach geo.Meters) *Grid {
	return &Grid{max(float64(reach), smallestCell), map[[3]int32][]int32{}}
}

// Add enters a point under an index.
func (g *Grid) Add(index int32, p orb.Point) {
	cell := g.cell(p)
	g.cells[cell] = append(g.cells[cell], index)
}

// Near calls look for the points of the 27 cells about a place until it returns
// false: every point within reach is among them, and others that are farther. Those
// of a cell come in the order in which they were added.
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

// cell returns the cube that holds a point. A chord is no longer than the arc, so
// that points within reach lie in cubes that touch.
func (g *Grid) cell(p orb.Point) (cell [3]int32) {
	for k, v := range ECEF(p) {
		cell[k] = int32(math.Floor(v / g.side))
	}
	return cell
}
