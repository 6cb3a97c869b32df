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
	if lon >= -540 && lon < -180 {
		lon += 360
	} else if lon >= 180 && lon < 540 {
		lon -= 360
	} else {
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

// twoSum returns a+b rounded, and the exact rest.
func twoSum(a, b float64) (sum, rest float64) {
	sum = a + b
	bb := sum - a
	return sum, (a - (sum - bb)) + (b - bb)
}

// sincosDegrees returns sine and cosine of an angle in degrees within one turn
// or so. Reduction to [-45, 45] is made in degrees, so that multiples of 90 come
// out exactly.
func sincosDegrees(x float64) (sin, cos float64) {
	quarter := math.RoundToEven(x / 90)
	s, c := math.Sincos((x - 90*quarter) * radiansPerDegree)
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

// unit returns (x, y) at length 1.
func unit(x, y float64) (float64, float64) {
	h := math.Hypot(x, y)
	return x / h, y / h
}
