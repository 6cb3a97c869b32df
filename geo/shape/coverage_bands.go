package shape

import (
	"math"

	"github.com/paulmach/orb"
)

// bands has the runs of a polygon of many by their height, so that a place is not held against all of
// them: bands of equal height from the south, each with the runs that reach into it.
type bands struct {
	low, each float64 // lower end of the first, and their height
	first     []int32 // by band: index of its first run; one more at the end
	runs      []bandRun
}

// bandRun is a run of a ring.
type bandRun struct{ ring, run int32 }

const (
	// fewRuns is the number of runs up to which a polygon has no bands. Our choice: some 2000 vertices, which
	// are looked at in a microsecond.
	fewRuns = 64
	// shareRun is in how many bands a run lies on average at most, besides one. Our choice: it bounds the
	// memory where all runs are as high as the polygon.
	shareRun = 3
)

// newBands sorts the runs of a polygon; nil where there are few. Linear in the runs.
func newBands(rings []fringe) *bands {
	runs, heights := 0, 0.0
	low, high := math.Inf(1), math.Inf(-1)
	for i := range rings {
		runs += len(rings[i].runs)
		for _, run := range rings[i].runs {
			heights += run.Max[1] - run.Min[1]
			low, high = min(low, run.Min[1]), max(high, run.Max[1])
		}
	}
	if runs <= fewRuns || !(high > low) || math.IsInf(high-low, 0) {
		return nil
	}
	n := max(1, min(runs, int(shareRun*float64(runs)*(high-low)/heights)))
	b := &bands{low: low, each: (high - low) / float64(n), first: make([]int32, n+1)}
	each := func(do func(band int, of bandRun)) {
		for i := range rings {
			for k, run := range rings[i].runs {
				for band, last := b.of(run.Min[1]), b.of(run.Max[1]); band <= last; band++ {
					do(band, bandRun{int32(i), int32(k)})
				}
			}
		}
	}
	each(func(band int, _ bandRun) { b.first[band+1]++ })
	for i := range n {
		b.first[i+1] += b.first[i]
	}
	b.runs = make([]bandRun, b.first[n])
	fill := append([]int32(nil), b.first...)
	each(func(band int, of bandRun) {
		b.runs[fill[band]] = of
		fill[band]++
	})
	return b
}

// of returns the band of a height, the nearest for one beyond the polygon.
func (b *bands) of(y float64) int {
	return int(min(max((y-b.low)/b.each, 0), float64(len(b.first)-2)))
}

// meets is areaPolygon.meets: edges to the right of the corner are all in its own band.
func (b *bands) meets(rings []fringe, box orb.Bound) (outline, inside bool) {
	own, last := b.of(box.Min[1]), b.of(box.Max[1])
	for band := own; band <= last; band++ {
		for _, at := range b.runs[b.first[band]:b.first[band+1]] {
			f := &rings[at.ring]
			run := f.runs[at.run]
			if run.Max[1] < box.Min[1] || run.Min[1] > box.Max[1] || run.Max[0] < box.Min[0] || band > own && run.Min[0] > box.Max[0] {
				continue
			}
			met, odd := f.runMeets(int(at.run), box)
			if met {
				return true, false
			}
			if band == own {
				inside = inside != odd
			}
		}
	}
	return false, inside
}
