package intake

import (
	"bytes"
	"math"

	"driftreach/internal/format"
)

// numeral is how a text reads as a number.
type numeral uint8

const (
	goodNumber numeral = iota
	blankNumber
	badNumber
	notFinite
)

// parseNumber reads a whole cell as a number. With decimalComma a comma is the
// decimal sign where there is no point.
func parseNumber(text []byte, decimalComma bool) (float64, numeral) {
	if v, ok := format.PlainNumber(text); ok {
		return v, goodNumber
	}
	text = bytes.TrimSpace(text)
	if isBlankWord(text) {
		return math.NaN(), blankNumber
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
		return v, goodNumber
	case ok && next == n || isNotFinite(text):
		return math.NaN(), notFinite
	}
	return math.NaN(), badNumber
}

// parseLongNumber reads texts with more digits than any measure has.
func parseLongNumber(text []byte) (float64, numeral) {
	v, next, ok := format.ScanNumber(append(bytes.Clone(text), 0), 0)
	switch {
	case !ok || next != len(text):
		return math.NaN(), badNumber
	case math.IsInf(v, 0):
		return math.NaN(), notFinite
	}
	return v, goodNumber
}

// isBlankWord says whether a cell is blank or says that it is.
func isBlankWord(text []byte) bool {
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
