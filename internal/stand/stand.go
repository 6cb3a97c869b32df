// Package stand groups survey records into mapped stands, with three acreages.
package stand

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// Stand is a group of detected records close enough to be managed as one.
type Stand struct {
	ID           string    // "2026Q3-0001": quarter, then a number by the stand's smallest record id
	Members      []int32   // indices into the batch's records, ascending
	Isolated     bool      // no member has enough neighbours to be a core point
	Footprint    Outline   // infested footprint, degrees; longitudes continue past 180 without a jump
	Center       orb.Point // degrees, normalised to [-180, 180)
	Inside       orb.Point // the place to go to, as Place returns it; zero where it was not looked for yet
	First, Last  time.Time // first and last day any member was seen; zero when all days are assumed
	Status       survey.Status
	Gross        geo.SquareMeters
	Infested     geo.SquareMeters
	Canopy       geo.SquareMeters
	CoverPercent float64    // area-weighted canopy cover of live and dead patches; dead ones count 0
	StemHeight   geo.Meters // tallest recorded; NaN when none is recorded
	Assumed      []string   // settings used for missing measurements, sorted: "stands.default_patch_acres"
}
