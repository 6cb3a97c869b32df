package survey

import (
	"driftreach/geo"
	"driftreach/geo/earth"
)

// mostUncertain is the largest uncertainty used when positions are compared. Our choice: with less
// certain positions nobody can tell one plant from the next.
const mostUncertain geo.Meters = 100

// uncertainty returns the uncertainty of a record's position, at most 100 m.
func (o Options) uncertainty(r *Record) geo.Meters { return o.within(r.Uncertainty) }

// within returns an uncertainty as positions are compared with it; 0 means unknown.
func (o Options) within(u geo.Meters) geo.Meters {
	if u > 0 {
		return min(u, mostUncertain)
	}
	return min(o.Uncertainty, mostUncertain)
}

// agree says whether two records may be at the same place, given their uncertainties.
func (o Options) agree(a, b *Record) bool {
	return earth.Distance(a.Position, b.Position) <= o.uncertainty(a)+o.uncertainty(b)
}
