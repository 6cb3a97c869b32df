package stand

import (
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
)

// Areas are the two areas of a stand.
type Areas struct{ Infested, Gross geo.SquareMeters }

// Scattered returns the mean change of a stand's areas when its patches are moved. Each of the
// moves gives the displacement by member, in metres of x and y. It is applied in both directions,
// so that linear effects cancel. The records still count as one stand, and drawn patches are
// replaced by discs of their area. gross asks for the gross area too, which is otherwise 0. Takes
// as long as measuring discs, twice for each move.
func (l *Laid) Scattered(moves [][][2]float64, gross bool) Areas {
	if len(l.Members) < 2 || len(moves) == 0 {
		return Areas{} // a single patch has the same area anywhere
	}
	discs := make([]shape.Disc, len(l.Members))
	next := 0
	for i, m := range l.Members {
		if r := &l.records[m]; r.Outline != nil {
			discs[i] = shape.DiscOfArea(l.frame.Forward(r.Position), l.patches[i].Area)
			continue
		}
		discs[i] = l.discs[next]
		next++
	}
	was := Areas{l.Infested, l.Gross}
	if l.drawn != nil {
		was = areasOf(shape.NewDiscs(discs), l.rules, gross)
	}
	var sum Areas
	var prepared shape.Discs
	moved := slices.Clone(discs)
	for _, move := range moves {
		for _, way := range []float64{1, -1} {
			for i, d := range discs {
				moved[i].Center = orb.Point{d.Center[0] + way*move[i][0], d.Center[1] + way*move[i][1]}
			}
			prepared = prepared.Again(moved)
			now := areasOf(prepared, l.rules, gross)
			sum.Infested += now.Infested - was.Infested
			if gross {
				sum.Gross += now.Gross - was.Gross
			}
		}
	}
	prepared.Done()
	n := geo.SquareMeters(2 * len(moves))
	return Areas{sum.Infested / n, sum.Gross / n}
}

// areasOf returns the areas of a stand of discs.
func areasOf(prepared shape.Discs, s Settings, gross bool) Areas {
	a := Areas{Infested: prepared.Area()}
	if gross {
		if a.Gross = a.Infested; a.Infested.Acres() > smallStand {
			a.Gross = max(a.Gross, prepared.Closing(s.JoinDistance, a.Infested))
		}
	}
	return a
}
