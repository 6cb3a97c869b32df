package estimate

import "math"

// Absent returns the probability that nothing is left at a place after a number of looks in a row
// that found nothing. find is the probability that one look detects what is there; before is the
// probability of presence beforehand. Bayes' rule, as used by T. J. Regan, M. A. McCarthy, P. W. J.
// Baxter, F. D. Panetta and H. P. Possingham, Ecology Letters 9 (2006), 759-766. Valid for
// independent looks without new arrivals.
func Absent(before, find float64, looks int) float64 {
	missed := before * math.Pow(1-find, float64(looks))
	return (1 - before) / (1 - before + missed)
}

// ClearLooks returns the number of such looks in a row that gives the required certainty of
// absence, after M. Kéry, Journal of Wildlife Management 66 (2002), 330-338, with a prior
// probability; ok is false where no number does.
func ClearLooks(before, find, certainty float64) (looks int, ok bool) {
	for looks = range mostLooks {
		if Absent(before, find, looks) >= certainty {
			return looks, true
		}
	}
	return 0, false
}

// mostLooks is more than any programme makes. Our choice.
const mostLooks = 1000

// Second is the result of two independent looks at the same things, of which at least one found
// each: how many were found by both, by the first only, and by the other only.
type Second struct{ Both, First, Other int }

// Find returns the detection probability of a look, taken as equal for both. Of the things found by
// at least one look, a share p/(2-p) is found by both. So p = 2q/(1+q), with Wilson's interval for
// the share q. This is the conditional maximum likelihood of R. M. Huggins, Biometrika 76 (1989),
// 133-140, with one probability. Things both looks missed are not needed, as long as every plant is
// equally likely to be missed.
func (s Second) Find() Interval {
	q := Wilson(s.Both, s.Both+s.First+s.Other)
	p := func(q float64) float64 { return 2 * q / (1 + q) }
	return Interval{p(q.Value), p(q.Low), p(q.High)}
}
