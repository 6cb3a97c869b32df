package intake

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// sizes says of what size the positions of a file are, before they are brought to degrees.
type sizes struct{ asDegrees, larger bool }

// look takes a position in the units of the file. Nothing more is learned after the first large one; 0, 0
// and what is no number say nothing.
func (s *sizes) look(p orb.Point) {
	switch x, y := math.Abs(p[0]), math.Abs(p[1]); {
	case s.larger || p == orb.Point{} || math.IsNaN(x+y):
	case x <= 180 && y <= 90:
		s.asDegrees = true
	default:
		s.larger = true
	}
}

// lookAt takes the positions of a geometry.
func (r *featureReader) lookAt(points []orb.Point) {
	for _, p := range points {
		if r.sizes.larger || r.System.IsGeographic() {
			return
		}
		r.sizes.look(p)
	}
}

// checkSizes stops a file in a projected system whose positions all have the size of degrees: it would lie
// beside the origin of the grid, for UTM in the polar sea or at the equator.
func (r *featureReader) checkSizes() error {
	if !r.sizes.asDegrees || r.sizes.larger || r.System.IsGeographic() {
		return nil
	}
	return r.stop("positions", fmt.Sprintf("all of them are of the size of degrees, and the file is read in %s", r.SystemName()),
		"leave out the flag of the reference system if every file of this input is in degrees; of files in degrees and in a grid together, convert one, or save it as GeoPackage, which names its own system")
}
