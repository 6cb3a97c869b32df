package result

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/treatment"
)

// counts says whether a treatment counts in the acres of the quarter.
func (r *Run) counts(j *Treatment) bool { return !j.Carried && j.CountedIn == r.Quarter }

// treatmentAcres returns the acres of a treatment in grains, rounded as printed, so that sums of
// treatments are sums of printed figures.
func (r *Run) treatmentAcres(j *Treatment) int64 {
	if !j.AcresTold() {
		return 0
	}
	return r.round(geo.Acres(j.TreatedAcres).SquareMeters().Grains())
}

// infested returns the infested acres of a stand on which work was done, in grains. For a stand that is
// gone, they are the last known ones.
func (r *Run) infested(g Ground) int64 {
	if g.Stand >= 0 {
		return r.Stands[g.Stand].Infested.Grains()
	}
	return r.Previous.Known[g.Known].InfestedAcres()
}

// grounds splits the acres of a treatment among its stands in proportion to their infested acres, or
// equally if none has any. The parts are rounded as printed and add up to the treatment's acres.
func (r *Run) grounds(j *Treatment) []int64 {
	weights := make([]int64, len(j.On))
	for k, g := range j.On {
		weights[k] = r.infested(g)
	}
	return r.divided(r.treatmentAcres(j), weights)
}

// divided splits grains in proportion to weights, or equally if all are 0. The parts are rounded as
// printed.
func (r *Run) divided(all int64, weights []int64) []int64 {
	if len(weights) == 0 {
		return nil
	}
	sum := int64(0)
	for _, w := range weights {
		sum += w
	}
	if sum <= 0 {
		weights, sum = slices.Repeat([]int64{1}, len(weights)), int64(len(weights))
	}
	parts := make([]int64, len(weights))
	for k, w := range weights {
		parts[k] = partOf(allocate.Share{Infested: sum, Gross: all}, max(0, w)).Gross
	}
	return allocate.ToTotal(all, parts, acreStep(r.acreDecimals()), nil)
}

// unitsOf returns the shares of a treatment's ground by reporting unit: those of the stand or, if the
// stand is gone and has no acres, the unit of the position.
func (r *Run) unitsOf(j *Treatment, g Ground) []allocate.Share {
	if g.Stand >= 0 {
		return r.Stands[g.Stand].Shares
	}
	if j.Unit != UnknownUnit {
		return []allocate.Share{{Unit: j.Unit}}
	}
	known := r.Previous.Shares[g.Known]
	if len(known) == 0 {
		return []allocate.Share{{Unit: allocate.Outside}}
	}
	return known
}

// groundID returns the id of the stand.
func (r *Run) groundID(g Ground) string {
	if g.Stand >= 0 {
		return r.Stands[g.Stand].ID
	}
	return r.Previous.Known[g.Known].ID
}

// GroundBefore returns the id of the stand, and the infested acres it had before work of the quarter:
// the larger of its present and its previous acres.
func (r *Run) GroundBefore(g Ground) (id string, acres float64) {
	most := r.infested(g)
	if g.Stand >= 0 {
		then := int64(0)
		for _, k := range r.Stands[g.Stand].Parents {
			then += r.Previous.Known[k].InfestedAcres()
		}
		most = max(most, then)
	}
	return r.groundID(g), float64(geo.OfGrains(most).Acres())
}

// SortTreatments sorts treatments by their contents, independent of their files.
func SortTreatments(jobs []Treatment) {
	slices.SortStableFunc(jobs, func(a, b Treatment) int {
		return cmp.Or(treatment.Compare(&a.Treatment, &b.Treatment), strings.Compare(a.Key, b.Key))
	})
}
