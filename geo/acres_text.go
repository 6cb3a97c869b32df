package geo

import "strconv"

// AcresText writes an acreage of n units of 10^-decimals acres for a reader: to the
// hundredth, and below a tenth of an acre with up to three digits. Half a unit is rounded away
// from zero; nothing at all is "0". It is the one rounding of acres in everything that
// people read, so that a figure looks the same wherever it stands; files for programs
// have every digit. Our choice: two places tell 40 m2, three digits tell a lone plant.
func AcresText(n int64, decimals int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	if n == 0 {
		return "0"
	}
	places := min(2, decimals)
	for tenth := tenTo(decimals - 1); n < tenth && places < decimals; tenth /= 10 {
		places = max(4, places+1) // 0.0999 has three digits, and so has 0.00999
	}
	places = min(places, decimals)
	rounded := rounded(n, tenTo(decimals-places))
	for places > 2 && rounded%10 == 0 { // 0.06, and 0.10 of what was rounded up to it
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

// rounded returns n in steps, half a step away from zero; n is not negative.
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
