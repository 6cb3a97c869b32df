package format

import (
	"math"
	"strconv"
)

// powers are the powers of ten that a float64 holds exactly.
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// ScanNumber reads a decimal number at b[i:] and returns its value and the index after it. The bytes
// must end with one that cannot be part of a number. The value is the float64 nearest to the text: with
// up to 2^53 and 22 decimals one exact division gives it (Clinger 1990, How to read floating point
// numbers accurately), otherwise strconv does. ok is false if no number begins at i.
func ScanNumber(b []byte, i int) (v float64, next int, ok bool) {
	begin := i
	negative := b[i] == '-'
	if negative || b[i] == '+' {
		i++
	}
	var mantissa uint64
	first := i
	for ; b[i]-'0' < 10; i++ {
		mantissa = mantissa*10 + uint64(b[i]-'0')
	}
	digits, decimals := i-first, 0
	if b[i] == '.' {
		i++
		point := i
		for ; b[i]-'0' < 10; i++ {
			mantissa = mantissa*10 + uint64(b[i]-'0')
		}
		decimals = i - point
		digits += decimals
	}
	if digits == 0 {
		return 0, begin, false
	}
	if b[i] == 'e' || b[i] == 'E' {
		k := i + 1
		if b[k] == '-' || b[k] == '+' {
			k++
		}
		if b[k]-'0' < 10 {
			for b[k]-'0' < 10 {
				k++
			}
			v, err := strconv.ParseFloat(string(b[begin:k]), 64)
			return v, k, err == nil || math.IsInf(v, 0)
		}
	}
	// 19 digits cannot overflow a uint64.
	if digits > 19 || mantissa > 1<<53 || decimals >= len(powers) {
		v, err := strconv.ParseFloat(string(b[begin:i]), 64)
		return v, i, err == nil
	}
	v = float64(mantissa) / powers[decimals]
	if negative {
		v = -v
	}
	return v, i, true
}

// MostPlain is the number of decimal digits that a float64 always holds exactly.
const MostPlain = 15

// PlainNumber reads a number written with digits and at most a minus and a point, as nearly all are. It
// returns false for any other text. The value is the same as ScanNumber gives.
func PlainNumber(text []byte) (float64, bool) {
	digits := text
	if len(text) > 0 && text[0] == '-' {
		digits = text[1:]
	}
	n, decimals := len(digits), 0
	if n > MostPlain+1 {
		return 0, false
	}
	var mantissa uint64
	for i, b := range digits {
		switch {
		case b-'0' < 10:
			mantissa = mantissa*10 + uint64(b-'0')
		case b == '.' && n == len(digits):
			n--
			decimals = n - i
		default:
			return 0, false
		}
	}
	if n == 0 || n > MostPlain {
		return 0, false
	}
	v := float64(mantissa) / powers[decimals]
	if len(digits) < len(text) {
		v = -v
	}
	return v, true
}

// Coordinate reads a number, or the NaN and Infinity that some programs write.
func Coordinate(b []byte, i int) (v float64, next int, ok bool) {
	if v, next, ok = ScanNumber(b, i); ok {
		return v, next, true
	}
	for _, word := range []string{"NaN", "nan", "-Infinity", "Infinity", "-inf", "inf"} {
		if len(b)-i > len(word) && string(b[i:i+len(word)]) == word {
			return math.NaN(), i + len(word), true
		}
	}
	return 0, i, false
}
