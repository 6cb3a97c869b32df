// Package aquatic finds the aquatic zone and the stands that touch it.
package aquatic

import (
	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/geo/shape"
)

// Membership says how one stand lies to the aquatic zone.
type Membership struct {
	InZone        bool             // footprint and zone share a point
	Area          geo.SquareMeters // of the footprint within the zone
	WaterDistance geo.Meters       // from the footprint to the nearest bank; 0 in or on the water, +Inf without streams
	Line          int32            // index of the centerline with the nearest bank; -1 without streams
	Place         flow.Place       // the place on it nearest to the stand; edge -1 without streams
	WidthAssumed  bool             // the bankfull width is the setting by stream order
}

// Zone is the dissolved aquatic zone of one water body.
type Zone struct {
	WaterBody    string
	Lines        int              // number of its centerlines
	Area         geo.SquareMeters // ellipsoidal
	WidthAssumed bool             // some bankfull width is the setting by stream order
	Geometry     shape.OnSteps    // degrees; longitudes continue past 180 without a jump
}
