// Package estimate turns counts and measures into estimates with intervals: shares,
// areas under a curve of hits and misses, rates that have several causes, times that are
// known only to lie between two looks, ratios of sums over clusters. It knows nothing of
// plants, streams or places: numbers in, numbers out, the same each time. Every method
// names its source; testdata/estimate holds what R and SciPy answer to the same numbers.
package estimate

import "math"

// Interval is an estimate with its lower and upper bound. A bound that the numbers do
// not give is infinite; NaN in all three is no estimate at all.
type Interval struct{ Value, Low, High float64 }

// None is no estimate.
func None() Interval { return Interval{math.NaN(), math.NaN(), math.NaN()} }

// Known says whether there is an estimate.
func (i Interval) Known() bool { return !math.IsNaN(i.Value) }

// Times returns the interval of a multiple above 0.
func (i Interval) Times(by float64) Interval { return Interval{i.Value * by, i.Low * by, i.High * by} }

// Level is the coverage of every interval here. Our choice: what readers expect.
const Level = 0.95

// Normal is the quantile of the standard normal distribution that bounds Level on both
// sides, 1.959964.
var Normal = math.Sqrt2 * math.Erfinv(Level)
