package stand

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/survey"
)

// Areas are the two areas of a stand.
type Areas struct{ Infested, Gross geo.SquareMeters }

// Scattered returns by how much a stand's areas change, in the mean, when its patches are
// moved: each of the moves tells how far, by member in metres of x and y, and is taken both
// there and back, so that what is only a slope cancels. The same records stay a stand, and
// drawn patches are taken as discs of their area. gross asks for the gross area too, which
// is 0 otherwise. Cost of measuring discs, twice a move.
func (st *Stand) Scattered(records []survey.Record, s Settings, moves [][][2]float64, gross bool) Areas {
	if len(st.Members) < 2 || len(moves) == 0 {
		return Areas{} // one patch is as large anywhere
	}
	g := layGround(records, st.Members, s)
	discs := make([]shape.Disc, len(st.Members))
	next := 0
	for i, m := range st.Members {
		if r := &records[m]; r.Outline != nil {
			discs[i] = shape.DiscOfArea(g.frame.Forward(r.Position), g.patches[i].Area)
			continue
		}
		discs[i] = g.discs[next]
		next++
	}
	was := Areas{st.Infested, st.Gross}
	if g.drawn != nil {
		was = areasOf(discs, s, gross)
	}
	var sum Areas
	moved := slices.Clone(discs)
	for _, move := range moves {
		for _, way := range []float64{1, -1} {
			for i, d := range discs {
				moved[i].Center = orb.Point{d.Center[0] + way*move[i][0], d.Center[1] + way*move[i][1]}
			}
			now := areasOf(moved, s, gross)
			sum.Infested += now.Infested - was.Infested
			if gross {
				sum.Gross += now.Gross - was.Gross
			}
		}
	}
	n := geo.SquareMeters(2 * len(moves))
	return Areas{sum.Infested / n, sum.Gross / n}
}

// areasOf returns the areas of a stand of discs.
func areasOf(discs []shape.Disc, s Settings, gross bool) Areas {
	a := Areas{Infested: shape.UnionDiscsArea(discs)}
	if gross {
		if a.Gross = a.Infested; a.Infested.Acres() > smallStand {
			a.Gross = max(a.Gross, shape.CloseUnion(discs, s.JoinDistance, a.Infested))
		}
	}
	return a
}
