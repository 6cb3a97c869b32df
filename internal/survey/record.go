// Package survey says what a survey record is and checks it.
package survey

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Status is the state of the plants at a record.
type Status uint8

// The states, in the words of the management_status column.
const (
	Untreated Status = iota
	Treated
	Resprout
	StandingDead
)

// Record is one survey point, read and checked. There are millions of them: a
// field more is as many megabytes as it has bytes.
type Record struct {
	ID          string           // occurrenceID, unique in a batch
	File        string           // the file it came from, as the user named it
	Row         int              // its place there, counted from 1 without the header
	Position    orb.Point        // WGS 84 longitude, latitude in degrees
	Begin, End  Day              // first and last day of eventDate; zero when assumed to be the quarter's
	Uncertainty geo.Meters       // coordinateUncertaintyInMeters; 0 means unknown
	PatchArea   geo.SquareMeters // measured patch; 0 means not recorded
	Cover       float64          // canopy cover in percent 0..100; NaN means not recorded
	StemHeight  float64          // metres; NaN means not recorded
	Outline     orb.MultiPolygon // the patch where it was drawn as polygons, lon/lat; usually nil
	Notes       *Notes           // usually shared; nil for none
	Detected    bool             // occurrenceStatus
	Status      Status
}
