package check

import (
	"cmp"
	"slices"
	"strings"

	"github.com/paulmach/orb"
)

// Sort sorts findings by file, record (runs of digits by value, so "row 9" comes before "row 10"),
// field, code, message, value and position. It sorts in place with n log n comparisons, or n if they
// are sorted already.
func Sort(findings []Finding) {
	slices.SortFunc(findings, func(a, b Finding) int { return compare(&a, &b) })
}

// Count returns the number of findings with severity s.
func Count(findings []Finding, s Severity) int {
	n := 0
	for i := range findings {
		if findings[i].Rule.Severity == s {
			n++
		}
	}
	return n
}

// compare tests first what differs most often: a file may have a hundred thousand findings, a record a
// few.
func compare(a, b *Finding) int {
	if c := strings.Compare(a.File, b.File); c != 0 {
		return c
	}
	if c := CompareNatural(a.Record, b.Record); c != 0 {
		return c
	}
	return cmp.Or(
		strings.Compare(a.Field, b.Field),
		strings.Compare(a.Rule.Code, b.Rule.Code),
		strings.Compare(a.Message, b.Message),
		strings.Compare(a.Value, b.Value),
		comparePlaces(a.Position, b.Position),
	)
}

// comparePlaces orders positions; no position comes first.
func comparePlaces(a, b *orb.Point) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return -1
	case b == nil:
		return 1
	}
	return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
}

// CompareNatural returns -1, 0 or 1 if a comes before, equals or comes after b. Runs of ASCII digits
// are compared by value and everything else by byte. Texts that differ only in leading zeros are
// compared by byte, so that 0 means equal texts. It takes one pass over the shorter text.
func CompareNatural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		if isDigit(x[0]) && isDigit(y[0]) {
			var p, q string
			p, x = cutDigits(x)
			q, y = cutDigits(y)
			if c := cmp.Or(cmp.Compare(len(p), len(q)), strings.Compare(p, q)); c != 0 {
				return c
			}
			continue
		}
		if x[0] != y[0] {
			return cmp.Compare(x[0], y[0])
		}
		x, y = x[1:], y[1:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(a, b))
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// cutDigits splits off the leading digits and drops their leading zeros.
func cutDigits(s string) (digits, rest string) {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return strings.TrimLeft(s[:n], "0"), s[n:]
}
