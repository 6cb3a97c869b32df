package batch

import (
	"github.com/paulmach/orb"

	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// gatherLooked finds the ground surveyed this quarter and the ground surveyed in the whole chain.
func (c *computation) gatherLooked() error {
	g := lineage.Gathering{
		Records: c.ownRecords, Evidence: c.evidence(), Settings: c.rules.Lineage, Workers: c.host.Goroutines(), Shelf: c.shelf(),
	}
	c.looked = g.Ground()
	c.surveyed = c.looked
	if c.in.Previous != nil {
		both := lineage.Together([]orb.MultiPolygon{c.looked.All(), c.in.Previous.Looked.Areas}, c.host.Goroutines())
		c.surveyed = lineage.PiecesOf(both, c.shelf())
	}
	return nil
}

// ownRecords lists the records of this quarter, without those that are carried, each with its stand; -1
// for none.
func (c *computation) ownRecords(yield func(*survey.Record, int32) bool) {
	for i := range c.in.Records.Len() {
		if c.from == nil || c.from[i].IsZero() {
			if !yield(c.in.Records.At(i), c.standOf[i]) {
				return
			}
		}
	}
}

// evidence is what shows which ground was surveyed, besides the records.
func (c *computation) evidence() lineage.Evidence {
	return lineage.Evidence{
		Given: c.in.SurveyedGiven, Ground: c.in.Surveyed,
		Water: lineage.Water{Paths: c.net.Paths, Half: c.water.HalfWidths()},
	}
}
