package batch

import (
	"github.com/paulmach/orb"

	"driftreach/internal/lineage"
)

// gatherLooked finds the ground surveyed this quarter and the ground surveyed in the whole chain.
func (c *computation) gatherLooked() error {
	now := lineage.Now{Quarter: c.in.Quarter, Records: c.allRecords()}
	c.looked = lineage.SurveyedNow(now, c.evidence(), c.rules.Lineage, c.host.Goroutines())
	parts := []orb.MultiPolygon{c.looked}
	if c.in.Previous != nil {
		parts = append(parts, c.in.Previous.Looked.Areas)
	}
	c.surveyed = lineage.Together(parts, c.host.Goroutines())
	return nil
}

// evidence is what shows which ground was surveyed, besides the records.
func (c *computation) evidence() lineage.Evidence {
	return lineage.Evidence{
		Given: c.in.SurveyedGiven, Ground: c.in.Surveyed,
		Water: lineage.Water{Paths: c.net.Paths, Half: c.water.HalfWidths()},
	}
}
