package estimate

import (
	"cmp"
	"math"
	"slices"
)

// ROC says how well a score separates cases from controls.
type ROC struct {
	Area   Interval  // probability that a case scores above a control, a tie counting half
	Points []ROCStep // from (0, 0) to (1, 1), the highest score first
}

// ROCStep is one point of the curve: the shares of controls and of cases with at least a certain
// score.
type ROCStep struct{ Controls, Cases float64 }

// Curve returns the ROC curve of cases and controls by their scores. The interval of the area is
// that of E. R. DeLong, D. M. DeLong and D. L. Clarke-Pearson, Biometrics 44 (1988), 837-845,
// limited to 0 to 1. It is computed from midranks, so it costs as much as sorting. No area without
// at least one case and one control, and no bounds with fewer than two of each.
func Curve(cases, controls []float64) ROC {
	m, n := float64(len(cases)), float64(len(controls))
	if m == 0 || n == 0 {
		return ROC{Area: None()}
	}
	ca, co := slices.Sorted(slices.Values(cases)), slices.Sorted(slices.Values(controls))
	both := append(slices.Clone(ca), co...)
	slices.Sort(both)
	place := func(own []float64, others float64) []float64 {
		ranks, all := midranks(own, own), midranks(own, both)
		out := make([]float64, len(own))
		for i := range own {
			out[i] = (all[i] - ranks[i]) / others
		}
		return out
	}
	above := place(ca, n) // by case: the share of controls below its score
	over := place(co, m)  // by control: the share of cases below its score
	area := mean(above)
	half := math.Inf(1)
	if m > 1 && n > 1 {
		half = Normal * math.Sqrt(variance(above)/m+variance(over)/n)
	}
	return ROC{Area: Interval{area, max(0, area-half), min(1, area+half)}, Points: steps(ca, co)}
}

// midranks returns the rank of each of some values among all values, with equal values sharing
// their mean rank. Both lists must be sorted.
func midranks(of, all []float64) []float64 {
	out := make([]float64, len(of))
	first, last := 0, 0
	for i, v := range of {
		for first < len(all) && all[first] < v {
			first++
		}
		last = max(last, first)
		for last < len(all) && all[last] <= v {
			last++
		}
		out[i] = float64(first+last+1) / 2
	}
	return out
}

// steps goes through the scores from the highest down.
func steps(cases, controls []float64) []ROCStep {
	out := []ROCStep{{0, 0}}
	i, k := len(cases), len(controls)
	for i > 0 || k > 0 {
		score := math.Inf(-1)
		if i > 0 {
			score = cases[i-1]
		}
		if k > 0 {
			score = max(score, controls[k-1])
		}
		for i > 0 && cmp.Compare(cases[i-1], score) == 0 {
			i--
		}
		for k > 0 && cmp.Compare(controls[k-1], score) == 0 {
			k--
		}
		next := ROCStep{1 - float64(k)/float64(len(controls)), 1 - float64(i)/float64(len(cases))}
		if n := len(out); n > 1 && out[n-1].Cases == next.Cases && out[n-2].Cases == next.Cases {
			out[n-1] = next // on a horizontal part only the two ends matter
			continue
		}
		out = append(out, next)
	}
	return out
}

func mean(of []float64) float64 {
	sum := 0.0
	for _, v := range of {
		sum += v
	}
	return sum / float64(len(of))
}

// variance returns the unbiased variance.
func variance(of []float64) float64 {
	m, sum := mean(of), 0.0
	for _, v := range of {
		sum += (v - m) * (v - m)
	}
	return sum / float64(len(of)-1)
}
