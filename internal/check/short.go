package check

import (
	"math"
	"strconv"
)

// Short formats acres and kilometres for reading: to the hundredth, small values with two digits.
func Short(v float64) string {
	if v < 0.1 && v > 0 {
		return strconv.FormatFloat(v, 'g', 2, 64)
	}
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}
