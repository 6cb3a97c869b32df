package learn

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"driftreach/geo"
	"driftreach/internal/estimate"
)

// figure prints a number with the given significant digits, never in powers of ten.
func figure[F ~float64](v F, digits int) string {
	x := float64(v)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "unknown"
	}
	if x == 0 {
		return "0"
	}
	places := max(0, digits-1-int(math.Floor(math.Log10(math.Abs(x)))))
	return strconv.FormatFloat(x, 'f', min(6, places), 64)
}

// acres prints an acreage as every page does.
func acres(x geo.Acres) string {
	if math.IsNaN(float64(x)) || math.IsInf(float64(x), 0) {
		return "unknown"
	}
	return x.Text()
}

// percent prints a share.
func percent(share float64) string {
	switch p := 100 * share; {
	case math.IsNaN(p) || math.IsInf(p, 0):
		return "unknown"
	case p < 100 && p >= 99.5:
		return "over 99 %" // never more certain than it is
	case math.Abs(p) < 10 && p != math.Round(p):
		return strconv.FormatFloat(p, 'f', 1, 64) + " %"
	default:
		return strconv.FormatFloat(p, 'f', 0, 64) + " %"
	}
}

// percents prints an interval of a share.
func percents(i estimate.Interval) string {
	return spanned(i, percent, "unknown")
}

// times prints an interval of a number.
func times(i estimate.Interval) string {
	return spanned(i, func(v float64) string { return figure(v, 3) }, "unknown")
}

// spanned prints an estimate with its bounds.
func spanned(i estimate.Interval, print func(float64) string, none string) string {
	if !i.Known() {
		return none
	}
	low, high := math.IsInf(i.Low, 0) || i.Low == 0 && math.IsInf(i.High, 0), math.IsInf(i.High, 0)
	switch {
	case low && high:
		return print(i.Value) + " (too few to bound)"
	case high:
		return fmt.Sprintf("%s (%s or more)", print(i.Value), print(i.Low))
	case math.IsInf(i.Low, 0):
		return fmt.Sprintf("%s (%s or less)", print(i.Value), print(i.High))
	}
	return fmt.Sprintf("%s (%s to %s)", print(i.Value), print(i.Low), print(i.High))
}

// plural prints a count with its noun in the right number.
func plural(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + one + "s"
}

// numbers prints a list of numbers in the form used in settings.
func numbers[F ~float64](values []F) string {
	parts := make([]string, len(values))
	for i, v := range values {
		parts[i] = figure(v, 3)
		if strings.Contains(parts[i], ".") {
			parts[i] = strings.TrimRight(strings.TrimRight(parts[i], "0"), ".")
		}
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// plain prints a number given by the user.
func plain[F ~float64](v F) string { return strconv.FormatFloat(float64(v), 'g', -1, 64) }

// mostRows is the largest number of rows in a table on the page. Our choice: as many as people
// read; the files have all.
const mostRows = 20
