package trend

import (
	"fmt"
	"strconv"
)

// Caution is what every reader of a trend must know.
const Caution = "survey effort moves acreage too"

// Verdict returns the trend in plain words, with its p and the caution.
func (t Trend) Verdict() string {
	if t.Direction == TooFew {
		return t.Words()
	}
	return t.Words() + "; " + Caution
}

// Words returns the verdict without the caution, for where that stands once.
func (t Trend) Words() string {
	switch {
	case t.Quarters < Fewest:
		return fmt.Sprintf("%s: %s, %d are the fewest", TooFew, quarters(t.Quarters), Fewest)
	case t.Direction == TooFew:
		return fmt.Sprintf("%s: comparing equal quarters, even a steady change over these %d gives p = %s", TooFew, t.Quarters, PText(t.Test.LeastP))
	case t.Begin == 0 && t.End == 0 && t.Test.Variance == 0:
		return string(NoTrend) + ": 0 in every quarter"
	}
	return fmt.Sprintf("%s: %s %s a year, p %s", t.Direction, SignedText(t.Slope), t.Measure.Unit(), comparison(t.Test.P))
}

func quarters(n int) string {
	if n == 1 {
		return "1 quarter"
	}
	return strconv.Itoa(n) + " quarters"
}

// leastTold is the p below which the digits say nothing more. Our choice.
const leastTold = 0.0001

// PText writes p to two digits; "below 0.0001" where it is.
func PText(p float64) string {
	if p < leastTold {
		return "below 0.0001"
	}
	return strconv.FormatFloat(p, 'g', 2, 64)
}

// comparison writes p with the sign before it.
func comparison(p float64) string {
	if p < leastTold {
		return "< 0.0001"
	}
	return "= " + PText(p)
}

// SignedText writes x with its sign, to three digits and at most four decimals.
func SignedText(x float64) string {
	decimals := 4
	for limit := 0.1; decimals > 0 && (x >= limit || -x >= limit); limit *= 10 {
		decimals--
	}
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if v, _ := strconv.ParseFloat(text, 64); v == 0 {
		return "0"
	}
	if x > 0 {
		text = "+" + text
	}
	return text
}
