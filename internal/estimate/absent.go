package estimate

import "math"

// Absent returns the probability that a place has nothing left after so many looks in a
// row that found nothing, where one look finds what is there with probability find, and
// presence had the given probability before. Bayes' rule, as T. J. Regan, M. A. McCarthy,
// P. W. J. Baxter, F. D. Panetta and H. P. Possingham use it, Ecology Letters 9 (2006),
// 759-766. It holds where looks are independent and nothing comes anew.
func Absent(before, find float64, looks int) float64 {
	missed := before * math.Pow(1-find, float64(looks))
	return (1 - before) / (1 - before + missed)
}

// ClearLooks returns how many such looks in a row make a certainty, as M. Kéry asks for
// species that are looked for in vain, Journal of Wildlife Management 66 (2002), 330-338,
// with a probability before; ok is false where no number does.
func ClearLooks(before, find, certainty float64) (looks int, ok bool) {
	for looks = range mostLooks {
		if Absent(before, find, looks) >= certainty {
			return looks, true
		}
	}
	return 0, false
}

// mostLooks is beyond what any programme does. Our choice.
const mostLooks = 1000

// Second is what two looks that knew nothing of each other came to, of things that at
// least one of them found: how many both did, and how many the first alone and the second
// alone.
type Second struct{ Both, First, Other int }

// Find returns the probability that a look finds what is there, the same for both:
// of what at least one look found, both find p/(2-p), so that p = 2q/(1+q) with Wilson's
// interval for the share q. That is the conditional maximum of likelihood of R. M.
// Huggins, Biometrika 76 (1989), 133-140, with one probability. What both missed is not in
// it, and needs not be, where every plant is as likely to be missed as another of its kind.
func (s Second) Find() Interval {
	q := Wilson(s.Both, s.Both+s.First+s.Other)
	p := func(q float64) float64 { return 2 * q / (1 + q) }
	return Interval{p(q.Value), p(q.Low), p(q.High)}
}
