package survey

import (
	"driftreach/geo"
	"driftreach/geo/earth"
)

// mostUncertain bounds the uncertainty by which two positions may be one. Our
// choice: with a position farther off nobody can tell one plant from the next.
const mostUncertain geo.Meters = 100

// uncertainty returns by how much a record's position may be off, 100 m at most.
func (o Options) uncertainty(r *Record) geo.Meters {
	if r.Uncertainty > 0 {
		return min(r.Uncertainty, mostUncertain)
	}
	return min(o.Uncertainty, mostUncertain)
}

// agree says whether the positions of two records may be one place: each may be
// off by its uncertainty.
func (o Options) agree(a, b *Record) bool {
	return earth.Distance(a.Position, b.Position) <= o.uncertainty(a)+o.uncertainty(b)
}

// farthestAgreed returns the largest distance at which two of the records may
// still agree.
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
