package learn

import (
	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/estimate"
)

// Risk says whether the map of risk came true.
type Risk struct {
	Classes  []ClassShare   // not at risk, low, moderate, high, then all classes at risk
	Arrivals []Arrival      // every new stand, counted or not
	Counted  int            // number of hits and misses
	LookedKm geo.Kilometers // stream surveyed twice, over both banks, summed over looks
	Curve    estimate.ROC
	Needed   int // number of new stands needed for an answer; 0 if there are enough
}

// ClassShare compares one class of the map with the finds on it.
type ClassShare struct {
	Name     string
	LookedKm geo.Kilometers
	KmYears  float64 // its length times the years since the previous look
	Found    int
	Share    estimate.Interval // share of the new stands
	Ground   float64           // its share of the surveyed stream, weighted by years
	Ratio    estimate.Interval // Share over Ground; 1 means no more than elsewhere
}

// PerYear returns the number of new stands on 100 km in a year.
func (s ClassShare) PerYear() float64 { return 100 * float64(s.Found) / s.KmYears }

// classNames are the names of the classes, from not at risk up.
var classNames = []string{"not at risk", "low", "moderate", "high", "at risk"}

// leastArrivals is the fewest new stands for an estimate of the ratio: with fewer, Wilson's
// interval covers more than half of the range from 0 to 1. Our choice.
const leastArrivals = 10

// risk compares the new stands with the map of risk made before them. Both shares refer to stream
// surveyed twice, weighted by the time between the two looks, so that it does not matter where and
// how often crews look. A new stand counts in its class in the batch before it was found.
func (c *Chain) risk(looks []look, arrivals []Arrival, s drift.Settings) Risk {
	r := Risk{Arrivals: arrivals}
	var found [5]int
	var km [5]geo.Kilometers
	var years [5]float64 // kilometres times years
	all := 0.0           // in years
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
		cases = append(cases, float64(l.exposure)/c.quarters(l))
		hit[arrivals[i].Look] = true
	}
	for i := range looks {
		l := &looks[i]
		time := float64(c.km(l)) * c.quarters(l) / 4
		km[l.risk+1], years[l.risk+1] = km[l.risk+1]+c.km(l), years[l.risk+1]+time
		if l.risk.AtRisk() {
			km[4], years[4] = km[4]+c.km(l), years[4]+time
		}
		r.LookedKm, all = r.LookedKm+c.km(l), all+time
		if !hit[int32(i)] {
			controls = append(controls, float64(l.exposure)/c.quarters(l))
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
	r.Curve = estimate.Curve(cases, controls) // the cells are all about 50 m long
	if r.Counted < leastArrivals {
		r.Needed = leastArrivals - r.Counted
	}
	for i := range r.Arrivals {
		if one := &r.Arrivals[i]; one.Kind == Miss {
			one.Above = drift.Upstream(c.Net, one.On, s.RiskShare, s)
			for _, p := range one.Above {
				one.AboveKm += (p.To - p.From).Kilometers()
			}
			one.Stretches = c.stretchesOf(one.Above)
		}
	}
	return r
}
