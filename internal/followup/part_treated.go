package followup

import (
	"math"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/treatment"
)

// wholeShare is the treated share of a stand from which all of it counts as treated. Our choice:
// acres of work and of a map differ by that much.
const wholeShare = 0.9

// partOf returns the part of a stand treated by work on or after a day. Work with a drawn area
// treated the stand's ground inside it. Other work treated the acres it reports, or the whole stand
// if it reports none. Work whose area does not meet the stand counts by its acres, or else by the
// acres of the area.
func partOf(sub *Subject, work []treatment.Treatment, day time.Time) Part {
	acres, whole := 0.0, false
	var drawn []orb.MultiPolygon
	var f *footprint
	for i := range work {
		a := &work[i]
		if a.Date.Before(day) {
			continue
		}
		if len(a.Ground) > 0 {
			if f == nil {
				f = footprintOf(sub)
			}
			if ground := f.within(a.Ground); ground != nil {
				drawn = append(drawn, ground)
				continue
			}
		}
		switch {
		case a.TreatedAcres > 0:
			acres += a.TreatedAcres
		case len(a.Ground) > 0:
			acres += float64(earth.Area(a.Ground).Acres())
		default: // NaN for not reported
			whole = true
		}
	}
	p := Part{}
	if acres > 0 {
		p.ByAcres = acres / max(sub.Acres, math.SmallestNonzeroFloat64)
	}
	if drawn != nil {
		f.divide(&p, shape.Union(drawn, 1))
	}
	if p.Share += p.ByAcres; whole || p.Share >= wholeShare {
		return Part{Share: 1}
	}
	return p
}
