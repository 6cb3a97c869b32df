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

// Scattered returns the mean change of a stand's areas when its patches are moved. Each of the
// moves gives the displacement by member, in metres of x and y. It is applied in both directions,
// so that linear effects cancel. The records still count as one stand, and drawn patches are
// replaced by discs of their area. gross asks for the gross area too, which is otherwise 0. Takes
// as long as measuring discs, twice for each move.
func (st *Stand) Scattered(records []survey.Record, s Settings, moves [][][2]float64, gross bool) Areas {
	if len(st.Members) < 2 || len(moves) == 0 {
		return Areas{} // a single patch has the same area anywhere
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
