// Package control says what a piece of control work done is and checks it:
// which stand was treated, when and how.
package control

import (
	"time"

	"github.com/paulmach/orb"
)

// Action is one piece of control work done, read and checked. It names its
// stand, or a place, or both.
type Action struct {
	File             string    // as the user named it
	Row              int       // its place there, counted from 1
	Date             time.Time // day of the work, UTC midnight
	StandID          string    // blank for not given
	Position         orb.Point // WGS 84 degrees; meaningful when Placed
	Placed           bool      // a position was given
	Method           string    // as it was written; blank for not given
	FormulationClass string    // likewise
	TreatedAcres     float64   // NaN for not given
}
