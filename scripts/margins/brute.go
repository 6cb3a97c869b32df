package main

import (
	"math"
	"math/rand/v2"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/margin"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

var quarter = survey.Quarter{Year: 2026, Number: 3}

// acres are infested, gross and canopy, in square metres.
type acres [3]float64

// mapped returns the acres of some records.
func mapped(records []survey.Record, rules stand.Settings) (acres, []stand.Stand) {
	stands, _, err := stand.Map(records, quarter, rules, 1)
	if err != nil {
		panic(err) // settings of ours
	}
	var sum acres
	for i := range stands {
		sum[0] += float64(stands[i].Infested)
		sum[1] += float64(stands[i].Gross)
		sum[2] += float64(stands[i].Canopy)
	}
	return sum, stands
}

// formsOf returns the errors of the acres, to first order.
func formsOf(records []survey.Record, stands []stand.Stand, rules stand.Settings, s margin.Settings) [3]margin.Form {
	causes := margin.NewCauses()
	of := margin.Survey{
		Records: records, Observers: causes.Of(survey.Records{Listed: records}, func(int) survey.Quarter { return quarter }), Rules: rules, Settings: s,
	}
	var out [3]margin.Form
	for i := range stands {
		m := of.Of(&stands[i])
		out[0].Add(m.Infested, 1)
		out[1].Add(m.Gross, 1)
		out[2].Add(m.Canopy, 1)
	}
	return out
}

// axis is the radius that contains 68 % of positions, in standard deviations of one axis.
var axis = math.Sqrt(-2 * math.Log(0.32))

// draw returns the records and rules with every error drawn once.
func draw(r *rand.Rand, records []survey.Record, rules stand.Settings, s margin.Settings) ([]survey.Record, stand.Settings) {
	factor := func(off float64) float64 { // lognormal with mean 1
		variance := math.Log1p(off * off)
		return math.Exp(r.NormFloat64()*math.Sqrt(variance) - variance/2)
	}
	rules.DefaultPatch *= geo.Acres(factor(s.DefaultPatch))
	rules.DefaultCover = min(100, max(0, rules.DefaultCover+s.DefaultCover*r.NormFloat64()))
	shared := map[survey.PackedNotes]float64{}
	for _, crew := range crews {
		shared[crew] = factor(s.PatchShared)
	}
	out := slices.Clone(records)
	for i := range out {
		one := &out[i]
		radius := one.Uncertainty
		if radius == 0 {
			radius = s.Position
		}
		off := float64(radius) / axis
		times := factor(s.PatchOwn) * shared[one.Notes]
		frame := earth.NewFrame(one.Position)
		moved := orb.Point{off * r.NormFloat64(), off * r.NormFloat64()}
		if one.Outline != nil {
			one.Outline = spread(one.Outline, frame, moved, math.Sqrt(times))
		}
		one.Position = frame.Inverse(moved)
		one.PatchArea *= geo.SquareMeters(times)
	}
	return out, rules
}

// spread moves an outline and scales it about the frame's middle.
func spread(outline orb.MultiPolygon, frame earth.Frame, moved orb.Point, times float64) orb.MultiPolygon {
	mp := frame.Project(outline)
	for _, polygon := range mp {
		for _, ring := range polygon {
			for k, p := range ring {
				ring[k] = orb.Point{times*p[0] + moved[0], times*p[1] + moved[1]}
			}
		}
	}
	return frame.Unproject(mp)
}

// brute draws the survey the given number of times and returns the acres of all draws, sorted.
func brute(records []survey.Record, rules stand.Settings, s margin.Settings, draws int) [3][]float64 {
	r := rand.New(rand.NewPCG(5, 11))
	var out [3][]float64
	for range draws {
		sum, _ := mapped(draw(r, records, rules, s))
		for k, a := range sum {
			out[k] = append(out[k], a)
		}
	}
	for k := range out {
		slices.Sort(out[k])
	}
	return out
}
