package stand

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/survey"
)

// Laid is a stand with its patches laid on the ground, to measure how its areas depend on them.
type Laid struct {
	*Stand
	records []survey.Record
	rules   Settings
	ground
	prepared shape.Discs // those of the ground
}

// Lay lays the patches of a stand on the ground.
func (st *Stand) Lay(records []survey.Record, s Settings) *Laid {
	l := &Laid{Stand: st, records: records, rules: s, ground: layGround(records, st.Members, s)}
	l.prepared = shape.NewDiscs(l.discs)
	return l
}

// Exposed says how the infested area of a stand depends on the patch of one of its records, to
// first order.
type Exposed struct {
	Patch
	shape.Exposure
}

// Exposed returns, by member, how the stand's infested area depends on it. The derivatives are
// exact for discs. In a stand with drawn patches they are those of the drawn outlines, exact to a
// hundredth of each. Takes as long as measuring the stand.
func (l *Laid) Exposed() []Exposed {
	out := make([]Exposed, len(l.patches))
	for i, e := range l.exposures() {
		out[i] = Exposed{l.patches[i], e}
	}
	return out
}

// ExposedGross returns, by member, how the stand's gross area depends on it. infested is the result
// of Exposed. It is returned unchanged where the two areas are equal, and, as an approximation, for
// a stand with drawn patches.
func (l *Laid) ExposedGross(infested []Exposed) []shape.Exposure {
	drawn := slices.ContainsFunc(l.Members, func(m int32) bool { return l.records[m].Outline != nil })
	if l.Gross > l.Infested && !drawn {
		return l.prepared.Exposures(l.rules.JoinDistance)
	}
	out := make([]shape.Exposure, len(infested))
	for i := range infested {
		out[i] = infested[i].Exposure
	}
	return out
}

// exposures returns, by member, how the infested area depends on it.
func (l *Laid) exposures() []shape.Exposure {
	if l.drawn == nil {
		return l.prepared.Exposures(0)
	}
	areas, disc := make([]orb.MultiPolygon, len(l.Members)), 0
	for i, m := range l.Members {
		if outline := l.records[m].Outline; outline != nil {
			areas[i], _ = shape.MakeValid(l.frame.Project(outline))
			continue
		}
		areas[i] = orb.MultiPolygon{l.discs[disc].Polygon()}
		disc++
	}
	return shape.ExposuresOf(areas)
}

// Resting is the part of a stand's area that rests on default values.
type Resting struct {
	Infested geo.SquareMeters // covered only by patches of default size
	Canopy   geo.SquareMeters // canopy of patches with default size or cover
}

// Resting returns the part of a stand's area that rests on default values: the infested area that
// no measured patch covers, and the canopy of patches with an assumed size or cover. A stand whose
// patches are all measured, or all assumed, needs no new measurement.
func (st *Stand) Resting(records []survey.Record, s Settings) Resting {
	var measured []int32
	var canopy, resting geo.SquareMeters
	for _, m := range st.Members {
		p := PatchOf(records[m], s)
		if !p.AreaAssumed {
			measured = append(measured, m)
		}
		if records[m].Outline != nil {
			p.Area = OutlineArea(records[m].Outline)
		}
		canopy += p.Canopy()
		if p.AreaAssumed || p.CoverAssumed {
			resting += p.Canopy()
		}
	}
	var out Resting
	switch {
	case len(measured) == 0:
		out.Infested = st.Infested
	case len(measured) < len(st.Members):
		out.Infested = max(0, st.Infested-infestedOf(records, measured, s))
	}
	if canopy > 0 {
		out.Canopy = min(st.Canopy, st.Canopy*(resting/canopy))
	}
	return out
}

// infestedOf returns the area that the patches of some records cover together.
func infestedOf(records []survey.Record, members []int32, s Settings) geo.SquareMeters {
	g := layGround(records, members, s)
	area := shape.UnionDiscsArea(g.discs)
	if g.drawn != nil {
		drawn := g.outlines()
		area += max(0, geo.PolygonArea(drawn)-shape.IntersectionArea(drawn, shape.UnionDiscs(g.discs)))
	}
	return area
}
