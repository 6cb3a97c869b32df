package survey

import (
	"fmt"
	"math"

	"driftreach/geo"
	"driftreach/internal/check"
)

// metersPerDegree is a degree of latitude, rounded: for the size of a last digit.
const metersPerDegree = 111_000

// mostDecimals is more than any position is measured to: 1e-7 degrees is a centimetre.
const mostDecimals = 7

// decimals returns how many decimals v has, at most mostDecimals.
func decimals(v float64) int {
	scale := 1.0
	for n := range mostDecimals {
		// 1e-6 of a last digit is far above the rounding of a degree's double
		if x := v * scale; math.Abs(x-math.Round(x)) < 1e-6 {
			return n
		}
		scale *= 10
	}
	return mostDecimals
}

// findCoarse warns of positions whose last digit is a step wider than points are
// joined over. Trailing zeros do not survive in a number, so a record counts as coarse
// only when both its numbers end two digits or more before those of its file, which
// chance does once in ten thousand, or when the whole file is.
func (c *checker) findCoarse(records []Record) {
	join := c.options.JoinDistance
	if !(join > 0) {
		return
	}
	coarse := int(math.Floor(math.Log10(metersPerDegree / float64(join)))) // decimals whose step is wider
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

// checkUncertainty warns of positions that may lie on either side of the zone's edge.
func (c *checker) checkUncertainty(r *Record) {
	if setback := c.options.Setback; setback > 0 && r.Uncertainty > setback {
		c.Report(r, ruleUncertain, "coordinateUncertaintyInMeters", check.Number(float64(r.Uncertainty)),
			fmt.Sprintf("the position may be off by more than the setback of %g m; its place in or out of the aquatic zone is uncertain", float64(setback)))
	}
}
