package result

import (
	"math"
	"strconv"

	"driftreach/geo"
)

// Shown writes a figure for a reader, to fewer places than the files have: acres as
// geo.AcresText does everywhere; lengths of stream, shares and water use to a tenth,
// metres to a whole; what is left with three digits that mean something, or all before
// the point. What is not 0 never reads as 0. Our choice. Digits are not grouped.
func Shown(v Value, u Unit) string {
	if v.Kind != Number {
		return v.String()
	}
	switch u {
	case Acres:
		return geo.AcresText(v.Int, int(v.Decimals))
	case Kilometers, AcreFeetYearly, Percent:
		return toPlaces(v, 1)
	case Meters:
		return toPlaces(v, 0)
	}
	x := v.Float()
	if math.Abs(x) >= 100 {
		return strconv.FormatFloat(x, 'f', 0, 64)
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 3, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// toPlaces writes v to so many places, half away from zero; what would look like 0 and
// is not is less than the last place.
func toPlaces(v Value, places uint8) string {
	places = min(places, v.Decimals)
	if v.Int == 0 {
		return "0"
	}
	step := int64(powers[v.Decimals-places])
	n, sign := v.Int, ""
	if n < 0 {
		n, sign = -n, "-"
	}
	rounded := (n + step/2) / step
	if rounded == 0 && n != 0 {
		return "<" + sign + strconv.FormatFloat(1/powers[places], 'f', int(places), 64)
	}
	return sign + strconv.FormatFloat(float64(rounded)/powers[places], 'f', int(places), 64)
}

// AcresShown writes grains of acres for a reader, as Shown does what the files print of
// them, so that both round from the same digits.
func (r *Run) AcresShown(grains int64) string { return Shown(r.acres(grains), Acres) }
