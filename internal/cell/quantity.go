package cell

import (
	"strings"

	"driftreach/internal/format"
)

// Quantity is a number as people write it into a cell.
type Quantity struct {
	Value float64
	Unit  string // beside the number, in small letters; blank for none
	Told  string // what a reader must know about the value; blank for a plain number
}

// What findings say about a value that the cell gives as a bound, a guess or a range.
const (
	toldAbout = "about as much"
	toldMost  = "the most it can be"
	toldLeast = "the least it can be"
	toldRange = "the middle of the range"
)

// hedges are the words and marks that may come before a number.
var hedges = []struct{ text, told string }{
	{"<=", toldMost}, {"≤", toldMost}, {"<", toldMost}, {"less than", toldMost}, {"under", toldMost}, {"up to", toldMost},
	{">=", toldLeast}, {"≥", toldLeast}, {">", toldLeast}, {"more than", toldLeast}, {"over", toldLeast},
	{"~", toldAbout}, {"≈", toldAbout}, {"approximately", toldAbout}, {"approx.", toldAbout}, {"approx", toldAbout}, {"about", toldAbout},
	{"circa", toldAbout}, {"ca.", toldAbout}, {"ca", toldAbout}, {"est.", toldAbout},
}

// ParseQuantity reads what ParseNumber does not: thousands ("2,723", "2 723", "1.234,5"),
// fractions ("1/2", "1 1/2", "½"), ranges ("10-20"), bounds and guesses ("<0.1", "~30",
// "30+"), feet and inches (5'6"), length times width ("34 x 20 ft", in square metres) and a unit
// after it. point says that a comma before three digits separates thousands, comma that a point
// does.
func ParseQuantity(text string, point, comma bool) (Quantity, bool) {
	var q Quantity
	s := strings.ToLower(strings.TrimSpace(text))
	if len(s) > 64 { // longer than any measure
		return q, false
	}
	for _, m := range hedges {
		if rest, found := strings.CutPrefix(s, m.text); found {
			s, q.Told = strings.TrimSpace(rest), m.told
			break
		}
	}
	if area, ok := lengthTimesWidth(s, point, comma); ok {
		return Quantity{area, "m2", q.Told}, true
	}
	if v, ok := feetAndInches(s); ok {
		return Quantity{v, "ft", q.Told}, true
	}
	number, rest := cutNumber(s)
	v, ok := parseWritten(number, point, comma)
	if !ok {
		return q, false
	}
	q.Value = v
	if after, found := strings.CutPrefix(rest, "+"); found {
		rest, q.Told = after, toldLeast
	}
	if high, after, ranged := cutRange(rest, point, comma); ranged && high > v {
		q.Value, q.Told, rest = v+(high-v)/2, toldRange, after
	}
	q.Unit = strings.TrimSuffix(strings.TrimSpace(rest), ".")
	return q, true
}

// ParseQuantityIn is ParseQuantity for a feature, whose other numbers show which mark is
// decimal; comma says that it may be a comma.
func ParseQuantityIn(f *format.Feature, text []byte, comma bool) (Quantity, bool) {
	return ParseQuantity(string(text), hasPoint(f), comma && hasComma(f))
}

// cutRange reads the second number of a range.
func cutRange(rest string, point, comma bool) (high float64, after string, ok bool) {
	for _, mark := range []string{"-", "–", "to "} {
		behind, found := strings.CutPrefix(rest, mark)
		if !found {
			continue
		}
		number, after := cutNumber(strings.TrimSpace(behind))
		high, ok := parseWritten(number, point, comma)
		return high, after, ok
	}
	return 0, rest, false
}
