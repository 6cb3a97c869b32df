package geo

import "strconv"

// AcresText writes an acreage of n units of 10^-decimals acres for a reader: to the hundredth, and
// below a tenth of an acre to the ten-thousandth (0.4 m2). An acreage that would then read as 0 is
// written to its first digit. Half a unit is rounded away from zero; an acreage of 0 is "0". All
// text that people read rounds acres this way, so that a figure looks the same in every file; files
// for programs have every digit. Our choice: two decimals show 40 m2, four show a single plant.
func AcresText(n int64, decimals int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	if n == 0 {
		return "0"
	}
	places := min(2, decimals)
	if n < tenTo(decimals-1) {
		places = min(4, decimals)
	}
	for places < decimals && rounded(n, tenTo(decimals-places)) == 0 {
		places++
	}
	rounded := rounded(n, tenTo(decimals-places))
	for places > 2 && rounded%10 == 0 { // 0.06, and 0.10 when rounded up to it
		places, rounded = places-1, rounded/10
	}
	one := tenTo(places)
	text := sign + strconv.FormatInt(rounded/one, 10)
	if places == 0 {
		return text
	}
	part := strconv.FormatInt(one+rounded%one, 10) // a 1 before the zeros
	return text + "." + part[1:]
}

// Text writes a for a reader, as AcresText does.
func (a Acres) Text() string { return AcresText(a.SquareMeters().Grains(), GrainDecimals) }

// rounded returns n in whole steps, half a step away from zero; n must not be negative.
func rounded(n, step int64) int64 {
	whole := n / step
	if rest := n % step; rest >= step-rest {
		whole++
	}
	return whole
}

func tenTo(n int) int64 {
	v := int64(1)
	for range max(n, 0) {
		v *= 10
	}
	return v
}
