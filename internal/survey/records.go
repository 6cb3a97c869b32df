package survey

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Records are records, sorted by id, in memory (Listed) or elsewhere (*Kept).
type Records interface {
	Len() int
	At(i int) *Record    // must not be changed
	Glance(i int) Glance // without the rest of the record, which takes longer where it is packed
}

// Glance is what is asked of every record to tell which others are near.
type Glance struct {
	Position    orb.Point
	Uncertainty geo.Meters
	Begin, End  Day
	Detected    bool
}

// Listed are records in memory.
type Listed []Record

// Len implements Records.
func (l Listed) Len() int { return len(l) }

// At implements Records.
func (l Listed) At(i int) *Record { return &l[i] }

// Glance implements Records.
func (l Listed) Glance(i int) Glance {
	r := &l[i]
	return Glance{r.Position, r.Uncertainty, r.Begin, r.End, r.Detected}
}
