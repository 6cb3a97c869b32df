package report

import (
	"math"
	"strconv"
	"strings"
)

// scale is an axis from 0 to Top with round steps.
type scale struct {
	Top, Step float64
	Decimals  int // of the steps
}

// mostSteps is the most steps of an axis, so that it stays readable. Our choice.
const mostSteps = 5

// scaleTo returns the smallest scale with steps of 1, 2 or 5 times a power of ten that contains most,
// which is not negative. If most is 0, it ends at 1.
func scaleTo(most float64) scale {
	if most <= 0 {
		most = 1
	}
	power := int(math.Floor(math.Log10(most))) - 1
	for ; ; power++ {
		for _, digit := range []float64{1, 2, 5} {
			step := digit * math.Pow10(power)
			if steps := math.Ceil(most/step - 1e-9); steps <= mostSteps {
				return scale{Top: steps * step, Step: step, Decimals: max(0, -power)}
			}
		}
	}
}

// ticks returns the values marked on the axis, 0 first.
func (s scale) ticks() []float64 {
	n := int(math.Round(s.Top / s.Step))
	out := make([]float64, n+1)
	for i := range out {
		out[i] = float64(i) * s.Step
	}
	return out
}

// label formats the value of a tick.
func (s scale) label(v float64) string { return grouped(v, s.Decimals) }

// grouped formats v with its digits in groups of three.
func grouped(v float64, decimals int) string {
	whole, part, _ := strings.Cut(strconv.FormatFloat(v, 'f', decimals, 64), ".")
	if part != "" {
		part = "." + part
	}
	return group(whole) + part
}

// group puts the digits of an integer in groups of three.
func group(text string) string {
	for i := len(text) - 3; i > 0 && text[i-1] >= '0' && text[i-1] <= '9'; i -= 3 {
		text = text[:i] + "\u202f" + text[i:]
	}
	return text
}
