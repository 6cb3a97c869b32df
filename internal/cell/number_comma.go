package cell

import (
	"bytes"
	"math"

	"driftreach/internal/format"
)

// ParseNumberIn reads a feature's number, whose comma may be the decimal mark or separate
// thousands. Without comma, where commas separate the cells, a single comma is decimal unless
// three digits follow it, which may be thousands; with comma it is decimal unless three digits
// follow it and another number of the row has a point. What may be thousands is left to
// ParseQuantityIn.
func ParseNumberIn(f *format.Feature, text []byte, comma bool) (float64, Numeral) {
	v, kind := ParseNumber(text, comma)
	switch {
	case kind == BadNumber && !comma && OneComma(text) && !maybeThousands(text):
		return ParseNumber(text, true)
	case kind == GoodNumber && comma && OneComma(text) && maybeThousands(text) && hasPoint(f),
		kind == GoodNumber && comma && pointThousands(text) && hasComma(f):
		return math.NaN(), BadNumber
	}
	return v, kind
}

// OneComma says whether a text has one comma and no point.
func OneComma(text []byte) bool {
	return bytes.Count(text, []byte(",")) == 1 && bytes.IndexByte(text, '.') < 0
}

// maybeThousands says whether exactly three digits follow the comma, and one to three digits
// come before it, the first not 0.
func maybeThousands(text []byte) bool {
	text = bytes.TrimSpace(text)
	k := bytes.IndexByte(text, ',')
	before := bytes.TrimLeft(text[:k], "+-")
	return len(text)-k == 4 && len(before) >= 1 && len(before) <= 3 && before[0] != '0'
}

// pointThousands says whether the point may be one that separates thousands.
func pointThousands(text []byte) bool {
	k := bytes.IndexByte(text, '.')
	if k < 0 || len(text)-k != 4 || bytes.IndexByte(text, ',') >= 0 {
		return false
	}
	before := bytes.TrimLeft(text[:k], "+-")
	return len(before) >= 1 && len(before) <= 3 && before[0] != '0'
}

// hasComma says whether a number of the feature has a comma that can only be decimal.
func hasComma(f *format.Feature) bool {
	for i := range f.Cells {
		if text := f.Cells[i].Text; len(text) <= maxDigits && OneComma(text) && !maybeThousands(text) {
			if _, kind := ParseNumber(text, true); kind == GoodNumber {
				return true
			}
		}
	}
	return false
}

// maxDigits is the longest cell that is searched for a decimal mark. Our choice: no number is
// longer.
const maxDigits = 40

// hasPoint says whether a number of the feature has a decimal point.
func hasPoint(f *format.Feature) bool {
	for i := range f.Cells {
		if text := f.Cells[i].Text; bytes.Count(text, []byte(".")) == 1 {
			if _, kind := ParseNumber(text, false); kind == GoodNumber {
				return true
			}
		}
	}
	return false
}
