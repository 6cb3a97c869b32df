package margin

import (
	"cmp"
	"math"
	"slices"

	"driftreach/geo"
)

// Form is by how much an area may be off, to first order: a sum of errors of mean 0
// and variance 1, each with a weight in square metres. What no other area shares is
// kept as one variance. The zero Form is of an area that is never off.
type Form struct {
	own     float64 // variance of what nothing else shares, m4
	shared  []term  // the first settled of them by cause, each once
	settled int
	shift   float64 // by how much the scatter of positions moves the mean, m2
}

// term is the weight of an error that other areas may share.
type term struct {
	cause  int32
	weight float64
}

// Add adds another form, times so much.
func (f *Form) Add(o Form, times float64) {
	f.own += times * times * o.own
	f.shift += times * o.shift
	for _, t := range o.shared {
		f.share(t.cause, times*t.weight)
	}
}

// share adds to the weight of a cause.
func (f *Form) share(cause int32, weight float64) {
	f.shared = append(f.shared, term{cause, weight})
	if len(f.shared) > 2*f.settled+fewTerms {
		f.settle()
	}
}

// fewTerms is how many terms wait at least before they are put in order. Our choice.
const fewTerms = 32

// settle puts the terms in order, those of one cause made one. What is added up in it
// is added in the order it came.
func (f *Form) settle() {
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

// pack settles the form in room of its own: there are as many as stands.
func (f *Form) pack() {
	f.settle()
	f.shared = slices.Clone(f.shared)
}

// Sigma returns the standard deviation.
func (f *Form) Sigma() geo.SquareMeters {
	f.settle()
	sum := f.own
	for _, t := range f.shared {
		sum += t.weight * t.weight
	}
	return geo.SquareMeters(math.Sqrt(sum))
}

// Range is P10 and P90 of an area.
type Range struct{ P10, P90 geo.SquareMeters }

// Tenth is how many standard deviations the tenth and the ninetieth percentile of a
// normal error lie from its mean.
const Tenth = 1.2815515655446004

// Area returns P10 and P90 of an area that is above 0: those of the lognormal error of
// the same mean and variance (Fenton 1960, IRE Transactions on Communications Systems
// 8, 57-67), exact for one patch and for a factor that all share, near the normal
// error for many; as much wider, either way, as scatter moves the mean.
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

// Change returns P10 and P90 of a change of area, which may be below 0: those of the
// normal error, with what scatter moves the mean of one quarter more than that of the
// other as one more error: between two surveys alike that is next to nothing.
func (f *Form) Change(mean geo.SquareMeters) Range {
	off := geo.SquareMeters(math.Hypot(Tenth*float64(f.Sigma()), f.shift))
	return Range{mean - off, mean + off}
}
