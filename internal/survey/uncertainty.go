package survey

import (
	"driftreach/geo"
	"driftreach/geo/earth"
)

// mostUncertain is the largest uncertainty used when positions are compared. Our choice: with less
// certain positions nobody can tell one plant from the next.
const mostUncertain geo.Meters = 100

// uncertainty returns the uncertainty of a record's position, at most 100 m.
func (o Options) uncertainty(r *Record) geo.Meters {
	if r.Uncertainty > 0 {
		return min(r.Uncertainty, mostUncertain)
	}
	return min(o.Uncertainty, mostUncertain)
}

// agree says whether two records may be at the same place, given their uncertainties.
func (o Options) agree(a, b *Record) bool {
	return earth.Distance(a.Position, b.Position) <= o.uncertainty(a)+o.uncertainty(b)
}

// farthestAgreed returns the largest distance at which two of the records may still be at the same
// place.
func (o Options) farthestAgreed(records []Record) geo.Meters {
	find, absence := geo.Meters(0), geo.Meters(0)
	for i := range records {
		if r := &records[i]; r.Detected {
			find = max(find, o.uncertainty(r))
		} else {
			absence = max(absence, o.uncertainty(r))
		}
	}
	return find + absence
}
