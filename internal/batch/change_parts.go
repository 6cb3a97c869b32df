package batch

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/lineage"
	"driftreach/internal/survey"
)

// part says what each stand's infested acres are made of, in grains, and puts its change into a word. Shares are those of the mapped
// stands' ground that was never looked at before.
func (c *computation) part(shares []float64) {
	known := c.in.Previous.Known
	outcomes := make([]lineage.Outcome, len(c.lineage.Groups))
	for g, group := range c.lineage.Groups {
		p := &c.ancestry[g].parts
		all := c.stands[g].Infested.Grains()
		p.Own = min(p.Own, all)
		p.Carried = all - p.Own
		p.FirstLooked = firstLooked(group, shares, c.ownAcres(g), p.Own)
		outcomes[g] = lineage.Outcome{Infested: c.stands[g].Infested, Carried: len(c.lineage.Carried[g]) > 0, Unknown: 2*p.FirstLooked > p.Own}
	}
	for g, change := range c.lineage.Judge(known, outcomes, c.rules.Lineage) {
		c.ancestry[g].change = change
	}
	for i := range c.stands[len(outcomes):] {
		at := len(outcomes) + i
		c.ancestry[at].parts.Carried = c.stands[at].Infested.Grains()
	}
	c.remember()
}

// firstLooked returns what of a group's own acres lies on ground that was never
// looked at before.
func firstLooked(group []int32, shares, acres []float64, own int64) int64 {
	unknown, all := 0.0, 0.0
	for i, m := range group {
		unknown, all = unknown+shares[m]*acres[i], all+acres[i]
	}
	if !(all > 0) {
		return 0
	}
	return min(own, int64(math.Round(float64(own)*unknown/all)))
}

// restated returns the infested acres of each stand of the batch before under the
// present rules, in grains; 0 of one that was not detected.
func (c *computation) restated() []int64 {
	out := make([]int64, len(c.in.Previous.Known))
	for k := range out {
		if known := &c.in.Previous.Known[k]; !known.Absent {
			out[k] = known.InfestedAcres()
		}
	}
	return out
}

// homes returns, by known stand, the stand that goes on under its identity, else
// one that continues it, by their places in the answer; -1 for none.
func (c *computation) homes(links []lineage.Link) []int32 {
	out := make([]int32, len(c.in.Previous.Known))
	for k := range out {
		out[k] = -1
	}
	for _, link := range links {
		if link.Heir || out[link.Known] < 0 {
			out[link.Known] = link.Stand
		}
	}
	for i := range c.run.Stands {
		if s := &c.run.Stands[i]; s.Carried() {
			out[s.Parents[0]] = int32(i)
		}
	}
	return out
}

// ownAcres returns the acres of a group's mapped stands, as weights.
func (c *computation) ownAcres(g int) []float64 {
	out := make([]float64, len(c.lineage.Groups[g]))
	for i, m := range c.lineage.Groups[g] {
		out[i] = float64(c.mapped[m])
	}
	return out
}

// addLooked adds the ground looked at in the chain, this quarter's with it.
func (c *computation) addLooked() {
	now := lineage.Now{Quarter: c.in.Quarter, Records: c.ownRecords()}
	c.looked = lineage.SurveyedNow(now, c.evidence(), c.rules.Lineage, c.host.Goroutines())
	parts := []orb.MultiPolygon{c.looked}
	if c.in.Previous != nil {
		parts = append(parts, c.in.Previous.Looked.Areas)
	}
	c.run.Surveyed = lineage.Together(parts, c.host.Goroutines())
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
