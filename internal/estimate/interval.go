// Package estimate turns counts and measurements into estimates with intervals: shares, areas under
// ROC curves, rates with several causes, interval-censored times, ratios of sums over clusters. It
// knows nothing of plants, streams or places, and the same numbers always give the same result.
// Every method names its source; testdata/estimate holds the results of R and SciPy for the same
// numbers.
package estimate

import "math"

// Interval is an estimate with its lower and upper bound. A bound that the data do not determine is
// infinite; NaN in all three means no estimate.
type Interval struct{ Value, Low, High float64 }

// None returns the interval that means no estimate.
func None() Interval { return Interval{math.NaN(), math.NaN(), math.NaN()} }

// Known says whether there is an estimate.
func (i Interval) Known() bool { return !math.IsNaN(i.Value) }

// Times returns the interval multiplied by a factor above 0.
func (i Interval) Times(by float64) Interval { return Interval{i.Value * by, i.Low * by, i.High * by} }

// Level is the coverage of all intervals here. Our choice: what readers expect.
const Level = 0.95

// Normal is the standard normal quantile for a two-sided interval of coverage Level, 1.959964.
var Normal = math.Sqrt2 * math.Erfinv(Level)
