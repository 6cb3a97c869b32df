package trend

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"driftreach/geo"
	"driftreach/internal/check"
)

// Caution is the caution for every reader of a trend.
const Caution = "survey effort moves acreage too"

// Verdict returns the trend in plain words: the direction, its basis, and the caution.
func (t Trend) Verdict() string {
	if t.Direction == TooFew {
		return strings.Join(append([]string{t.Words()}, t.takenBack()...), "; ")
	}
	return t.Words() + "; " + t.Grounds() + "; " + Caution
}

// Grounds says what a verdict is based on.
func (t Trend) Grounds() string { return strings.Join(t.GroundsEach(), "; ") }

// GroundsEach is Grounds as a list; the first item begins with the verb of the verdict.
func (t Trend) GroundsEach() []string {
	on := "the levels of " + quarters(t.Quarters) + ", each of all ground looked at until then, as last seen"
	if t.Measure.Chained() {
		on = "changes between the last two looks at each place, in " + quarters(t.Quarters) + " with a look"
	}
	if t.Missing > 0 {
		on += fmt.Sprintf(" (%d without)", t.Missing)
	}
	all := append([]string{"rests on " + on + t.since()}, t.takenBack()...)
	all = append(all, "neighbouring quarters are taken to be correlated by "+strconv.FormatFloat(t.Correlation, 'g', 3, 64))
	switch {
	case !t.Measure.Chained():
		return all
	case !t.DoubtKnown:
		return append(all, "the error of the acreage itself is not known")
	}
	return append(all, fmt.Sprintf("the change may be off by %s acres (P10 to P90), from errors of each measurement and of each crew in each quarter", t.Measure.Unsigned(t.Doubt)),
		"errors of defaults drop out")
}

// Words returns the verdict without the caution, for places where the caution is given only once.
func (t Trend) Words() string {
	return t.words(fmt.Sprintf(": %s %s a year,", t.Measure.Signed(t.Slope), t.Measure.Unit()))
}

// WordsBesideSlope is Words without the slope, for a row that has a column for it.
func (t Trend) WordsBesideSlope() string { return t.words(",") }

// words returns the verdict with the slope as given, if it has one.
func (t Trend) words(slope string) string {
	switch {
	case t.Quarters == 0:
		return string(TooFew) + ": nobody looked in any quarter" + t.since()
	case t.Quarters < Fewest:
		return fmt.Sprintf("%s: %s with a look%s, %d are the fewest", TooFew, quarters(t.Quarters), t.since(), Fewest)
	case t.Direction == TooFew:
		return fmt.Sprintf("%s: even a steady change over these %d quarters%s gives p = %s", TooFew, t.Quarters, t.since(), PText(t.Test.LeastP))
	case t.Begin == 0 && t.End == 0 && t.Test.Variance == 0:
		return string(NoTrend) + ": 0 in every quarter with a look"
	case t.Direction == NoTrend && t.Test.P <= Alpha && t.Adjusted <= Alpha:
		return fmt.Sprintf("%s%s p %s, but the change of %s is within its error of %s", NoTrend,
			slope, comparison(t.Test.P), t.Measure.Signed(float64(t.End-t.Begin)/PerUnit), t.Measure.Unsigned(t.Doubt))
	case t.Direction == NoTrend && t.Test.P <= Alpha:
		return fmt.Sprintf("%s%s p %s, but %s when corrected for %d tests", NoTrend,
			slope, comparison(t.Test.P), PText(t.Adjusted), t.Tests)
	}
	words := fmt.Sprintf("%s%s p %s", t.Direction, slope, comparison(t.Test.P))
	if t.Tests > 1 {
		words += fmt.Sprintf(" (%s when corrected for %d tests)", PText(t.Adjusted), t.Tests)
	}
	if t.Ended() {
		words += "; none left in " + t.Last.String()
	}
	return words
}

// since says from which quarter the values count, if earlier ones cannot be compared.
func (t Trend) since() string {
	if t.Since.IsZero() {
		return ""
	}
	if t.Measure.Chained() {
		return " since " + t.Since.String() + ", because corrections took back changes of " + standsOf(t.Corrected) + " that cannot be told from other changes up to then"
	}
	return " since " + t.Since.String() + ", when streams, settings or corrections changed how it is made"
}

// takenBack names the stands whose changes are left out because corrections took them back, if all
// of these changes are known; empty for none.
func (t Trend) takenBack() []string {
	if len(t.Corrected) == 0 || !t.Since.IsZero() {
		return nil
	}
	return []string{"what corrections took back of " + standsOf(t.Corrected) + " is left out"}
}

// mostNamed is the largest number of stands named in a sentence. Our choice.
const mostNamed = 3

// standsOf names stands, or only the first of many.
func standsOf(ids []string) string {
	text := "stand "
	if len(ids) > 1 {
		text = "stands "
	}
	return text + check.FirstOf(ids, mostNamed, ", ")
}

// Ended says whether a falling acreage has reached 0.
func (t Trend) Ended() bool { return t.Direction == Falling && t.End == 0 && t.Measure.Chained() }

func quarters(n int) string {
	if n == 1 {
		return "1 quarter"
	}
	return strconv.Itoa(n) + " quarters"
}

// leastTold is the p below which more digits say nothing. Our choice.
const leastTold = 0.0001

// PText writes p to two digits, or "below 0.0001".
func PText(p float64) string {
	if p < leastTold {
		return "below 0.0001"
	}
	return strconv.FormatFloat(p, 'g', 2, 64)
}

// comparison writes p with the comparison sign before it.
func comparison(p float64) string {
	if p < leastTold {
		return "< 0.0001"
	}
	return "= " + PText(p)
}

// Signed writes a difference or slope of the measure for readers, with its sign: acres as
// everywhere, kilometres to a tenth, or with two digits where that is less.
func (m Measure) Signed(x float64) string {
	text := strconv.FormatFloat(x, 'f', 1, 64)
	switch {
	case m.Unit() == "acres":
		text = geo.AcresText(int64(math.Round(x*PerUnit)), Decimals)
	case math.Abs(x) < 1e-4:
		text = "0"
	case math.Abs(x) < 1:
		text = strconv.FormatFloat(x, 'g', 2, 64)
	}
	if text == "0" {
		return text
	}
	if x > 0 {
		text = "+" + text
	}
	return text
}

// Unsigned writes the size of a difference or slope, without its sign.
func (m Measure) Unsigned(x float64) string { return strings.TrimPrefix(m.Signed(math.Abs(x)), "+") }
