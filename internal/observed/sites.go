package observed

import (
	"sync"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/linear"
	"driftreach/internal/survey"
)

// site checks the records against the streams, after both have been read.
func (r *reader) site() {
	if len(r.out.Records.Listed) == 0 || len(r.out.Centerlines) == 0 {
		return
	}
	before := len(r.out.Records.Listed)
	records, findings := survey.CheckSites(r.out.Records.Listed, r.siteOf())
	r.out.Records.Listed = records
	r.found(findings)
	if len(records) < before {
		r.out.SetAside(nil)
	}
}

// siteOf returns what records are checked against.
func (r *reader) siteOf() survey.Site {
	lines := make([]orb.LineString, len(r.out.Centerlines))
	for i := range lines {
		lines[i] = r.out.Centerlines[i].Path
	}
	s := survey.DefaultSite()
	s.Near = linear.NewVicinity(lines, s.Far).Holds
	// built only if needed: in most surveys no record needs a search
	index := sync.OnceValue(func() *linear.Index { return linear.NewIndex(lines) })
	s.Nearest = func(p orb.Point) geo.Meters {
		place, _ := index().Nearest(p)
		return place.Distance
	}
	return s
}
