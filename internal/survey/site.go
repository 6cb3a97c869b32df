package survey

import (
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
)

// Site says how records are checked against the streams.
type Site struct {
	// Far is the distance from every stream beyond which a record is checked.
	Far geo.Meters
	// Meant is how near to a stream a corrected position must be to be accepted as the intended one.
	Meant geo.Meters
	// Near is a quick test that a position is certainly within Far of a stream. Nearest gives its
	// distance from the nearest stream.
	Near         func(orb.Point) bool
	Nearest      func(orb.Point) geo.Meters
	FindingLimit int  // as check.Log.Limit
	Quiet        bool // as check.Log.Quiet
}

// DefaultSite returns the default distances; the caller sets the functions.
func DefaultSite() Site {
	return Site{
		// [A] stream-side surveys stay near streams; twenty kilometres away is another valley
		Far: 20_000,
		// [A] a wrongly corrected position is this near by chance once in hundreds of cases
		Meant: 2_000,
	}
}

// reading is a position as corrected for one kind of mistake.
type reading struct {
	at   orb.Point
	rule check.Rule
	what string
}

// readings returns the position corrected for the usual mistakes on field sheets, the most frequent
// first.
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

// CheckSites checks records against the streams. A record that is far from all streams may be near one
// if a usual mistake is corrected: a lost minus, the wrong hemisphere or exchanged axes. Such a record
// is rejected, since its true place is elsewhere. One that stays far away is kept, with a warning. It
// returns the accepted records in their order, and the findings. It takes the slice over.
func CheckSites(records []Record, s Site) ([]Record, []check.Finding) {
	c := NewSiteChecker(s)
	kept := records[:0]
	for i := range records {
		if c.Accept(&records[i]) {
			kept = append(kept, records[i])
		}
	}
	clear(records[len(kept):])
	return kept, c.Findings()
}

// SiteChecker does what CheckSites does, for one record after another.
type SiteChecker struct {
	c    *checker
	site Site
}

// NewSiteChecker returns a checker that has found nothing.
func NewSiteChecker(s Site) *SiteChecker {
	return &SiteChecker{newChecker(Options{FindingLimit: s.FindingLimit, Quiet: s.Quiet}), s}
}

// Accept checks a record; false means rejected.
func (c *SiteChecker) Accept(r *Record) bool { return c.site.Near(r.Position) || c.c.sited(r, c.site) }

// Findings returns what was found so far.
func (c *SiteChecker) Findings() []check.Finding { return c.c.Findings() }

// sited checks a record that may be far away; false means rejected.
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
