package stand

import (
	"math"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// The names of the defaults in a stand's list of assumed values.
const (
	AssumedPatch = "stands.default_patch_acres"
	AssumedCover = "stands.default_cover_percent"
)

// Patch is the ground one record covers, with defaults filled in.
type Patch struct {
	Area         geo.SquareMeters
	CoverPercent float64 // as recorded or assumed, of living and dead canes together
	Live         bool    // false for standing dead plants, whose canopy counts 0 acres
	AreaAssumed  bool
	CoverAssumed bool
}

// PatchOf returns the patch of a record, with its measured area and cover or else the defaults of
// s. The area of a drawn outline is not known here; the stand measures it.
func PatchOf(r survey.Record, s Settings) Patch {
	p := Patch{Area: r.PatchArea, CoverPercent: r.Cover, Live: r.Status != survey.StandingDead}
	if p.Area <= 0 && r.Outline == nil {
		p.Area, p.AreaAssumed = s.DefaultPatch.SquareMeters(), true
	}
	if math.IsNaN(p.CoverPercent) {
		p.CoverPercent, p.CoverAssumed = s.DefaultCover, true
	}
	return p
}

// Canopy returns the area under living canopy.
func (p Patch) Canopy() geo.SquareMeters {
	if !p.Live {
		return 0
	}
	return p.Area * geo.SquareMeters(p.CoverPercent/100)
}
