package result

import (
	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/survey"
)

// The number of decimals with which a batch prints acres: leastAcreDecimals, or as many more as are
// needed to print the smallest infested stand in its files with three digits. All acres of the batch
// have the same number, so that printed parts add up exactly to the printed whole. Trailing zeros are
// left out.
const (
	leastAcreDecimals = 4 // 0.4 m2
	MostAcreDecimals  = 8 // 0.4 cm2
)

// AcreDecimals returns the number of decimals with which the acres of run are printed.
func AcreDecimals(run *Run) uint8 {
	least := int64(0)
	look := func(area geo.SquareMeters) {
		if n := area.Grains(); n > 0 && (least == 0 || n < least) {
			least = n
		}
	}
	for i := range run.Stands {
		look(run.Stands[i].Infested)
	}
	for i := range run.Absent {
		look(run.Absent[i].Infested)
	}
	decimals := uint8(leastAcreDecimals)
	for step := acreStep(decimals); least > 0 && least < 100*step && decimals < MostAcreDecimals; step /= 10 {
		decimals++
	}
	return decimals
}

// acreStep returns the number of grains in one unit of the last decimal.
func acreStep(decimals uint8) int64 {
	step := int64(1)
	for range geo.GrainDecimals - decimals {
		step *= 10
	}
	return step
}

// acreDecimals returns the number of decimals with which acres are printed.
func (r *Run) acreDecimals() uint8 {
	if r == nil {
		return leastAcreDecimals
	}
	return max(leastAcreDecimals, r.AcreDecimals)
}

// round rounds grains to the printed decimals.
func (r *Run) round(n int64) int64 { return allocate.Round(n, acreStep(r.acreDecimals())) }

// acres returns grains as a printed value.
func (r *Run) acres(n int64) Value {
	decimals := r.acreDecimals()
	step := acreStep(decimals)
	return Value{Kind: Number, Decimals: decimals, Int: allocate.Round(n, step) / step}
}

// area returns an area as a printed value; Null for NaN.
func (r *Run) area(a geo.SquareMeters) Value {
	if a != a || a-a != 0 {
		return Value{}
	}
	return r.acres(a.Grains())
}

// wholeAcres returns a stand's acreages.
func wholeAcres(t *Stand) allocate.Share {
	return allocate.Share{
		Gross: t.Gross.Grains(), Infested: t.Infested.Grains(),
		Canopy: t.Canopy.Grains(), Zone: t.Zone.Area.Grains(),
	}
}

// printed rounds a stand's acreages, or a whole batch's, to the printed decimals.
func (r *Run) printed(a allocate.Share) allocate.Share {
	return allocate.Share{Unit: a.Unit, Gross: r.round(a.Gross), Infested: r.round(a.Infested), Canopy: r.round(a.Canopy), Zone: r.round(a.Zone)}
}

// printedShares rounds the shares of a whole so that they add up to the printed whole. Infested acres
// and gaps are each rounded by largest remainder; canopy and zone stay within infested acres.
func (r *Run) printedShares(whole allocate.Share, shares []allocate.Share) []allocate.Share {
	step := acreStep(r.acreDecimals())
	column := func(of func(*allocate.Share) int64) []int64 {
		all := make([]int64, len(shares))
		for k := range shares {
			all[k] = of(&shares[k])
		}
		return all
	}
	total := r.printed(whole)
	infested := allocate.ToTotal(total.Infested, column(func(s *allocate.Share) int64 { return s.Infested }), step, nil)
	gaps := allocate.ToTotal(total.Gross-total.Infested, column(func(s *allocate.Share) int64 { return s.Gross - s.Infested }), step, nil)
	canopy := allocate.ToTotal(total.Canopy, column(func(s *allocate.Share) int64 { return s.Canopy }), step, infested)
	zone := allocate.ToTotal(total.Zone, column(func(s *allocate.Share) int64 { return s.Zone }), step, infested)
	out := make([]allocate.Share, len(shares))
	for k := range out {
		out[k] = allocate.Share{Unit: shares[k].Unit, Infested: infested[k], Gross: infested[k] + gaps[k], Canopy: canopy[k], Zone: zone[k]}
	}
	return out
}

// live says whether a stand with a status counts as live.
func live(s survey.Status) bool { return s != survey.Treated && s != survey.StandingDead }
