package margin

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
)

// Form is the error of an area, to first order: a sum of independent errors of mean 0 and variance
// 1, each with a weight in square metres. Errors that no other area shares are kept as one
// variance. The zero Form has no error.
type Form struct {
	own     float64 // variance of the errors no other area shares, m4
	shared  []term  // the first settled of them are sorted by cause, each cause once
	settled int
	shift   geo.SquareMeters // shift of the mean caused by the scatter of positions
}

// term is the weight of an error that other areas may share.
type term struct {
	cause  int32
	weight float64
}

// Add adds another form, multiplied by times.
func (f *Form) Add(o Form, times float64) {
	f.own += times * times * o.own
	f.shift += geo.SquareMeters(times) * o.shift
	for _, t := range o.shared {
		f.share(t.cause, times*t.weight)
	}
}

// share adds to the weight of a cause.
func (f *Form) share(cause int32, weight float64) {
	f.shared = append(f.shared, term{cause, weight})
	if len(f.shared) > 2*f.settled+fewTerms {
		f.Settle()
	}
}

// fewTerms is the number of new terms after which the terms are sorted, at the earliest. Our
// choice.
const fewTerms = 32

// Settle sorts the terms and merges those of the same cause. Weights are added in the order they
// came. Until the next Add, several may then read the form at once.
func (f *Form) Settle() {
	if f.settled == len(f.shared) {
		return
	}
	slices.SortStableFunc(f.shared, func(a, b term) int { return cmp.Compare(a.cause, b.cause) })
	kept := f.shared[:0]
	for _, t := range f.shared {
		if n := len(kept); n > 0 && kept[n-1].cause == t.cause {
			kept[n-1].weight += t.weight
			continue
		}
		kept = append(kept, t)
	}
	f.shared, f.settled = kept, len(kept)
}

// pack settles the form and gives up spare memory: there is one form for each stand.
func (f *Form) pack() {
	f.Settle()
	f.shared = slices.Clone(f.shared)
}

// Sigma returns the standard deviation.
func (f *Form) Sigma() geo.SquareMeters {
	f.Settle()
	sum := f.own
	for _, t := range f.shared {
		sum += t.weight * t.weight
	}
	return geo.SquareMeters(math.Sqrt(sum))
}

// Range holds P10 and P90 of an area.
type Range struct{ P10, P90 geo.SquareMeters }

// Tenth is the distance, in standard deviations, of the tenth and ninetieth percentile of a normal
// distribution from its mean.
const Tenth = 1.2815515655446004

// Area returns P10 and P90 of an area above 0. They are those of the lognormal distribution with
// the same mean and variance (Fenton 1960, IRE Transactions on Communications Systems 8, 57-67):
// exact for one patch, and for a factor common to all patches; close to normal for many patches.
// The shift of the mean by scatter widens the range on both sides.
func (f *Form) Area(mean geo.SquareMeters) Range {
	if !(mean > 0) {
		return Range{}
	}
	off := float64(f.Sigma() / mean)
	variance := math.Log1p(off * off)
	at := func(z float64) geo.SquareMeters {
		return mean * geo.SquareMeters(math.Exp(z*math.Sqrt(variance)-variance/2))
	}
	return f.shifted(Range{at(-Tenth), max(mean, at(Tenth))})
}

// Change returns P10 and P90 of a change in area, which may be below 0: those of a normal
// distribution. The difference between the two quarters' shifts of the mean is added as one more
// error; between two similar surveys it is next to nothing.
func (f *Form) Change(mean geo.SquareMeters) Range {
	off := geo.SquareMeters(math.Hypot(Tenth*float64(f.Sigma()), float64(f.shift)))
	return Range{mean - off, mean + off}
}

// shifted widens a range on both sides by the mean shift from scatter. Both, because nobody knows
// whether the recorded positions are already scattered around more or less regular true ones.
func (f *Form) shifted(r Range) Range {
	off := max(f.shift, -f.shift)
	return Range{max(0, r.P10-off), r.P90 + off}
}
