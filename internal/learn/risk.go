package learn

import (
	"driftreach/internal/drift"
	"driftreach/internal/estimate"
)

// Risk is whether the map of risk came true.
type Risk struct {
	Classes  []ClassShare // not at risk, low, moderate, high, then all at risk
	Arrivals []Arrival    // every new stand, counted or not
	Counted  int          // hits and misses
	LookedKm float64      // stream looked at and looked at before, both banks, summed over looks
	Curve    estimate.ROC
	Needed   int // new stands that it takes to tell; 0 where there are enough
}

// ClassShare is one class of the map against what was found on it.
type ClassShare struct {
	Name     string
	LookedKm float64
	KmYears  float64 // of it, times the years since the look before
	Found    int
	Share    estimate.Interval // of the new stands
	Ground   float64           // share of the stream looked at, by its years
	Ratio    estimate.Interval // the one over the other; 1 is as much as anywhere
}

// PerYear returns how many new stands came up on 100 km in a year.
func (s ClassShare) PerYear() float64 { return 100 * float64(s.Found) / s.KmYears }

// classNames are the names of the classes, from not at risk up.
var classNames = []string{"not at risk", "low", "moderate", "high", "at risk"}

// leastArrivals is how many new stands a ratio wants before it tells anything: with fewer
// the interval of Wilson takes in more than half of all shares. Our choice.
const leastArrivals = 10

// risk holds the new stands against the map that was there before them. Both shares are of
// stream looked at twice, by the time between the two looks, so that where and how often
// crews look does not count; a new stand counts in the class of the batch before it was
// found.
func (c *Chain) risk(looks []look, arrivals []Arrival, s drift.Settings) Risk {
	r := Risk{Arrivals: arrivals}
	var found [5]int
	var km, years [5]float64
	all := 0.0 // years
	var cases, controls []float64
	hit := make(map[int32]bool)
	for i := range arrivals {
		if !arrivals[i].Kind.Counts() {
			continue
		}
		l := &looks[arrivals[i].Look]
		r.Counted++
		found[l.risk+1]++
		if l.risk.AtRisk() {
			found[4]++
		}
		cases = append(cases, l.exposure/c.quarters(l))
		hit[arrivals[i].Look] = true
	}
	for i := range looks {
		l := &looks[i]
		time := c.km(l) * c.quarters(l) / 4
		km[l.risk+1], years[l.risk+1] = km[l.risk+1]+c.km(l), years[l.risk+1]+time
		if l.risk.AtRisk() {
			km[4], years[4] = km[4]+c.km(l), years[4]+time
		}
		r.LookedKm, all = r.LookedKm+c.km(l), all+time
		if !hit[int32(i)] {
			controls = append(controls, l.exposure/c.quarters(l))
		}
	}
	for k, name := range classNames {
		one := ClassShare{Name: name, LookedKm: km[k], KmYears: years[k], Found: found[k], Share: estimate.Wilson(found[k], r.Counted), Ratio: estimate.None()}
		if all > 0 {
			one.Ground = years[k] / all
		}
		if one.Ground > 0 && one.Share.Known() {
			one.Ratio = one.Share.Times(1 / one.Ground)
		}
		r.Classes = append(r.Classes, one)
	}
	r.Curve = estimate.Curve(cases, controls) // of cells alike, each some 50 m
	if r.Counted < leastArrivals {
		r.Needed = leastArrivals - r.Counted
	}
	for i := range r.Arrivals {
		if one := &r.Arrivals[i]; one.Kind == Miss {
			one.Above = drift.Upstream(c.Net, one.On, float64(s.RiskShare), s)
			for _, p := range one.Above {
				one.AboveKm += (p.To - p.From).Kilometers()
			}
			one.Stretches = c.stretchesOf(one.Above)
		}
	}
	return r
}
