package result

import (
	"math"
	"strconv"

	"driftreach/geo"
)

// InAcres writes grains as acres for the eye, with four decimals.
func InAcres(grains int64) string {
	return strconv.FormatFloat(float64(grains)/math.Pow10(geo.GrainDecimals), 'f', 4, 64)
}
