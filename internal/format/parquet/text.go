package parquet

import (
	"math"
	"math/big"
	"strconv"
	"time"
	"unicode/utf8"
)

// text appends a value as text: numbers in the shortest form that reads back as the same value, times
// as ISO 8601. Bytes that are not marked as text are used only if they are valid UTF-8.
func (c *column) text(into []byte, v value) []byte {
	switch m := c.meaning; m.kind {
	case parquetDecimal:
		return c.decimal(into, v)
	case parquetDate:
		return time.Unix(int64(int32(v.bits))*24*3600, 0).UTC().AppendFormat(into, time.DateOnly)
	case parquetTime:
		return instant(c.signed(v), m.parts).AppendFormat(into, "15:04:05.999999999")
	case parquetTimestamp:
		layout := "2006-01-02T15:04:05.999999999"
		if m.utc {
			layout += "Z07:00"
		}
		return instant(c.signed(v), m.parts).AppendFormat(into, layout)
	case parquetUnsigned:
		if c.physical == parquetInt32 {
			v.bits &= math.MaxUint32
		}
		return strconv.AppendUint(into, v.bits, 10)
	case parquetUUID:
		return uuid(into, v.bytes)
	case parquetHalf:
		return half(into, v.bytes)
	}
	return c.plainText(into, v)
}

// signed returns the value of an integer column.
func (c *column) signed(v value) int64 {
	if c.physical == parquetInt32 {
		return int64(int32(v.bits))
	}
	return int64(v.bits)
}

// instant returns the time n parts after 1970-01-01, with parts per second.
func instant(n, parts int64) time.Time {
	return time.Unix(n/parts, n%parts*(1e9/parts)).UTC()
}

// plainText appends the text of a value by its physical type.
func (c *column) plainText(into []byte, v value) []byte {
	switch c.physical {
	case parquetBoolean:
		return strconv.AppendBool(into, v.bits != 0)
	case parquetInt32, parquetInt64:
		return strconv.AppendInt(into, c.signed(v), 10)
	case parquetFloat:
		return float(into, float64(math.Float32frombits(uint32(v.bits))), 32)
	case parquetDouble:
		return float(into, math.Float64frombits(v.bits), 64)
	case parquetInt96:
		return oldTimestamp(into, v.bytes)
	}
	if c.meaning.kind == parquetText || utf8.Valid(v.bytes) {
		return append(into, v.bytes...)
	}
	return into
}

// float appends a number. NaN is left blank.
func float(into []byte, v float64, bits int) []byte {
	if math.IsNaN(v) {
		return into
	}
	return strconv.AppendFloat(into, v, 'f', -1, bits)
}

// oldTimestamp appends the time in twelve bytes: the nanoseconds of the day, and the Julian day number,
// which is 2 440 588 for 1970-01-01.
func oldTimestamp(into, b []byte) []byte {
	if len(b) != 12 {
		return into
	}
	day := int64(int32(littleEndian(b[8:]))) - 2_440_588
	at := time.Unix(day*24*3600, 0).UTC().Add(time.Duration(littleEndian(b[:8])))
	return at.AppendFormat(into, "2006-01-02T15:04:05.999999999Z07:00")
}

// longestDecimal is the most bytes of a decimal number. Our choice: four times as long as any known
// program writes.
const longestDecimal = 64

// decimal appends an integer with the decimal point inserted.
func (c *column) decimal(into []byte, v value) []byte {
	n := new(big.Int)
	switch scale := c.meaning.scale; {
	case c.physical == parquetInt32 || c.physical == parquetInt64:
		n.SetInt64(c.signed(v))
	case len(v.bytes) == 0 || len(v.bytes) > longestDecimal:
		return into
	case scale < 0 || scale > 4*longestDecimal:
		return into
	default: // two's complement, most significant byte first
		n.SetBytes(v.bytes)
		if v.bytes[0] >= 0x80 {
			n.Sub(n, new(big.Int).Lsh(big.NewInt(1), uint(8*len(v.bytes))))
		}
	}
	digits := new(big.Int).Abs(n).String()
	scale := int(min(max(c.meaning.scale, 0), 4*longestDecimal))
	for len(digits) <= scale {
		digits = "0" + digits
	}
	if n.Sign() < 0 {
		into = append(into, '-')
	}
	into = append(into, digits[:len(digits)-scale]...)
	if scale > 0 {
		into = append(append(into, '.'), digits[len(digits)-scale:]...)
	}
	return into
}

func uuid(into, b []byte) []byte {
	const digits = "0123456789abcdef"
	for i, x := range b {
		if len(b) == 16 && (i == 4 || i == 6 || i == 8 || i == 10) {
			into = append(into, '-')
		}
		into = append(into, digits[x>>4], digits[x&15])
	}
	return into
}

// half appends a 16-bit floating point number (IEEE 754-2019, binary16).
func half(into, b []byte) []byte {
	if len(b) != 2 {
		return into
	}
	bits := uint16(littleEndian(b))
	exponent, fraction := int(bits>>10&31), float64(bits&1023)
	v := math.Ldexp(1+fraction/1024, exponent-15)
	switch {
	case exponent == 0:
		v = math.Ldexp(fraction, -24)
	case exponent == 31 && fraction == 0:
		v = math.Inf(1)
	case exponent == 31:
		return into
	}
	if bits>>15 != 0 {
		v = -v
	}
	return float(into, v, 32)
}
