package result

import (
	"math"
	"slices"
	"strconv"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/survey"
)

// notOfStands are the tables whose kilometres are of streams or sums, so that they do not reveal where
// a stand is.
var notOfStands = []string{"summary", "survey_next", "network"}

// coarsened returns a value as a public edition has it. Kilometres of stands and of the reach below
// them are rounded to grid steps, because along a known stream they would reveal the place.
func (r *Run) coarsened(table string, u Unit, v Value) Value {
	if u != Kilometers || v.Kind != Number || slices.Contains(notOfStands, table) {
		return v
	}
	return number(r.Coarse.Steps(geo.Kilometers(v.Float())), Kilometers)
}

// uncertainty is the uncertainty of a record's position as it is written.
func (r *Run) uncertainty(record *survey.Record) Value {
	own := float64(record.Uncertainty)
	if r.Coarse == 0 {
		return recorded(own, Meters)
	}
	half := earth.NewEqualAreaCylinder().HalfDiagonal(record.Position[1], float64(r.Coarse))
	return number(math.Ceil(own+half), Meters)
}

// PublicCaution says what a public edition leaves out; blank for any other batch.
func PublicCaution(run *Run) string {
	if run.Coarse == 0 {
		return ""
	}
	return "Public edition: places are coarsened to squares of " + strconv.FormatFloat(float64(run.Coarse), 'f', -1, 64) +
		" m (equal-area grid of EPSG:6933), and so are shapes and distances; people, parcels, contacts and remarks are left out. Acres are as mapped, not those of the squares."
}
