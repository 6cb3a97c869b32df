package cell

import (
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// rowOf is a feature of these cells.
func rowOf(cells string) *format.Feature {
	f := &format.Feature{}
	for _, text := range strings.Split(cells, "|") {
		f.Cells = append(f.Cells, format.Cell{Text: []byte(text)})
	}
	return f
}

// Whether a comma is decimal or separates thousands, by the number itself, by the separator of the
// cells, and by the other numbers of the row: a point in one of them makes a comma before three digits
// thousands, and a comma that can only be decimal makes such a point thousands. By hand.
func TestCommaOrThousands(t *testing.T) {
	const bad = -1
	for _, c := range []struct {
		text, row      string
		comma          bool
		want, quantity float64 // quantity is what ParseQuantityIn reads of what is no plain number
	}{
		{"1.5", "", false, 1.5, 0}, {"1,5", "", false, 1.5, 0}, {"12,34", "", false, 12.34, 0}, {"1,2345", "", false, 1.2345, 0}, {"0,250", "", false, 0.25, 0}, {"1234,567", "", false, 1234.567, 0},
		{"1,250", "", false, bad, bad}, {"-1,250", "", false, bad, bad}, {"123,250", "", false, bad, bad}, {"1,250", "2.5", false, bad, 1250}, {"1,250", "2,5", false, bad, bad}, {"1,250,000", "", false, bad, 1250000},
		{"1,5", "", true, 1.5, 0}, {"1,250", "", true, 1.25, 0}, {"1,250", "2.5", true, bad, 1250}, {"0,250", "2.5", true, 0.25, 0}, {"1,25", "2.5", true, 1.25, 0}, {"1,250", "2.5.1|x.y|a", true, 1.25, 0}, {"1,250", ".", true, 1.25, 0},
		{"1.250", "", true, 1.25, 0}, {"1.250", "2,5", true, bad, 1250}, {"-123.250", "2,5", true, bad, -123250}, {"1.25", "2,5", true, 1.25, 0}, {"0.250", "2,5", true, 0.25, 0}, {"1234.250", "2,5", true, 1234.25, 0}, {"1.250", "2,500", true, 1.25, 0}, {"1.250", "a,b", true, 1.25, 0}, {"1.250", "2,5", false, 1.25, 0},
		{"1.250", strings.Repeat("0", 37) + ",5", true, bad, 1250}, {"1.250", strings.Repeat("0", 38) + ",5", true, 1.25, 0}, {"1.250", "2,5 kg", true, 1.25, 0},
	} {
		f := rowOf(c.row + "|" + c.text)
		v, kind := ParseNumberIn(f, []byte(c.text), c.comma)
		if c.want == bad {
			if kind != BadNumber {
				t.Errorf("%q beside %q, comma %v: %v, %d", c.text, c.row, c.comma, v, kind)
			}
			q, ok := ParseQuantityIn(f, []byte(c.text), c.comma)
			if ok != (c.quantity != bad) || ok && q.Value != c.quantity {
				t.Errorf("%q beside %q, comma %v, as a quantity: %v, %v, want %v", c.text, c.row, c.comma, q.Value, ok, c.quantity)
			}
			continue
		}
		if kind != GoodNumber || v != c.want {
			t.Errorf("%q beside %q, comma %v: %v, %d, want %v", c.text, c.row, c.comma, v, kind, c.want)
		}
	}
}

// Dates in a cell, as text or as the day number of a spreadsheet (TestSerialDays).
func TestParseDays(t *testing.T) {
	for text, want := range map[string]string{"2026-07-01": "2026-07-01 2026-07-01 false", "46204.5": "2026-07-01 2026-07-01 true", "2026-07": "2026-07-01 2026-07-31 false", "7/1/2026": "2026-07-01 2026-07-01 false"} {
		begin, end, serial, err := ParseDays(text, survey.MonthFirst)
		got := begin.Format("2006-01-02") + " " + end.Format("2006-01-02") + map[bool]string{true: " true", false: " false"}[serial]
		if err != nil || got != want {
			t.Errorf("%q: %s, %v, want %s", text, got, err, want)
		}
	}
	if _, _, _, err := ParseDays("soon", survey.NoOrder); err == nil {
		t.Error("soon is a day")
	}
}

// Angles up to sixty-four bytes, a plus before them, plain numbers and blanks; by hand.
func TestAnglesThatArePlain(t *testing.T) {
	for text, want := range map[string]float64{"12.5": 12.5, "+12.5°": 12.5, "+12 30 0": 12.5, "12°30'E" + strings.Repeat(" ", 56): 12.5, "12 deg 30' E" + strings.Repeat(" ", 52): 12.5, "E 0": 0} {
		if v, kind := ParseAngle([]byte(text), false, "WE"); kind != GoodNumber || v != want {
			t.Errorf("%q: %v, %d", text, v, kind)
		}
	}
	for text, want := range map[string]Numeral{"": BlankNumber, "n/a": BlankNumber, "nan": NotFinite, "-+12°": BadNumber, "12 deg 30' E" + strings.Repeat(" ", 53): BadNumber, "12 deg E" + strings.Repeat(".", 60): BadNumber, "12.5.1°": BadNumber, "1e5°": BadNumber} {
		if _, kind := ParseAngle([]byte(text), false, "WE"); kind != want {
			t.Errorf("%q: %d, want %d", text, kind, want)
		}
	}
	for _, c := range []struct {
		text string
		want Numeral
	}{{strings.Repeat("0", 50) + "1e400", NotFinite}, {strings.Repeat("0", 50) + "1", GoodNumber}, {strings.Repeat("0", 50) + "1 m", BadNumber}} {
		if _, kind := ParseNumber([]byte(c.text), false); kind != c.want {
			t.Errorf("%.10q of %d letters: %d, want %d", c.text, len(c.text), kind, c.want)
		}
	}
}

// Fractions of every denominator that measures have, with and without a whole number, and those of dates
// and codes, which are none; quantities up to sixty-four letters.
func TestFractions(t *testing.T) {
	for text, want := range map[string]float64{
		"1/2": 0.5, "1/3": 1.0 / 3, "3/4": 0.75, "4/5": 0.8, "7/8": 0.875, "9/10": 0.9, "15/16": 0.9375, "2 1/2": 2.5, "0/2": 0, "½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1.0 / 3, "⅔": 2.0 / 3, "⅛": 0.125, "3 ¾": 3.75, "3¾": 3.75, "1/2 ": 0.5, "1 / 2": 0.5,
		"1" + strings.Repeat(" ", 60) + "1/2": 1.5,
	} {
		if q, ok := ParseQuantity(text, false, false); !ok || q.Value != want || q.Unit != "" {
			t.Errorf("%q: %+v, %v, want %v", text, q, ok, want)
		}
	}
	for _, text := range []string{"1/6", "1/7", "1/9", "1/12", "1/15", "1/17", "2/2", "1/1", "1 2 1/2", "/2", "1/", "x ½", "-1/2", "1 -1/2", "1." + strings.Repeat("0", 63)} {
		if q, ok := ParseQuantity(text, false, false); ok && q.Unit == "" {
			t.Errorf("%q: %+v", text, q)
		}
	}
	// feet and inches: up to 12 inches, none below nothing
	for text, want := range map[string]float64{"5'0": 5, `5'11.5"`: 5 + 11.5/12, "5 feet 3 inches": 5.25, "5’6”": 5.5, "5'6''": 5.5, "0'6": 0.5} {
		if q, ok := ParseQuantity(text, false, false); !ok || q.Unit != "ft" || q.Value != want {
			t.Errorf("%q: %+v, %v, want %v ft", text, q, ok, want)
		}
	}
	for _, text := range []string{`5'12"`, "5'-1", "5'-0", "x'6", "-5'6", "65536'1"} {
		if q, ok := ParseQuantity(text, false, false); ok && q.Unit == "ft" {
			t.Errorf("%q: %+v", text, q)
		}
	}
}
