package stream

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Structure is one barrier given as a point, read and checked.
type Structure struct {
	ID       string    // barrier_id, unique in a batch
	File     string    // as the user named it
	Row      int       // its place in the file, counted from 1
	Position orb.Point // WGS 84 degrees, as given
	Kind     Barrier
	Pass     geo.Share // share of floating material that passes; NaN means the default for its kind

	Line    int32      // set by PlaceStructures: index of the centerline it is on
	Measure geo.Meters // set by PlaceStructures: geodesic, along that line as digitised
}
