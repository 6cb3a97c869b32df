package followup

import (
	"math"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/treatment"
)

// Part is the part of a stand treated by control work since its last look. The rest waits for
// treatment; the treated part is looked at again.
type Part struct {
	Share   float64          // treated share of its infested ground, 0 to 1; 0 without such work
	ByAcres float64          // the part of Share known only by acres: its place in the stand is unknown
	Ground  orb.MultiPolygon // the stand's ground inside areas drawn as treated, in degrees; nil for none, and where Share is 1
	At      orb.Point        // place to go to in Ground, degrees
	Rest    orb.MultiPolygon // the untreated ground of the stand, where Ground is known; otherwise nil
	RestAt  orb.Point        // place to go to in Rest
}

// Waits returns the share of Rest that waits for treatment, or of the whole stand where no ground
// is known.
func (p *Part) Waits() float64 {
	if p.Share >= 1 {
		return 0
	}
	return 1 - p.ByAcres/(1-(p.Share-p.ByAcres))
}

// wholeShare is the treated share of a stand from which all of it counts as treated. Our choice:
// acres of work and of a map differ by that much.
const wholeShare = 0.9

// leastGround is the smallest area of a stand, in square metres, that a drawn area must cover to
// count as treating any of it. Our choice: less can be the rounding of two outlines that touch.
const leastGround geo.SquareMeters = 1

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

// within returns the part of an area in degrees inside the footprint, in metres of its frame; nil
// for less than leastGround.
func (f *footprint) within(area orb.MultiPolygon) orb.MultiPolygon {
	if f == nil {
		return nil
	}
	xy, _ := shape.MakeValid(f.frame.Project(area))
	if !xy.Bound().Intersects(f.area.Bound()) {
		return nil
	}
	both := shape.Intersection(f.area, xy)
	if geo.PolygonArea(both) < leastGround {
		return nil
	}
	return both
}

// divide records the treated ground of a footprint, and the rest, in a part.
func (f *footprint) divide(p *Part, treated orb.MultiPolygon) {
	p.Share = float64(geo.PolygonArea(treated) / geo.PolygonArea(f.area))
	rest := shape.Difference(f.area, treated)
	p.Ground, p.At = f.frame.Unproject(treated), f.inside(treated)
	p.Rest, p.RestAt = f.frame.Unproject(rest), f.inside(rest)
}

// inside returns the place to go to in a part of the footprint, in degrees.
func (f *footprint) inside(part orb.MultiPolygon) orb.Point {
	at, _ := shape.Amid(part)
	return f.frame.Inverse(at)
}
