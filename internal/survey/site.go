package survey

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
)

// Site says how records are held against the streams.
type Site struct {
	// Far is how far from every stream a record is worth a look.
	Far geo.Meters
	// Meant is how near to a stream another reading of the numbers must be to be
	// what was meant.
	Meant geo.Meters
	// Near says quickly that a position is surely within Far of a stream; Nearest
	// gives its distance from the nearest.
	Near         func(orb.Point) bool
	Nearest      func(orb.Point) geo.Meters
	FindingLimit int // as check.Log.Limit
}

// DefaultSite returns the distances; the functions are the caller's.
func DefaultSite() Site {
	return Site{
		// [A] stream-side surveys keep to streams; twenty kilometres off is another valley
		Far: 20_000,
		// [A] by chance a wrong reading lands this near once in hundreds of times
		Meant: 2_000,
	}
}

// reading is another way to read a position's numbers.
type reading struct {
	at   orb.Point
	rule check.Rule
	what string
}

// readings are the mistakes that field sheets make, most frequent first.
func readings(p orb.Point) []reading {
	return []reading{
		{orb.Point{-p[0], p[1]}, ruleSign, "with the other sign of longitude"},
		{orb.Point{p[0], -p[1]}, ruleSign, "with the other sign of latitude"},
		{orb.Point{-p[0], -p[1]}, ruleSign, "with the other signs"},
		{orb.Point{p[1], p[0]}, ruleSwapped, "with longitude and latitude swapped"},
		{orb.Point{-p[1], p[0]}, ruleSwapped, "with longitude and latitude swapped, and the other sign"},
		{orb.Point{p[1], -p[0]}, ruleSwapped, "with longitude and latitude swapped, and the other sign"},
	}
}

// CheckSites holds checked records against the streams. A record far from all of
// them that is near one with its numbers read another way (a minus lost,
// hemispheres or axes exchanged) is rejected, since its true place is another; one
// that is far off either way is kept and warned of. It returns the accepted
// records, in their order, and what it found. It takes the slice over.
func CheckSites(records []Record, s Site) ([]Record, []check.Finding) {
	c := newChecker(Options{FindingLimit: s.FindingLimit})
	kept := records[:0]
	for i := range records {
		r := &records[i]
		if s.Near(r.Position) || c.sited(r, s) {
			kept = append(kept, *r)
		}
	}
	clear(records[len(kept):])
	return kept, c.Findings()
}

// sited looks at a record that may be far off; false means rejected.
func (c *checker) sited(r *Record, s Site) bool {
	off := s.Nearest(r.Position)
	if off <= s.Far {
		return true
	}
	value := check.Number(r.Position[0]) + " " + check.Number(r.Position[1])
	for _, other := range readings(r.Position) {
		if !inRange(other.at) {
			continue
		}
		if d := s.Nearest(other.at); d <= s.Meant {
			c.Report(r, other.rule, "position", value, fmt.Sprintf("the position is %s from every stream, and %s %s from one; the record was rejected", kilometers(off), other.what, kilometers(d)))
			return false
		}
	}
	c.Report(r, ruleFarOff, "position", value, fmt.Sprintf("the position is %s from every stream; the record was kept", kilometers(off)))
	return true
}

func kilometers(d geo.Meters) string {
	if d < 10_000 {
		return fmt.Sprintf("%.1f km", d.Kilometers())
	}
	return fmt.Sprintf("%.0f km", d.Kilometers())
}
