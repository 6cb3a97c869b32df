// Package treatment defines a treatment, a piece of control work done, and checks it: which stand
// was treated, when and how, and what was used.
package treatment

import (
	"time"

	"github.com/paulmach/orb"
)

// Treatment is one piece of control work, read and checked. It has a stand, a position, or both.
type Treatment struct {
	File             string           // as the user named it
	Row              int              // its place in the file, counted from 1
	Date             time.Time        // day of the work, UTC midnight
	StandID          string           // blank if not recorded
	Position         orb.Point        // WGS 84 degrees; meaningful when Placed
	Placed           bool             // a position or ground was recorded
	Ground           orb.MultiPolygon // the treated area if it was drawn: degrees, longitudes continue past 180; nil if not recorded
	Method           string           // as recorded; blank if not
	FormulationClass string           // as recorded; blank if not
	TreatedAcres     float64          // NaN if not recorded
	Application
}

// Application is what was used, and the weather, as recorded. This program only passes it on and
// recommends no product.
type Application struct {
	Product      string  // blank if not recorded, as all texts here
	Registration string  // registration number of the product
	Amount       float64 // of the product, in AmountUnit; NaN if not recorded
	AmountUnit   string  // as recorded: amounts are never converted
	Applicator   string
	Licence      string  // of the applicator
	Start, End   string  // time of day as recorded
	Wind         float64 // metres a second; NaN if not recorded
	Temperature  float64 // degrees Celsius; NaN if not recorded
	Hours        float64 // working hours of all people; NaN if not recorded
	Photos       string  // numbers or names of the photographs, as recorded
}
