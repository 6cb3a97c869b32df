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

// coarseness finds positions written with a coarser step than the distance at which points are joined.
// Trailing zeros are lost in a number. So a record counts as coarse only if both its numbers have at
// least two digits less than the rest of its file, which happens by chance once in ten thousand, or if
// the whole file is coarse.
type coarseness struct {
	join   geo.Meters
	coarse int // numbers with at most this many decimals are coarse
	files  map[string]*fileSteps
	last   *fileSteps // of the record before
	file   string
}

// fileSteps is how the positions of a file are written.
type fileSteps struct {
	finest int       // most decimals of a number
	found  check.Log // of records that are coarse, if the file is not as coarse as most of them
}

func newCoarseness(join geo.Meters) coarseness {
	s := coarseness{join: join, coarse: -1, files: map[string]*fileSteps{}}
	if join > 0 {
		s.coarse = int(math.Floor(math.Log10(metersPerDegree / float64(join))))
	}
	return s
}

// next is given one accepted record after another.
func (s *coarseness) next(c *checker, r *Record) {
	if !(s.join > 0) {
		return
	}
	if s.last == nil || r.File != s.file {
		s.file, s.last = r.File, s.files[r.File]
		if s.last == nil {
			s.last = &fileSteps{found: check.Log{Limit: c.Limit}}
			s.files[r.File] = s.last
		}
	}
	n := decimals(r.Position[0])
	if n > s.coarse && s.last.finest == mostDecimals {
		return
	}
	n = max(n, decimals(r.Position[1]))
	s.last.finest = max(s.last.finest, n)
	if n <= s.coarse && r.Outline == nil {
		s.last.found.Add(coarseFinding(c, r, n, s.join))
	}
}

// end warns of the records of all files that are coarse throughout, or much finer than those records.
func (s *coarseness) end(c *checker) {
	for _, f := range s.files { // the log sorts them
		if f.finest <= s.coarse || f.finest >= s.coarse+2 {
			c.Log.Take(&f.found)
		}
	}
}

func coarseFinding(c *checker, r *Record, n int, join geo.Meters) check.Finding {
	step := metersPerDegree / math.Pow10(n)
	return c.Finding(r, ruleCoarse, "position", check.Number(r.Position[0])+" "+check.Number(r.Position[1]),
		fmt.Sprintf("the position has %d decimals, steps of %.0f m, while points are joined over %.0f m; the record was kept", n, step, float64(join)))
}

// checkUncertainty warns of positions so uncertain that they may be inside or outside the zone.
func (c *checker) checkUncertainty(r *Record) {
	if setback := c.options.Setback; setback > 0 && r.Uncertainty > setback {
		c.Report(r, ruleUncertain, "coordinateUncertaintyInMeters", check.Number(float64(r.Uncertainty)),
			fmt.Sprintf("the position may be off by more than the setback of %g m; its place in or out of the aquatic zone is uncertain", float64(setback)))
	}
}
