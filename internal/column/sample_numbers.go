package column

import "driftreach/internal/cell"

// fitsNumbers says whether nine in ten of the texts are numbers for a field, as
// people write them, with a unit of the field's kind or none.
func (s *sample) fitsNumbers(field Field, comma bool) bool {
	good := 0
	for _, text := range s.texts {
		if _, ok := field.numberIn(text, comma); ok {
			good++
		}
	}
	return len(s.texts) > 0 && 10*good >= 9*len(s.texts) // a typing mistake must not hide a column
}

// unit returns the single unit written with some numbers of the column when others have none;
// blank when all have one or none has.
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

// numberIn says whether a text reads as a number for a field, and with which unit. It does not
// matter here which mark is decimal.
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
