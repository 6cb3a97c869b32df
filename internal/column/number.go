package column

import (
	"math"

	"driftreach/internal/cell"
	"driftreach/internal/format"
)

// Number is a feature's value for a numeric field.
type Number struct {
	Value float64 // in the unit of the field; NaN for none
	Kind  cell.Numeral
	Text  []byte // as written in the file
	Told  string // what a reader must know about the value; blank for a plain number
}

// Number reads the feature's value for a field. A unit in the cell takes precedence over the column's
// unit. comma says that numbers may have a decimal comma.
func (c *Columns) Number(f *format.Feature, field int, comma bool) Number {
	text, s := c.priceOf(f, field)
	if len(text) == 0 {
		return Number{Value: math.NaN(), Kind: cell.BlankNumber}
	}
	v, kind := cell.ParseNumberIn(f, text, comma)
	if kind == cell.BadNumber {
		return c.quantity(f, text, field, s, comma)
	}
	c.countPlain(field, v, s)
	return Number{s.of(v), kind, text, ""}
}

// quantity reads a cell that is not a plain number.
func (c *Columns) quantity(f *format.Feature, text []byte, field int, s scale, comma bool) Number {
	none := Number{math.NaN(), cell.BadNumber, text, ""}
	q, ok := cell.ParseQuantityIn(f, text, comma)
	switch {
	case !ok:
		return none
	case q.Unit == "":
		c.countPlain(field, q.Value, s)
		return Number{s.of(q.Value), cell.GoodNumber, text, q.Told}
	case !c.fields[field].Measured():
		return none
	}
	own, err := c.fields[field].scaleOf(q.Unit)
	if err != nil {
		return none
	}
	c.said[field].named++
	return Number{own.of(q.Value), cell.GoodNumber, text, q.Told}
}

// countPlain counts a number that was written without a unit.
func (c *Columns) countPlain(field int, v float64, s scale) {
	c.said[field].count(v)
	if c.fields[field].In == cell.SquareMetre {
		c.said[field].countArea(s.of(v))
	}
}
