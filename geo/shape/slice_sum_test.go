package shape

import (
	"cmp"
	"math"
	"slices"
)

// bow is an arc over a slice: its height in the middle, the area under it there, and whether it
// opens or closes a disc.
type bow struct {
	height, under float64
	opens         bool
}

func sliceSum(discs []Disc, cuts []float64) float64 {
	slices.Sort(cuts)
	total := 0.0
	for i := 1; i < len(cuts); i++ {
		left, right := cuts[i-1], cuts[i]
		if right <= left {
			continue
		}
		middle := (left + right) / 2
		var bows []bow
		for _, d := range discs {
			x, y, r := d.Center[0], d.Center[1], float64(d.Radius)
			if math.Abs(middle-x) >= r {
				continue
			}
			under := half(right-x, r) - half(left-x, r)
			h := math.Sqrt(r*r - (middle-x)*(middle-x))
			base := y * (right - left)
			bows = append(bows, bow{y - h, base - under, true}, bow{y + h, base + under, false})
		}
		slices.SortFunc(bows, func(a, b bow) int { return cmp.Compare(a.height, b.height) })
		depth := 0
		for _, b := range bows {
			if b.opens {
				if depth == 0 {
					total -= b.under
				}
				depth++
			} else if depth--; depth == 0 {
				total += b.under
			}
		}
	}
	return total
}

// half is the integral of sqrt(r^2 - x^2) from 0 to x.
func half(x, r float64) float64 {
	x = min(max(x, -r), r)
	return (x*math.Sqrt(r*r-x*x) + r*r*math.Asin(x/r)) / 2
}
