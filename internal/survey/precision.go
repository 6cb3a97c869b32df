package survey

import (
	"fmt"
	"math"

	"driftreach/geo"
	"driftreach/internal/check"
)

// metersPerDegree is the approximate length of a degree of latitude, used to find the step of a last
// digit.
const metersPerDegree = 111_000

// mostDecimals is more than any position is measured to: 1e-7 degrees is a centimetre.
const mostDecimals = 7

// decimals returns how many decimals v has, at most mostDecimals.
func decimals(v float64) int {
	scale := 1.0
	for n := range mostDecimals {
		// 1e-6 of a last digit is far more than the rounding error of a float64 in degrees
		if x := v * scale; math.Abs(x-math.Round(x)) < 1e-6 {
			return n
		}
		scale *= 10
	}
	return mostDecimals
}

// findCoarse warns of positions written with a coarser step than the distance at which points are
// joined. Trailing zeros are lost in a number. So a record counts as coarse only if both its numbers
// have at least two digits less than the rest of its file, which happens by chance once in ten
// thousand, or if the whole file is coarse.
func (c *checker) findCoarse(records []Record) {
	join := c.options.JoinDistance
	if !(join > 0) {
		return
	}
	coarse := int(math.Floor(math.Log10(metersPerDegree / float64(join)))) // numbers with at most this many decimals are coarse
	finest := map[string]int{}
	file, most := "", mostDecimals
	for i := range records {
		r := &records[i]
		if r.File != file {
			file, most = r.File, finest[r.File]
		}
		if most < mostDecimals {
			most = max(most, decimals(r.Position[0]), decimals(r.Position[1]))
			finest[file] = most
		}
	}
	file, most = "", 0
	for i := range records {
		r := &records[i]
		if r.File != file {
			file, most = r.File, finest[r.File]
		}
		if most > coarse && most < coarse+2 || r.Outline != nil {
			continue
		}
		if n := max(decimals(r.Position[0]), decimals(r.Position[1])); n <= coarse {
			c.coarse(r, n, join)
		}
	}
}

func (c *checker) coarse(r *Record, n int, join geo.Meters) {
	step := metersPerDegree / math.Pow10(n)
	c.Report(r, ruleCoarse, "position", check.Number(r.Position[0])+" "+check.Number(r.Position[1]),
		fmt.Sprintf("the position has %d decimals, steps of %.0f m, while points are joined over %.0f m; the record was kept", n, step, float64(join)))
}

// checkUncertainty warns of positions so uncertain that they may be inside or outside the zone.
func (c *checker) checkUncertainty(r *Record) {
	if setback := c.options.Setback; setback > 0 && r.Uncertainty > setback {
		c.Report(r, ruleUncertain, "coordinateUncertaintyInMeters", check.Number(float64(r.Uncertainty)),
			fmt.Sprintf("the position may be off by more than the setback of %g m; its place in or out of the aquatic zone is uncertain", float64(setback)))
	}
}
