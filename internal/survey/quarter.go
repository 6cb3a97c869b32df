package survey

import (
	"fmt"
	"strconv"
	"time"
)

// Quarter is a calendar quarter. It is small, because every record and every stream bank holds some.
type Quarter struct {
	Year   int16
	Number int8 // 1..4
}

// ParseQuarter reads a quarter such as "2026Q3". It also accepts a small q and "2026-Q3". Years are
// 1000 to 9999.
func ParseQuarter(text string) (Quarter, error) {
	s := text
	if len(s) == 7 && s[4] == '-' {
		s = s[:4] + s[5:]
	}
	bad := fmt.Errorf("quarter %q is not a year, Q and 1 to 4, as in 2026Q3", text)
	if len(s) != 6 || s[4] != 'Q' && s[4] != 'q' {
		return Quarter{}, bad
	}
	year, ok := number(s[:4])
	n := int(s[5]) - '0'
	if !ok || year < 1000 || n < 1 || n > 4 {
		return Quarter{}, bad
	}
	return Quarter{Year: int16(year), Number: int8(n)}, nil
}

// QuarterOf returns the quarter of a day, which must not be zero.
func QuarterOf(d Day) Quarter {
	t := d.Time()
	return Quarter{Year: int16(t.Year()), Number: int8((t.Month() + 2) / 3)}
}

// String formats q as "2026Q3".
func (q Quarter) String() string { return string(q.Append(make([]byte, 0, 8))) }

// Append appends q in the same form.
func (q Quarter) Append(b []byte) []byte {
	if q.Year < 0 || q.Year > 9999 {
		return fmt.Appendf(b, "%dQ%d", q.Year, q.Number)
	}
	for y, unit := q.Year, int16(1000); unit > 0; unit /= 10 {
		b = append(b, '0'+byte(y/unit%10))
	}
	return strconv.AppendInt(append(b, 'Q'), int64(q.Number), 10)
}

// Begin returns the quarter's first day, a UTC midnight.
func (q Quarter) Begin() time.Time {
	return time.Date(int(q.Year), time.Month(3*q.Number-2), 1, 0, 0, 0, 0, time.UTC)
}

// End returns the quarter's last day, a UTC midnight.
func (q Quarter) End() time.Time { return q.Begin().AddDate(0, 3, -1) }

// Next returns the quarter after q.
func (q Quarter) Next() Quarter {
	if q.Number >= 4 {
		return Quarter{q.Year + 1, 1}
	}
	return Quarter{q.Year, q.Number + 1}
}

// Previous returns the quarter before q.
func (q Quarter) Previous() Quarter {
	if q.Number <= 1 {
		return Quarter{q.Year - 1, 4}
	}
	return Quarter{q.Year, q.Number - 1}
}

// Ordinal numbers the quarters consecutively.
func (q Quarter) Ordinal() int { return 4*int(q.Year) + int(q.Number) - 1 }

// IsZero says whether q means no quarter.
func (q Quarter) IsZero() bool { return q == Quarter{} }

// number reads a text of decimal digits only.
func number(s string) (int, bool) {
	n := 0
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = 10*n + int(s[i]-'0')
	}
	return n, s != ""
}
