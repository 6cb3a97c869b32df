package batch

import (
	"github.com/paulmach/orb"

	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// gatherLooked finds the ground surveyed this quarter and the ground surveyed in the whole chain.
func (c *computation) gatherLooked() error {
	now := lineage.Now{Quarter: c.in.Quarter, Records: c.ownRecords()}
	c.looked = lineage.SurveyedNow(now, c.evidence(), c.rules.Lineage, c.host.Goroutines())
	parts := []orb.MultiPolygon{c.looked}
	if c.in.Previous != nil {
		parts = append(parts, c.in.Previous.Looked.Areas)
	}
	c.surveyed = lineage.Together(parts, c.host.Goroutines())
	return nil
}

// ownRecords returns this quarter's records, without those that are carried.
func (c *computation) ownRecords() []survey.Record {
	if c.from == nil {
		return c.in.Records
	}
	var own []survey.Record
	for i := range c.in.Records {
		if c.from[i].IsZero() {
			own = append(own, c.in.Records[i])
		}
	}
	return own
}

// evidence is what shows which ground was surveyed, besides the records.
func (c *computation) evidence() lineage.Evidence {
	return lineage.Evidence{
		Given: c.in.SurveyedGiven, Ground: c.in.Surveyed,
		Water: lineage.Water{Paths: c.net.Paths, Half: c.water.HalfWidths()},
	}
}
