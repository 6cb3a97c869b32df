package earth

import "math"

const (
	radiansPerDegree = math.Pi / 180
	degreesPerRadian = 180 / math.Pi
)

// Wrap returns lon, in degrees, brought into [-180, 180) by whole turns. It is
// exact for anything already there and for one turn of excess. NaN stays NaN.
func Wrap(lon float64) float64 {
	if lon >= -180 && lon < 180 {
		return lon
	}
	return wrapTurns(lon)
}

// wrapTurns is the rest of Wrap, apart so that the common case can be inlined.
func wrapTurns(lon float64) float64 {
	switch {
	case lon >= -540 && lon < -180:
		lon += 360
	case lon >= 180 && lon < 540:
		lon -= 360
	default:
		lon = math.Remainder(lon, 360)
	}
	// rounding of a value a hair below -180 can land on +180
	if lon >= 180 {
		return -180
	}
	return lon
}

// longitudeDifference returns to-from in degrees, in [-180, 180), the shorter
// way round.
func longitudeDifference(from, to float64) float64 { return Wrap(to - from) }

// exactDifference returns to-from in degrees, in [-180, 180], as a rounded value
// and what the rounding lost, for |from|, |to| <= 360 (two-sum of Knuth, as in
// Karney 2013, section 6).
func exactDifference(from, to float64) (d, lost float64) {
	d, lost = twoSum(turn(-from), turn(to))
	d, more := twoSum(turn(d), lost)
	if d == 0 || math.Abs(d) == 180 {
		// the sign that the unrounded difference has
		sign := to - from
		if more != 0 {
			sign = -more
		}
		d = math.Copysign(d, sign)
	}
	return d, more
}

// turn returns x brought into [-180, 180] by whole turns, exactly.
func turn(x float64) float64 {
	if math.Abs(x) <= 180 {
		return x
	}
	return math.Remainder(x, 360)
}

// rounded returns x with digits below 1e-17 degrees dropped, so that a latitude
// a hair from 0 behaves as 0. Karney's reference implementation does the same.
func rounded(x float64) float64 {
	const grain = 1. / 16
	if y := math.Abs(x); y < grain {
		return math.Copysign(grain-(grain-y), x)
	}
	return x
}

// twoSum returns a+b rounded, and the exact rest.
func twoSum(a, b float64) (sum, rest float64) {
	sum = a + b
	bb := sum - a
	return sum, (a - (sum - bb)) + (b - bb)
}

// sincosDegrees returns sine and cosine of an angle in degrees, |x| below 1e6.
// Reduction to [-45, 45] is made in degrees and is exact for |x| <= 360, so that
// multiples of 90 come out exactly. Relative error below 2.5e-16 each. About 8 ns.
func sincosDegrees(x float64) (sin, cos float64) {
	quarter := math.RoundToEven(x * (1. / 90))
	s, c := sincosEighth((x - 90*quarter) * radiansPerDegree)
	switch int(quarter) & 3 {
	case 0:
		return s, c
	case 1:
		return c, -s
	case 2:
		return -s, -c
	default:
		return -c, s
	}
}

// sincosEighth returns sine and cosine of an angle in radians within an eighth
// of a turn, by their Taylor series, cut where the next term is below 5e-17.
// Terms are grouped so that the processor can work on them side by side: half
// the time of math.Sincos, which must handle any angle.
func sincosEighth(x float64) (sin, cos float64) {
	const (
		s3, s5, s7, s9     = -1. / 6, 1. / 120, -1. / 5040, 1. / 362880
		s11, s13, s15, s17 = -1. / 39916800, 1. / 6227020800, -1. / 1307674368000, 1. / 355687428096000
		c4, c6, c8, c10    = 1. / 24, -1. / 720, 1. / 40320, -1. / 3628800
		c12, c14, c16      = 1. / 479001600, -1. / 87178291200, 1. / 20922789888000
	)
	z := x * x
	z2 := z * z
	z4 := z2 * z2
	s := (s3 + z*s5) + z2*(s7+z*s9) + z4*((s11+z*s13)+z2*(s15+z*s17))
	c := (c4 + z*c6) + z2*(c8+z*c10) + z4*((c12+z*c14)+z2*c16)
	return x + x*z*s, 1 - z/2 + z2*c
}

// atan2Degrees returns the angle of (x, y) in degrees in [-180, 180], exact at
// multiples of 45.
func atan2Degrees(y, x float64) float64 {
	quarter := 0
	if math.Abs(y) > math.Abs(x) {
		x, y = y, x
		quarter = 2
	}
	if math.Signbit(x) {
		x = -x
		quarter++
	}
	angle := math.Atan2(y, x) * degreesPerRadian
	switch quarter {
	case 1:
		return math.Copysign(180, y) - angle
	case 2:
		return 90 - angle
	case 3:
		return -90 + angle
	}
	return angle
}

// angleOf returns the angle of (x, y) in radians, like math.Atan2(y, x); for
// angles within 0.06 of 0, where local work mostly is, by the Taylor series of
// the arctangent, cut where the next term is below 1e-18 of the angle.
func angleOf(y, x float64) float64 {
	if !(math.Abs(y) < 0.06*x) {
		return math.Atan2(y, x)
	}
	r := y / x
	z := r * r
	z2 := z * z
	return r - r*z*((1./3-z/5)+z2*(1./7-z/9)+z2*z2*(1./11-z/13))
}

// unit returns (x, y) at length 1.
func unit(x, y float64) (float64, float64) {
	h := math.Hypot(x, y)
	return x / h, y / h
}
