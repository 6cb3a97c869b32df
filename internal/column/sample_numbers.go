package column

import "driftreach/internal/cell"

// fitsNumbers says whether nine in ten of the texts are numbers for a field as people write them, with
// a unit of the right kind or without one.
func (s *sample) fitsNumbers(field Field, comma bool) bool {
	return s.mostly(func(text string) bool {
		_, ok := field.numberIn(text, comma)
		return ok
	})
}

// unitOf returns the unit of a column's numbers where its texts tell: one that some of them have
// written, or share for a field in percent whose numbers are all at most 1. Else it returns blank.
func (s *sample) unitOf(field Field, comma bool) string {
	if unit := s.unit(field); unit != "" || field.In != cell.Percent {
		return unit
	}
	if s.shares(comma) {
		return "share"
	}
	return ""
}

// shares says whether all numbers lie from 0 to 1, with one of them between.
func (s *sample) shares(comma bool) bool {
	between := false
	for _, text := range s.texts {
		v, kind := cell.ParseNumber([]byte(text), comma)
		if kind != cell.GoodNumber || v < 0 || v > 1 {
			return false
		}
		between = between || v > 0 && v < 1
	}
	return between
}

// unit returns the unit written with some numbers of the column, if it is the same in all of these and
// other numbers have none. Otherwise it returns blank.
func (s *sample) unit(field Field) string {
	found, bare := "", false
	for _, text := range s.texts {
		unit, ok := field.numberIn(text, false)
		switch {
		case !ok:
		case unit == "":
			bare = true
		case found == "" || found == unit:
			found = unit
		default:
			return ""
		}
	}
	if theirs, _ := cell.FindUnit(found); !bare || theirs.Size == field.In.Size {
		return ""
	}
	return found
}

// numberIn says whether a text is a number for a field, and with which unit. Here it does not matter
// which mark is the decimal mark.
func (f Field) numberIn(text string, comma bool) (unit string, ok bool) {
	if _, kind := cell.ParseNumber([]byte(text), comma); kind != cell.BadNumber {
		return "", kind != cell.NotFinite
	}
	q, ok := cell.ParseQuantity(text, true, false)
	if !ok || q.Unit == "" {
		return "", ok
	}
	if f.AsWritten {
		return q.Unit, true
	}
	m, known := cell.FindUnit(q.Unit)
	return q.Unit, known && m.Of == f.In.Of
}
