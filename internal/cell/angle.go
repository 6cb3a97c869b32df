package cell

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"driftreach/internal/format"
)

// ParseAngle reads a longitude or latitude in degrees, as a plain number or in degrees,
// minutes and seconds: 34°03'21.5"N, N34 03.358, 117d 14m 30s W, -34:03:21, 34-03-21S, 34 deg
// 3' 21.50" North. A hemisphere letter gives the sign. Refused are a letter together with a
// minus, minutes and seconds of 60 or more, and bare numbers that nothing marks as degrees.
// letters are those of the axis, the negative first.
func ParseAngle(text []byte, decimalComma bool, letters string) (float64, Numeral) {
	v, kind := ParseNumber(text, decimalComma)
	if kind != BadNumber {
		return v, kind
	}
	a := angle{letters: letters}
	if !a.scan(angleWords.replace(text), decimalComma) {
		return math.NaN(), BadNumber
	}
	return a.value()
}

// wordMarks are words for marks and hemispheres, in pairs.
type wordMarks []string

var angleWords = wordMarks{
	"degrees", "°", "degree", "°", "deg", "°", "minutes", "'", "min", "'", "seconds", "\"", "sec", "\"",
	"north", "N", "south", "S", "east", "E", "west", "W",
}

// replace puts marks and letters in the place of words, ignoring case.
func (w wordMarks) replace(text []byte) []byte {
	small := bytes.ToLower(text)
	if len(small) != len(text) || len(text) > 64 { // longer than any angle
		return text
	}
	for i := 0; i < len(w); i += 2 {
		k := bytes.Index(small, []byte(w[i]))
		if k < 0 {
			continue
		}
		text = slices.Concat(text[:k], []byte(w[i+1]), text[k+len(w[i]):])
		small = bytes.ToLower(text)
	}
	return text
}

// angle holds the parts of a position's angle while it is read.
type angle struct {
	letters  string
	parts    []float64
	marked   int  // marks of degrees, minutes or seconds, or colons
	letter   byte // of the hemisphere, in capitals; 0 for none
	negative bool
	fraction bool // the last part has one: no part may follow
}

// scan takes the text apart.
func (a *angle) scan(text []byte, decimalComma bool) bool {
	text = append(bytes.Clone(bytes.TrimSpace(text)), 0)
	if len(text) > 64 { // longer than any angle
		return false
	}
	for i := 0; text[i] != 0; {
		r, size := utf8.DecodeRune(text[i:])
		switch {
		case r == ' ' || r == '\t' || r == '\u00a0':
		case r >= '0' && r <= '9':
			next, ok := a.number(text, i, decimalComma)
			if !ok {
				return false
			}
			i = next
			continue
		case (r == '-' || r == '\u2212') && len(a.parts) == 0 && !a.negative:
			a.negative = true
		case r == '+' && len(a.parts) == 0 && !a.negative:
		case r == '-' && len(a.parts) > 0:
		case a.isMark(r):
			a.marked++
		case a.isLetter(r):
		default:
			return false
		}
		i += size
	}
	return true
}

// number reads digits with an optional fraction.
func (a *angle) number(text []byte, i int, decimalComma bool) (int, bool) {
	if a.fraction || len(a.parts) == 3 {
		return i, false
	}
	end := i
	for text[end]-'0' < 10 || text[end] == '.' || decimalComma && text[end] == ',' {
		end++
	}
	word := append(bytes.ReplaceAll(text[i:end:end], []byte(","), []byte(".")), 0)
	v, next, ok := format.ScanNumber(word, 0)
	if !ok || next != len(word)-1 {
		return i, false
	}
	a.fraction = bytes.IndexByte(word, '.') >= 0
	a.parts = append(a.parts, v)
	return end, true
}

// marks are what may follow degrees, minutes and seconds.
var marks = [3]string{"°º˚:d", "'’′´:m", "\"”″'’′s"}

// isMark says whether r marks the last part as degrees, minutes or seconds.
func (a *angle) isMark(r rune) bool {
	n := len(a.parts)
	if n == 0 || !strings.ContainsRune(marks[n-1], r) {
		return false
	}
	// a small s after bare numbers means south
	return r != 's' || a.marked >= 2
}

// isLetter takes r if it is a hemisphere letter of the axis.
func (a *angle) isLetter(r rune) bool {
	upper := r
	if r >= 'a' && r <= 'z' {
		upper -= 'a' - 'A'
	}
	if a.letter != 0 || !strings.ContainsRune(a.letters, upper) {
		return false
	}
	a.letter = byte(upper)
	return true
}

// value returns the angle in degrees.
func (a *angle) value() (float64, Numeral) {
	plain := a.letter == 0 && a.marked == 0 && len(a.parts) < 3
	if len(a.parts) == 0 || plain || a.letter != 0 && a.negative {
		return math.NaN(), BadNumber
	}
	v := 0.0
	for i, p := range a.parts {
		if i > 0 && p >= 60 {
			return math.NaN(), BadNumber
		}
		v += p / math.Pow(60, float64(i))
	}
	if a.negative || a.letter == a.letters[0] {
		v = -v
	}
	return v, GoodNumber
}
