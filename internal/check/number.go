package check

import (
	"math"
	"strconv"
)

// Number writes the number of a record with every digit that it has, the shortest way that reads
// back the same. It has no exponent where a person would write none: from a millionth to 1e15.
func Number(v float64) string {
	if a := math.Abs(v); a != 0 && (a < 1e-6 || a >= 1e15) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Digits is Number of v rounded to so many digits, or to a whole number where it has more: for
// numbers converted from other units, whose last digits say nothing.
func Digits(v float64, digits int) string {
	if a := math.Abs(v); a >= math.Pow10(digits) && a < 1e15 {
		return Number(math.Round(v))
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	if err != nil {
		rounded = v // not reached: the text is a number
	}
	return Number(rounded)
}

// Short formats acres and kilometres for reading: to the hundredth, small values with two digits.
func Short(v float64) string {
	if v < 0.1 && v > 0 {
		return strconv.FormatFloat(v, 'g', 2, 64)
	}
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}
