package trend

import "slices"

// Sample is a value at a time.
type Sample struct {
	Time  float64 // years
	Value float64
}

// Slope returns the Theil-Sen slope of samples, in values per year: the median of the slopes
// between every two samples of different times, 0 when there are none. For the seasonal form
// (Hirsch, Slack and Smith 1982) samples has one list for each season, and only pairs within a
// season count. An even number of slopes gives the mean of the middle two. Theil 1950; Sen, Journal
// of the American Statistical Association 63, 1379-1389, 1968. Cost is n squared times its
// logarithm.
func Slope(seasons ...[]Sample) float64 {
	var slopes []float64
	for _, samples := range seasons {
		for i, a := range samples {
			for _, b := range samples[i+1:] {
				if b.Time != a.Time {
					slopes = append(slopes, (b.Value-a.Value)/(b.Time-a.Time))
				}
			}
		}
	}
	return median(slopes)
}

// Intercept returns the value at time 0 of the line with the given slope through the median time
// and the median value of samples (Conover, Practical Nonparametric Statistics, 1980, 5.5).
func Intercept(slope float64, samples []Sample) float64 {
	var times, values []float64
	for _, s := range samples {
		times, values = append(times, s.Time), append(values, s.Value)
	}
	return median(values) - slope*median(times)
}

// median sorts x and returns its median, 0 for an empty list.
func median(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	slices.Sort(x)
	half := len(x) / 2
	if len(x)%2 == 1 {
		return x[half]
	}
	return (x[half-1] + x[half]) / 2
}
