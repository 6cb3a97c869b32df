package result

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// Kind is the type of a field's values.
type Kind uint8

// The kinds. An unknown value is Null, whatever the kind of its field.
const (
	Null   Kind = iota
	Text        // UTF-8 as in the input; every writer escapes it
	Flag        // true or false
	Count       // whole number
	Number      // fixed point, with the decimals of the field's unit
	Date        // ISO 8601: a day, or an interval day/day
	List        // several texts
)

// Value is one cell of an output. Numbers are in fixed point, rounded once, so that every file prints
// the same digits and a sum of printed cells is exact. The zero Value is Null.
type Value struct {
	Kind     Kind
	Decimals uint8    // of a Number
	Int      int64    // a Count; a Flag (0 or 1); a Number times 10 to the Decimals
	Text     string   // a Text or a Date
	List     []string // a List
}

// powers are the powers of ten by which a Number can be scaled.
var powers = [...]float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10}

// exactLimit is the largest scaled value. Above 2^53 a float64 cannot represent every integer, and no
// real length or area comes near it.
const exactLimit = 1 << 53

// text returns s as a Text; Null if it is blank.
func text(s string) Value {
	if s == "" || strings.TrimSpace(s) == "" {
		return Value{}
	}
	return Value{Kind: Text, Text: s}
}

// flag returns b as a Flag.
func flag(b bool) Value {
	if b {
		return Value{Kind: Flag, Int: 1}
	}
	return Value{Kind: Flag}
}

// count returns n as a Count.
func count(n int) Value { return Value{Kind: Count, Int: int64(n)} }

// list returns items as a List; an empty list is a List, not Null.
func list(items []string) Value { return Value{Kind: List, List: items} }

// scaled returns x in units of 10^-decimals, rounded half away from zero. ok is false for NaN,
// infinities and values too large for fixed point.
func scaled(x float64, decimals uint8) (n int64, ok bool) {
	y := math.Round(x * powers[decimals])
	if !(math.Abs(y) <= exactLimit) {
		return 0, false
	}
	return int64(y), true
}

// number returns x in unit u, rounded for that unit; Null for NaN and infinities.
func number[F ~float64](x F, u Unit) Value {
	n, ok := scaled(float64(x), u.Decimals())
	if !ok {
		return Value{}
	}
	return fixed(n, u)
}

// OfText returns s as a cell; Null if it is blank.
func OfText(s string) Value { return text(s) }

// OfFlag returns b as a cell.
func OfFlag(b bool) Value { return flag(b) }

// OfCount returns n as a cell.
func OfCount(n int) Value { return count(n) }

// OfNumber returns x in unit u as a cell, rounded for that unit; Null if it is not finite.
func OfNumber[F ~float64](x F, u Unit) Value { return number(x, u) }

// OfDecimals returns x as a cell, rounded to the given number of decimals, up to ten; Null if it is not
// finite.
func OfDecimals(x float64, decimals uint8) Value {
	n, ok := scaled(x, decimals)
	if !ok {
		return Value{}
	}
	return Value{Kind: Number, Decimals: decimals, Int: n}
}

// fixed returns a Number that is already in fixed point.
func fixed(n int64, u Unit) Value {
	return Value{Kind: Number, Decimals: u.Decimals(), Int: n}
}

// day returns t as a Date; Null for the zero time.
func day(t time.Time) Value {
	if t.IsZero() {
		return Value{}
	}
	return Value{Kind: Date, Text: t.Format(time.DateOnly)}
}

// days returns begin to end as a Date: one day, or an ISO 8601 interval.
func days(begin, end time.Time) Value {
	v := day(begin)
	if v.Kind == Null || end.IsZero() || end.Equal(begin) {
		return v
	}
	v.Text += "/" + end.Format(time.DateOnly)
	return v
}

// Float returns a Number or Count as a float64; NaN for every other kind.
func (v Value) Float() float64 {
	switch v.Kind {
	case Count:
		return float64(v.Int)
	case Number:
		return float64(v.Int) / powers[v.Decimals]
	}
	return math.NaN()
}

// Append appends v as plain text: numbers without trailing zeros, flags as true and false, list items
// joined by "; ", nothing for Null.
func (v Value) Append(b []byte) []byte {
	switch v.Kind {
	case Text, Date:
		return append(b, v.Text...)
	case Flag:
		return strconv.AppendBool(b, v.Int != 0)
	case Count:
		return strconv.AppendInt(b, v.Int, 10)
	case Number:
		return AppendFixed(b, v.Int, v.Decimals)
	case List:
		for i, item := range v.List {
			if i > 0 {
				b = append(b, "; "...)
			}
			b = append(b, item...)
		}
	}
	return b
}

// String returns v in the same form.
func (v Value) String() string {
	if v.Kind == Text || v.Kind == Date {
		return v.Text
	}
	return string(v.Append(nil))
}

// AppendFixed appends n times 10^-decimals, without trailing zeros and without a decimal point at the
// end: 1250 with three decimals is "1.25".
func AppendFixed(b []byte, n int64, decimals uint8) []byte {
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	whole, part := n, int64(0)
	if decimals > 0 {
		scale := int64(powers[decimals])
		whole, part = n/scale, n%scale
	}
	b = strconv.AppendInt(b, whole, 10)
	if part == 0 {
		return b
	}
	digits := int(decimals)
	for part%10 == 0 {
		part /= 10
		digits--
	}
	b = append(b, '.')
	at := len(b)
	b = append(b, "0000000000"[:digits]...)
	for i := at + digits - 1; i >= at; i-- {
		b[i] = byte('0' + part%10)
		part /= 10
	}
	return b
}

// parseFixed reads a number in the form that Append writes.
func parseFixed(s string) (Value, bool) {
	whole, part, _ := strings.Cut(s, ".")
	n, err := strconv.ParseInt(whole+part, 10, 64)
	if err != nil || len(part) >= len(powers) || n > exactLimit || n < -exactLimit {
		return Value{}, false
	}
	return Value{Kind: Number, Decimals: uint8(len(part)), Int: n}, true
}

// String returns the kind in words.
func (k Kind) String() string {
	switch k {
	case Text:
		return "text"
	case Flag:
		return "true or false"
	case Count:
		return "whole number"
	case Number:
		return "number"
	case Date:
		return "date"
	case List:
		return "list"
	}
	return "blank"
}

// recorded returns x in unit u; Null for 0, which means not recorded.
func recorded(x float64, u Unit) Value {
	if x == 0 {
		return Value{}
	}
	return number(x, u)
}

func ones(b bool) int {
	if b {
		return 1
	}
	return 0
}
