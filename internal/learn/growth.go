package learn

import (
	"math"

	"driftreach/geo"
	"driftreach/internal/estimate"
	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// Growth is how fast untreated stands grow.
type Growth struct {
	Groups []GrowthOf
	Short  int // number of stands left out: looks less than half a year apart, or patches not measured
}

// GrowthOf is the growth of a group of stands.
type GrowthOf struct {
	By, Of string
	Stands int
	Years  float64           // of all stands of the group together
	Yearly estimate.Interval // factor on the acres in a year
}

// leastStands is the fewest stands for an estimate of growth. Our choice.
const leastStands = 10

// halfYear is the shortest time between looks from which growth is estimated, in years: over a
// shorter time the season matters more. Our choice.
const halfYear = 0.5

// mostGuessed is the largest share of a stand's patches that may have the default size. Our choice:
// a default does not grow.
const mostGuessed = 0.2

// grown estimates growth from the measured acres of each stand, over the looks that covered all of
// it while it was untreated. The growth of a group is the slope of log acres over years within
// stands, with bounds that take each stand as a cluster (M. Arellano, Oxford Bulletin of Economics
// and Statistics 49 (1987), 431-434). So stands may differ in size, and in how they were measured.
// A stand's weight is its number of patches, since each is measured separately.
func grown(all []history) Growth {
	var g Growth
	type one struct {
		part estimate.Part
		size geo.Acres
		zone bool
		span float64 // years
	}
	var stands []one
	for i := range all {
		h := &all[i]
		looks := h.untouched()
		if len(looks) < 2 {
			continue
		}
		part, span := slope(looks)
		if span < halfYear {
			g.Short++
			continue
		}
		part.Cluster = h.id
		stands = append(stands, one{part, looks[0].size, h.zone, span})
	}
	add := func(by, of string, in func(*one) bool) {
		group := GrowthOf{By: by, Of: of}
		var parts []estimate.Part
		for i := range stands {
			if in(&stands[i]) {
				parts = append(parts, stands[i].part)
				group.Years += stands[i].span
			}
		}
		group.Stands = len(parts)
		r := estimate.Ratio(parts)
		group.Yearly = estimate.Interval{Value: math.Exp(r.Value), Low: math.Exp(r.Low), High: math.Exp(r.High)}
		if group.Stands > 0 {
			g.Groups = append(g.Groups, group)
		}
	}
	add(field.All, "", func(*one) bool { return true })
	add("size", "below 0.05 acres", func(s *one) bool { return s.size < 0.05 })
	add("size", "0.05 to 0.5 acres", func(s *one) bool { return s.size >= 0.05 && s.size < 0.5 })
	add("size", "0.5 acres or more", func(s *one) bool { return s.size >= 0.5 })
	add("water", "in the aquatic zone", func(s *one) bool { return s.zone })
	add("water", "off the water", func(s *one) bool { return !s.zone })
	return g
}

// measured says whether a look measured most of the stand.
func (s *sight) measured() bool {
	return s.size > 0 && float64(s.guessed) <= mostGuessed*math.Max(1, float64(s.patches()))
}

// patches is roughly the number of patches seen.
func (s *sight) patches() int { return s.guessed + s.counted }

// untouched returns the looks at a stand while everything seen was untreated and nobody had worked
// on it. It keeps only looks that measured most of the stand, with the same number of unmeasured
// patches each.
func (h *history) untouched() []*sight {
	var out []*sight
	for i := range h.sights {
		s := &h.sights[i]
		worked := len(h.visits) > 0 && h.visits[0].day.Before(s.day)
		if !s.found || s.status != survey.Untreated || s.treated+s.other > 0 || worked {
			break
		}
		if s.measured() && (len(out) == 0 || out[0].guessed == s.guessed) {
			out = append(out, s)
		}
	}
	return out
}

// slope returns a stand's contribution to the slope of log acres over years, and the years between
// its first and last look.
func slope(looks []*sight) (part estimate.Part, span float64) {
	t, y, n := 0.0, 0.0, float64(len(looks))
	for _, s := range looks {
		t, y = t+years(looks[0].day, s.day)/n, y+math.Log(float64(s.size))/n
	}
	for _, s := range looks {
		dt := years(looks[0].day, s.day) - t
		part.Upper, part.At = part.Upper+dt*(math.Log(float64(s.size))-y), part.At+dt*dt
	}
	by := float64(looks[0].counted)
	part.Upper, part.At = part.Upper*by, part.At*by
	return part, years(looks[0].day, looks[len(looks)-1].day)
}
