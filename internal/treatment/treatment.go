// Package treatment says what a treatment is, a piece of control work done, and checks it:
// which stand was treated, when and how, and what was used on it.
package treatment

import (
	"time"

	"github.com/paulmach/orb"
)

// Treatment is one piece of control work done, read and checked. It names its
// stand, or a place, or both.
type Treatment struct {
	File             string           // as the user named it
	Row              int              // its place there, counted from 1
	Date             time.Time        // day of the work, UTC midnight
	StandID          string           // blank for not given
	Position         orb.Point        // WGS 84 degrees; meaningful when Placed
	Placed           bool             // a position was given, or ground
	Ground           orb.MultiPolygon // what was treated, where it was drawn: degrees, longitudes run on past 180; nil for not given
	Method           string           // as it was written; blank for not given
	FormulationClass string           // likewise
	TreatedAcres     float64          // NaN for not given
	Application
}

// Application is what was used and in what weather, as it was entered: this program
// carries it, and proposes none of it.
type Application struct {
	Product      string  // blank for not given, as all texts here
	Registration string  // number of the product
	Amount       float64 // of the product, in AmountUnit; NaN for not given
	AmountUnit   string  // as it was written: amounts are never converted
	Applicator   string
	Licence      string  // of the applicator
	Start, End   string  // time of day as it was written
	Wind         float64 // metres a second; NaN for not given
	Temperature  float64 // degrees Celsius; NaN for not given
	Hours        float64 // of work, of all people; NaN for not given
	Photos       string  // numbers or names of the photographs, as they were written
}
