package drift

import (
	"context"
	"slices"
	"sync"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/stream"
)

// Band is the 10th, 50th and 90th percentile of a figure over the draws, in the figure's unit.
type Band[U ~float64] struct{ P10, P50, P90 U }

// Bands are the percentiles of a batch.
type Bands struct {
	Reach    []Band[geo.Kilometers] // by stand
	Exposure []Band[AmountKm]       // by stand
	AtRisk   Band[geo.Kilometers]   // union of all reaches

	Draws [][]DrawnExposure // by draw and stand; nil unless KeepDraws
}

// Percentiles follows the fragments once for each draw of a Latin hypercube over half-distance,
// pass shares, release and setback. A draw costs two passes over network and sources. A stand is
// followed only once for all draws when no barrier or age limit matters below it, since a longer
// half-distance then only scales its reach; other stands are followed in each draw. A draw has a number
// of four bytes for each stand, and one more for stands followed in each draw: in memory, or where Put
// puts them. The same seed gives the same numbers for any number of workers. The error is ctx's.
func Percentiles(ctx context.Context, net *stream.Network, s Settings, u Uncertain) (Bands, error) {
	sources := u.Released.inFlowOrder()
	u.Released.Sources = nil
	p := newEnsemble(net, s, u, sources)
	rows, groups := make([]row, len(p.samples)), p.groups()
	err := parallel.EachWith(ctx, len(groups), u.Workers, 1, func() func(int) {
		d := newDrawer(p)
		var text []byte
		return func(i int) {
			d.draw(groups[i], func(draw int, of row) {
				if u.Put != nil {
					text = of.putFar(text, u.Put)
				}
				rows[draw] = of
			})
		}
	})
	if err != nil {
		return Bands{}, err
	}
	bands := summarize(rows, p.single, u.Released.Stands, u.Workers)
	if u.KeepDraws {
		for i := range rows {
			bands.Draws = append(bands.Draws, rows[i].exposures(0, u.Released.Stands))
		}
	}
	rows = nil // of no use while stands are followed once more
	p.stretch(func(stand int32, reach []drawnReach) { bands.Reach[stand] = bandOfReach(reach) })
	return bands, nil
}

// summarize turns draws by stand into percentiles. single lists the stands that were followed in each
// draw; others have no band of the reach yet.
func summarize(rows []row, single []int32, stands, workers int) Bands {
	b := Bands{Reach: make([]Band[geo.Kilometers], stands), Exposure: make([]Band[AmountKm], stands)}
	if len(rows) == 0 {
		return b
	}
	scratch := sync.Pool{New: func() any { return new([]float64) }}
	b.AtRisk = bandOf(&scratch, len(rows), func(draw int) geo.Kilometers { return rows[draw].atRisk })
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	eachBand(&tasks, &scratch, rows, stands, (*row).exposures, func(i int, of Band[AmountKm]) { b.Exposure[i] = of })
	reaches := func(r *row, first, n int) []drawnReach { return r.reaches(first, n, stands) }
	eachBand(&tasks, &scratch, rows, len(single), reaches, func(k int, of Band[geo.Kilometers]) { b.Reach[single[k]] = of })
	_ = tasks.Wait() // no task returns an error
	return b
}

// standsTogether is how many stands have their figures taken from the draws at a time. Our choice: a
// megabyte for 200 draws, and few reads from a disk.
const standsTogether = 1024

// eachBand gives tasks that call put with the percentiles of each of some figures. of returns n of a
// draw's figures, from the first.
func eachBand[U ~float32, B ~float64](tasks *parallel.Group, scratch *sync.Pool, rows []row, figures int, of func(r *row, first, n int) []U, put func(i int, band Band[B])) {
	for first := 0; first < figures; first += standsTogether {
		tasks.Do(func() {
			n := min(standsTogether, figures-first)
			drawn := make([][]U, len(rows))
			for i := range rows {
				drawn[i] = of(&rows[i], first, n)
			}
			for k := range n {
				put(first+k, bandOf(scratch, len(rows), func(draw int) B { return B(drawn[draw][k]) }))
			}
		})
	}
}

// bandOfReach returns the percentiles of the reach of one stand. It sorts the reaches.
func bandOfReach(reach []drawnReach) Band[geo.Kilometers] {
	values := make([]float64, len(reach))
	for i, km := range reach {
		values[i] = float64(km)
	}
	slices.Sort(values)
	return bandOfSorted[geo.Kilometers](values)
}

// bandOf returns the percentiles of one figure over a number of draws. scratch holds working memory for
// the figures of the draws.
func bandOf[U ~float64](scratch *sync.Pool, draws int, of func(draw int) U) Band[U] {
	values := scratch.Get().(*[]float64)
	defer scratch.Put(values)
	*values = (*values)[:0]
	for draw := range draws {
		*values = append(*values, float64(of(draw)))
	}
	slices.Sort(*values)
	return bandOfSorted[U](*values)
}

// bandOfSorted returns the percentiles of sorted figures.
func bandOfSorted[U ~float64](values []float64) Band[U] {
	return Band[U]{P10: U(quantile(values, 0.1)), P50: U(quantile(values, 0.5)), P90: U(quantile(values, 0.9))}
}
