// Package surveyed defines the ground surveyed in a quarter, on foot or from the air, and checks it.
package surveyed

import (
	"time"

	"github.com/paulmach/orb"
)

// Ground is one piece of surveyed ground, read and checked: lines that somebody followed, or areas that
// somebody covered.
type Ground struct {
	File       string    // as the user named it
	Row        int       // row number in the file, counted from 1
	Begin, End time.Time // first and last day, UTC midnights; zero if not given: then in the quarter
	Method     Method    // how it was surveyed
	Bank       Bank      // side of the stream that was surveyed

	Lines orb.MultiLineString // WGS 84 degrees; longitudes continue past 180 instead of jumping
	Areas orb.MultiPolygon    // the same; rings are closed
}
