package allocate

import (
	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/aquatic"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Ground holds the stands of a batch, the records and settings they were made from, and the
// streams.
type Ground struct {
	Stands  []stand.Stand
	Records survey.Records
	Rules   stand.Settings
	Zone    []aquatic.Membership // by stand
	Water   *aquatic.Water
}

// Stands returns the shares of each stand, in the order of the units' ids, with ground outside all
// units last. Shares without acres are left out, unless a stand has no other. Infested acres are
// divided by the footprint, and zone acres by the part of the footprint in the zone. Gross acres
// are the infested acres plus the closed gaps, divided by where the gaps are. Canopy is divided
// like infested acres, since cover is known only for the whole stand. A stand far from every unit's
// outline is not cut. The shares add up exactly, to the grain. Any number of workers gives the same
// result.
func (m *Map) Stands(g Ground, workers int) [][]Share {
	out := make([][]Share, len(g.Stands))
	inParts(len(g.Stands), workers, func(i int) {
		st := &g.Stands[i]
		all := Share{Infested: st.Infested.Grains(), Gross: st.Gross.Grains(), Canopy: st.Canopy.Grains(), Zone: g.Zone[i].Area.Grains()}
		out[i] = m.split(st.Footprint, all, func(footprint orb.MultiPolygon, c *cut) []Share {
			return g.shares(st, all, footprint, c)
		})
	})
	return out
}

// Footprints returns the shares of footprints for infested acres alone, in grains.
func (m *Map) Footprints(outlines []stand.Outline, infested []int64, workers int) [][]Share {
	out := make([][]Share, len(outlines))
	inParts(len(outlines), workers, func(i int) {
		out[i] = m.split(outlines[i], Share{Infested: infested[i]}, func(footprint orb.MultiPolygon, c *cut) []Share {
			shares := make([]Share, len(c.areas)+1)
			for k, part := range byWeight(infested[i], c.weights(shape.SkylineOf(footprint)), nil) {
				shares[k].Infested = part
			}
			return shares
		})
	})
	return out
}

// split gives everything to the unit that contains the outline. If no single unit does, it cuts the
// outline and returns the shares by the areas of the cut, ground outside last.
func (m *Map) split(outline stand.Outline, all Share, shares func(orb.MultiPolygon, *cut) []Share) []Share {
	box := wrapped(outline.Bound())
	areas, cover := m.coverage.Meeting(box)
	if len(areas) == 0 {
		all.Unit = m.name(cover)
		return []Share{all}
	}
	if cover >= 0 {
		areas = append(areas, cover)
	}
	c := m.lay(box, areas)
	cutUp := shares(c.frame.Project(outline.Polygons()), &c)
	for k := range cutUp {
		cutUp[k].Unit = Outside
		if k < len(areas) {
			cutUp[k].Unit = m.name(areas[k])
		}
	}
	cutUp = withoutSlivers(cutUp, all)
	if len(cutUp) == 0 {
		all.Unit = m.name(areas[0])
		return []Share{all}
	}
	return cutUp
}

// sliver is the gross area in grains below which a share counts as rounding along a border; for a
// small stand it is a thousandth of the stand. Our choice: 0.2 square metres, far below position
// error.
const sliver = 500_000

// withoutSlivers adds the shares that are slivers to the largest share.
func withoutSlivers(shares []Share, all Share) []Share {
	least := min(sliver, max(all.Gross, all.Infested)/1000)
	largest := 0
	for k := range shares {
		if shares[k].Infested > shares[largest].Infested {
			largest = k
		}
	}
	kept := make([]Share, 0, len(shares))
	into := &shares[largest]
	for k := range shares {
		if s := &shares[k]; k != largest && s.Gross <= least && s.Infested <= least {
			into.Infested, into.Gross = into.Infested+s.Infested, into.Gross+s.Gross
			into.Canopy, into.Zone = into.Canopy+s.Canopy, into.Zone+s.Zone
			*s = Share{}
		}
	}
	for _, s := range shares {
		if s.Infested != 0 || s.Gross != 0 || s.Canopy != 0 || s.Zone != 0 {
			kept = append(kept, s)
		}
	}
	return kept
}

// shares divides a stand's four acreages.
func (g *Ground) shares(st *stand.Stand, all Share, footprint orb.MultiPolygon, c *cut) []Share {
	ground := shape.SkylineOf(footprint)
	weights := c.weights(ground)
	infested := byWeight(all.Infested, weights, nil)
	canopy := byWeight(all.Canopy, weights, infested)
	zone := make([]int64, len(infested))
	if all.Zone > 0 {
		zone = byWeight(all.Zone, g.zoneWeights(all, ground, footprint.Bound(), c), infested)
	}
	gaps := make([]int64, len(infested))
	if all.Gross > all.Infested {
		gaps = byWeight(all.Gross-all.Infested, g.gapWeights(st, footprint, weights, c), nil)
	}
	out := make([]Share, len(infested))
	for k := range out {
		out[k] = Share{Infested: infested[k], Gross: infested[k] + gaps[k], Canopy: canopy[k], Zone: zone[k]}
	}
	return out
}

// zoneWeights returns the square metres of ground in the zone, by unit. It returns those of all
// ground where the stand is wholly in the zone, or where none of the zone can be drawn there.
func (g *Ground) zoneWeights(all Share, ground shape.Skyline, box orb.Bound, c *cut) []float64 {
	if all.Zone < all.Infested {
		zone := g.Water.Around(c.frame.Center(), box)
		if weights := c.weights(ground.Cut(zone)); sum(weights) > 0 {
			return weights
		}
	}
	return c.weights(ground)
}

// gapWeights returns, by unit, the square metres that closing adds to the footprint. Where closing
// adds nothing measurable, it returns those of the footprint.
func (g *Ground) gapWeights(st *stand.Stand, footprint orb.MultiPolygon, before []float64, c *cut) []float64 {
	weights := c.weights(g.closing(st, footprint, c.frame))
	for k := range weights {
		weights[k] = max(0, weights[k]-before[k])
	}
	if sum(weights) > 0 {
		return weights
	}
	return before
}

// closing returns the ground inside a stand's general perimeter.
func (g *Ground) closing(st *stand.Stand, footprint orb.MultiPolygon, frame earth.Frame) shape.Skyline {
	discs := make([]shape.Disc, 0, len(st.Members))
	for _, m := range st.Members {
		r := g.Records.At(int(m))
		if r.Outline != nil {
			break
		}
		discs = append(discs, shape.DiscOfArea(frame.Forward(r.Position), stand.PatchOf(*r, g.Rules).Area))
	}
	if len(discs) == 0 || len(discs) < len(st.Members) {
		valid, _ := shape.MakeValid(footprint)
		return shape.SkylineOf(shape.Closing(valid, g.Rules.JoinDistance))
	}
	return shape.ClosingSkyline(discs, g.Rules.JoinDistance)
}

func sum(weights []float64) float64 {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	return total
}
