// Package cell reads what people write into the cells of a table: numbers with a decimal point
// or comma, angles in degrees and minutes, quantities such as "1/2 ac" or "<30 %", days and
// the words for units. It knows texts and no columns: the caller knows which field a column
// is, and reports a cell that cannot be read.
package cell

import (
	"bytes"
	"math"

	"driftreach/internal/format"
)

// Numeral is how a text reads as a number.
type Numeral uint8

const (
	GoodNumber  Numeral = iota
	BlankNumber         // nothing, or a word for it
	BadNumber           // not a number
	NotFinite           // "nan", "inf", or larger than any number
)

// ParseNumber reads a whole cell as a number. With decimalComma a comma is the
// decimal sign where there is no point.
func ParseNumber(text []byte, decimalComma bool) (float64, Numeral) {
	if v, ok := format.PlainNumber(text); ok {
		return v, GoodNumber
	}
	text = bytes.TrimSpace(text)
	if IsBlank(text) {
		return math.NaN(), BlankNumber
	}
	var room [40]byte
	if len(text) >= len(room) {
		return parseLongNumber(text)
	}
	n := copy(room[:], text)
	if decimalComma && bytes.IndexByte(text, '.') < 0 {
		if k := bytes.IndexByte(room[:n], ','); k >= 0 {
			room[k] = '.'
		}
	}
	v, next, ok := format.ScanNumber(room[:], 0)
	switch {
	case ok && next == n && !math.IsInf(v, 0):
		return v, GoodNumber
	case ok && next == n || isNotFinite(text):
		return math.NaN(), NotFinite
	}
	return math.NaN(), BadNumber
}

// parseLongNumber reads texts with more digits than any measure has.
func parseLongNumber(text []byte) (float64, Numeral) {
	v, next, ok := format.ScanNumber(append(bytes.Clone(text), 0), 0)
	switch {
	case !ok || next != len(text):
		return math.NaN(), BadNumber
	case math.IsInf(v, 0):
		return math.NaN(), NotFinite
	}
	return v, GoodNumber
}

// IsBlank says whether a cell is blank or holds a word for blank.
func IsBlank(text []byte) bool {
	switch len(text) {
	case 0:
		return true
	case 2:
		return bytes.EqualFold(text, []byte("na"))
	case 3:
		return bytes.EqualFold(text, []byte("n/a"))
	case 4:
		return bytes.EqualFold(text, []byte("null"))
	}
	return false
}

func isNotFinite(text []byte) bool {
	text = bytes.TrimLeft(text, "+-")
	for _, word := range []string{"nan", "inf", "infinity", "1.#inf", "1.#qnan", "1.#ind"} {
		if bytes.EqualFold(text, []byte(word)) {
			return true
		}
	}
	return false
}
