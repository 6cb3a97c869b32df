// Package survey defines survey records and checks them.
package survey

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Status is the state of the plants at a record.
type Status uint8

// The states, with the words of the management_status column.
const (
	Untreated Status = iota
	Treated
	Resprout
	StandingDead
)

// Record is one survey point, read and checked. There may be millions, so every byte of a field costs
// megabytes.
type Record struct {
	ID          string           // occurrenceID, unique in a batch
	File        string           // the file it came from, as the user named it
	Row         int              // row number in the file, counted from 1 without the header
	Position    orb.Point        // WGS 84 longitude, latitude in degrees
	Begin, End  Day              // first and last day of eventDate; zero if it is assumed to be in the quarter
	Uncertainty geo.Meters       // coordinateUncertaintyInMeters; 0 means unknown
	PatchArea   geo.SquareMeters // measured patch; 0 means not recorded
	Cover       float64          // canopy cover in percent 0..100; NaN means not recorded
	StemHeight  geo.Meters       // NaN means not recorded
	Outline     orb.MultiPolygon // the patch, if it was drawn as polygons, lon/lat; usually nil
	Notes       PackedNotes      // its texts; blank for none
	Detected    bool             // occurrenceStatus
	Status      Status
}
