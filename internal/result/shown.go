package result

import (
	"math"
	"strconv"

	"driftreach/geo"
)

// Shown formats a figure for a reader, with fewer digits than in the files. Acres are formatted by
// geo.AcresText; lengths of stream, shares and water use have one decimal; metres have none; anything
// else has three significant digits, or all before the decimal point. A figure that is not 0 is never
// shown as 0. Our choice. Digits are not grouped.
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

// toPlaces formats v with the given number of decimals, rounded half away from zero. If it would look
// like 0 without being 0, it is shown as less than one unit of the last decimal.
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

// AcresShown formats grains as acres for a reader, in the same way as Shown formats the printed value,
// so that both round from the same digits.
func (r *Run) AcresShown(grains int64) string { return Shown(r.acres(grains), Acres) }
