package stream

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Structure is one barrier given as a point of its own, read and checked.
type Structure struct {
	ID       string    // barrier_id, unique in a batch
	File     string    // as the user named it
	Row      int       // its place there, counted from 1
	Position orb.Point // WGS 84 degrees, as given
	Kind     Barrier
	Pass     float64 // share of what floats that passes, 0..1; NaN for that of its kind

	Line    int32      // set by PlaceStructures: index of the centerline it stands on
	Measure geo.Meters // likewise: geodesic, along that line as digitised
}
