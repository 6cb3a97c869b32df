package batch

import (
	"cmp"
	"slices"

	"driftreach/geo"
	"driftreach/geo/flow"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// planAhead plans the coming quarters, each within its budget.
func (c *computation) planAhead() error {
	site := plan.Site{Quarter: c.in.Quarter, Stands: make([]plan.Stand, len(c.run.Stands))}
	if c.bands != nil {
		site.Draws = len(c.bands.Draws)
	}
	outlines := make([]*stand.Stand, len(c.run.Stands))
	for at := range c.run.Stands {
		outlines[at] = &c.run.Stands[at].Stand
	}
	places := plan.Sites(outlines, c.rules.Plan.SiteDistance)
	b := benefit{c: c}
	if err := b.weigh(); err != nil {
		return err
	}
	terms := c.terms
	visits := c.visitOf()
	blocks := c.blocks(visits, &b)
	for at := range c.run.Stands {
		s := &c.run.Stands[at]
		st := plan.Stand{
			Order: s.Advice.Order, Factor: drift.Factor(terms.factor(int32(at))), Place: places[at], Outlier: c.isOutlier(s),
			Waiting: blocks[at], Due: c.due(int32(at), visits[at], &b), Draws: c.drawn(c.sorted[at], &b), Windows: terms.windows(int32(at)),
		}
		for _, i := range c.toTreat(c.sorted[at]).Reaches {
			st.Reaches = append(st.Reaches, c.place[i])
		}
		slices.Sort(st.Reaches)
		if s.Carried() {
			st.Unseen, st.Seen = quartersBetween(s.CarriedFrom, c.in.Quarter), s.CarriedFrom.String()
		}
		site.Stands[at] = st
	}
	c.report(b.told...)
	var err error
	if c.run.Plan, err = plan.Make(c.ctx, site, c.rules.Plan); err != nil {
		return err
	}
	c.run.Plan.Valued = len(c.in.Valued) > 0
	return nil
}

// quartersBetween is the number of quarters from one to the other.
func quartersBetween(from, to survey.Quarter) int {
	return to.Ordinal() - from.Ordinal()
}

// visitOf returns the follow-up of each stand, by index in the result.
func (c *computation) visitOf() []*followup.Row {
	rows := make([]*followup.Row, len(c.run.Stands))
	for k := range c.run.Visits {
		if v := &c.run.Visits[k]; v.Stand >= 0 {
			rows[v.Stand] = v.Row
		}
	}
	return rows
}

// due lists the visits due to the treated part of a stand. If it grows again, the visit is to the whole
// stand, with the exposure of the part to treat.
func (c *computation) due(at int32, row *followup.Row, b *benefit) []plan.Due {
	if row == nil {
		return nil
	}
	year := max(1, row.Work.Days)
	acres := c.run.Stands[at].Infested.Acres()
	switch row.State {
	case followup.TreatAgain:
		return []plan.Due{{Day: row.Due, Year: year, Acres: acres, At: row.Place.Position, Grows: b.of(c.sorted[at]), Why: row.Why(c.rules.Followup)[0]}}
	case followup.LookAgain:
		return []plan.Due{{Day: row.Due, Year: year, Acres: acres, At: row.Place.Position, Why: row.Why(c.rules.Followup)[0]}}
	case followup.ToTreat:
		if !row.Again.IsZero() {
			at := row.Place.Position
			if row.Done.Cut != nil {
				at = row.Done.Cut.At
			}
			return []plan.Due{{Day: row.Again, Year: year, Acres: geo.Acres(row.Done.Share) * acres, At: at, Why: row.Why(c.rules.Followup)[0]}}
		}
	}
	return nil
}

// isOutlier says whether a stand is isolated and new: first mapped less than plan.look_first quarters
// ago.
func (c *computation) isOutlier(s *result.Stand) bool {
	first, err := survey.ParseQuarter(firstQuarter(s.ID))
	return err == nil && s.Isolated && quartersBetween(first, c.in.Quarter) < c.rules.Plan.LookFirst
}

// firstQuarter returns the quarter in a stand's id, when it was first mapped.
func firstQuarter(id string) string {
	if len(id) < 6 {
		return ""
	}
	return id[:6]
}

// drawn returns, by draw, the exposure of the part of stand i to treat; nil if there are no draws.
func (c *computation) drawn(i int32, b *benefit) []drift.DrawnExposure {
	if c.bands == nil || c.bands.Draws == nil {
		return nil
	}
	share := drift.AmountKm(c.done[i].Waits())
	if all := c.drift.Outcomes[i].Exposure; all > 0 {
		share = b.of(i) / all
	}
	out := make([]drift.DrawnExposure, len(c.bands.Draws))
	for d, draw := range c.bands.Draws {
		out[d] = drift.DrawnExposure(share * drift.AmountKm(draw[i]))
	}
	return out
}

// blocks returns, by index in the result, what waits for its first treatment: the stand as a whole or,
// if it is large, its blocks from upstream to downstream.
func (c *computation) blocks(visits []*followup.Row, worth *benefit) [][]plan.Block {
	out := make([][]plan.Block, len(c.run.Stands))
	b := blocker{c: c, released: drift.Released{}}
	for at := range c.run.Stands {
		i, row := c.sorted[at], visits[at]
		job := c.toTreat(i)
		job.Exposure = worth.of(i)
		if row == nil || row.State != followup.ToTreat || job.Acres == 0 {
			continue
		}
		n := 1
		if most := c.rules.Plan.Block; job.Acres > most*(1+1e-9) {
			n = int(job.Acres/most*(1-1e-9)) + 1
		}
		out[at] = make([]plan.Block, n)
		for k := range out[at] {
			out[at][k] = plan.Block{At: row.Place.Position, Acres: job.Acres / geo.Acres(n), Exposure: job.Exposure / drift.AmountKm(n)}
		}
		if n > 1 {
			b.cut(i, out[at], job.Exposure)
		}
	}
	b.weigh()
	return out
}

// blocker cuts large stands into blocks.
type blocker struct {
	c        *computation
	released drift.Released // one entry for each block
	cuts     []cut
}

// cut is a stand cut into blocks, and the index of its first block among the released.
type cut struct {
	blocks   []plan.Block
	first    int
	exposure drift.AmountKm // of all its blocks
}

// cut divides the records of stand i into blocks of equal acres, from upstream to downstream. A record
// on a boundary is split between the two blocks.
func (b *blocker) cut(i int32, blocks []plan.Block, exposure drift.AmountKm) {
	c := b.c
	type piece struct {
		record int32
		place  flow.Place // where it touches the zone; edge -1 for none
		bank   geo.Meters
		area   float64
	}
	touch := map[int32]int{}
	for k, t := range c.touches[i] {
		touch[t.Record] = k
	}
	var pieces []piece
	total := 0.0
	for _, m := range c.stands[i].Members {
		r := c.in.Records.At(int(m))
		left := geo.Share(1)
		if share, part := c.left[m]; part {
			left = share
		}
		p := piece{record: m, place: flow.Place{Edge: -1}, area: float64(left) * float64(stand.PatchOf(*r, c.rules.Stands).Area)}
		if k, touches := touch[m]; touches {
			p.place, p.bank = c.touches[i][k].Place, c.touches[i][k].Bank
		}
		if p.area > 0 {
			pieces, total = append(pieces, p), total+p.area
		}
	}
	slices.SortStableFunc(pieces, func(x, y piece) int {
		return cmp.Or(geo.CompareBools(x.place.Edge < 0, y.place.Edge < 0), cmp.Compare(x.place.Edge, y.place.Edge), cmp.Compare(x.place.Offset, y.place.Offset))
	})
	first, n := b.released.Stands, len(blocks)
	b.released.Stands += n
	b.cuts = append(b.cuts, cut{blocks, first, exposure})
	sum := 0.0
	for _, p := range pieces {
		from, to := sum/total*float64(n), (sum+p.area)/total*float64(n)
		sum += p.area
		for k := int(from); k < min(n, int(to)+1); k++ {
			share := (min(to, float64(k+1)) - max(from, float64(k))) / (to - from)
			if share <= 0 {
				continue
			}
			if middle := float64(k) + 0.5; from <= middle && middle <= to {
				blocks[k].At = c.in.Records.At(int(p.record)).Position
			}
			if p.place.Edge >= 0 && p.bank <= c.rules.Aquatic.Setback+c.rules.Beyond {
				amount := drift.Amount(share) * c.rules.Drift.Release(c.in.Records.At(int(p.record)), c.rules.Stands)
				if part, divided := c.left[p.record]; divided {
					amount *= drift.Amount(part)
				}
				b.released.Sources = append(b.released.Sources, drift.Source{Stand: int32(first + k), Place: p.place, Amount: amount, Bank: p.bank})
			}
		}
	}
}

// weigh divides the exposure of each stand among its blocks.
func (b *blocker) weigh() {
	if len(b.released.Sources) == 0 {
		return
	}
	c := b.c
	outcomes := drift.Follow(c.net, b.released, c.rules.Drift, c.host.Goroutines()).Outcomes
	for _, cut := range b.cuts {
		sum := drift.AmountKm(0)
		for k := range cut.blocks {
			sum += outcomes[cut.first+k].Exposure
		}
		for k := range cut.blocks {
			if sum > 0 {
				cut.blocks[k].Exposure = cut.exposure * outcomes[cut.first+k].Exposure / sum
			}
		}
	}
}
