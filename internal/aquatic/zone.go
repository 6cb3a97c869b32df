// Package aquatic finds the aquatic zone and the stands that touch it.
package aquatic

import (
	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/shape"
)

// Membership says how one stand lies to the water.
type Membership struct {
	InZone        bool             // footprint and zone share a point
	Area          geo.SquareMeters // footprint within the zone
	WaterDistance geo.Meters       // footprint to the nearest bank; 0 in or on the water, +Inf without streams
	Line          int32            // index of the centerline whose bank is nearest; -1 without streams
	Place         flow.Place       // the place on it nearest to the stand; edge -1 without streams
	WidthAssumed  bool             // the bankfull width came from the table by order
}

// Zone is the dissolved aquatic zone of one water body.
type Zone struct {
	WaterBody    string
	Lines        int              // centerlines it was made from
	Area         geo.SquareMeters // ellipsoidal
	WidthAssumed bool             // some bankfull width came from the table by order
	Geometry     shape.OnSteps    // degrees; longitudes run on past 180 rather than jump
}
