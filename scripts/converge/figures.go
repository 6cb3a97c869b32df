package main

import (
	"cmp"
	"slices"

	"driftreach/internal/drift"
	"driftreach/internal/result"
)

// largest is the number of stands compared.
const largest = 10

// figures are the percentiles of one run.
type figures struct {
	union           percentiles
	reach, exposure []percentiles // of the largest stands
}

// figuresOf selects the stands: the largest by infested area, then by their place in the result,
// whose fragments reach some stream in most draws.
func figuresOf(answer *result.Run) figures {
	var all []int
	for i := range answer.Stands {
		if answer.Stands[i].Drift.ReachKm > 0 {
			all = append(all, i)
		}
	}
	slices.SortStableFunc(all, func(a, b int) int {
		return cmp.Compare(answer.Stands[b].Infested, answer.Stands[a].Infested)
	})
	f := figures{union: of(answer.AtRiskBand)}
	for _, i := range all[:min(largest, len(all))] {
		f.reach = append(f.reach, of(answer.Stands[i].ReachBand))
		f.exposure = append(f.exposure, of(answer.Stands[i].ExposureBand))
	}
	return f
}

// percentiles are the three percentiles of a band.
type percentiles [3]float64

func of[U ~float64](b drift.Band[U]) percentiles {
	return percentiles{float64(b.P10), float64(b.P50), float64(b.P90)}
}
