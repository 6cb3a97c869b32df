package survey

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Records are records sorted by id, in memory or kept elsewhere. The zero value has none.
type Records struct {
	Listed []Record // nil if they are kept
	Kept   *Kept    // nil if they are in memory
}

// Len returns the number of records.
func (r Records) Len() int {
	if r.Kept != nil {
		return r.Kept.Len()
	}
	return len(r.Listed)
}

// At returns record i, which must not be changed.
func (r Records) At(i int) *Record {
	if r.Kept != nil {
		return r.Kept.At(i)
	}
	return &r.Listed[i]
}

// Numbers is At where no text is asked for. It may use room.
func (r Records) Numbers(i int, room *Record) *Record {
	if r.Kept != nil {
		r.Kept.Numbers(i, room)
		return room
	}
	return &r.Listed[i]
}

// Glance returns what it has of record i, without reading the rest, which takes longer where it is packed.
func (r Records) Glance(i int) Glance {
	if r.Kept != nil {
		return r.Kept.Glance(i)
	}
	one := &r.Listed[i]
	return Glance{one.Position, one.Uncertainty, one.Begin, one.End, one.Detected}
}

// Detected returns the number of finds.
func (r Records) Detected() int {
	if r.Kept != nil {
		return r.Kept.Detected()
	}
	return r.count(func(one *Record) bool { return one.Detected })
}

// Of returns the number of records from a file.
func (r Records) Of(file string) int {
	if r.Kept != nil {
		return r.Kept.Of(file)
	}
	return r.count(func(one *Record) bool { return one.File == file })
}

// Dated says whether any record has a date.
func (r Records) Dated() bool {
	if r.Kept != nil {
		return r.Kept.Dated()
	}
	return r.count(func(one *Record) bool { return !one.Begin.IsZero() }) > 0
}

// count returns the number of listed records for which is is true.
func (r Records) count(is func(*Record) bool) int {
	n := 0
	for i := range r.Listed {
		if is(&r.Listed[i]) {
			n++
		}
	}
	return n
}

// Glance is what is asked of every record to tell which others are near.
type Glance struct {
	Position    orb.Point
	Uncertainty geo.Meters
	Begin, End  Day
	Detected    bool
}
