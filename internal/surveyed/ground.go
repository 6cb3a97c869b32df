// Package surveyed says what ground was looked at in a quarter, walked or flown,
// and checks it.
package surveyed

import (
	"time"

	"github.com/paulmach/orb"
)

// Ground is one piece of surveyed ground, read and checked: lines somebody went
// along, or areas somebody covered.
type Ground struct {
	File       string    // as the user named it
	Row        int       // its place there, counted from 1
	Begin, End time.Time // first and last day, UTC midnights; zero for not given: the quarter's
	Method     Method    // how it was looked at
	Bank       Bank      // side of the stream that was looked at

	Lines orb.MultiLineString // WGS 84 degrees; longitudes run on past 180 rather than jump
	Areas orb.MultiPolygon    // likewise; rings closed
}
