package column

import (
	"strings"

	"driftreach/internal/cell"
)

// withoutUnit removes a unit from the end of a column name, such as "Area (ft2)", "height_ft" or
// "AreaSqFt". A name that is only a unit, such as "Acres", stays. unit is blank if it is our unit.
func (f Field) withoutUnit(column string) (stem, unit string) {
	stem, unit, _ = f.cutUnit(column)
	return stem, unit
}

// UnitSaid says whether a column name for the field contains its unit.
func (f Field) UnitSaid(column string) bool {
	_, _, said := f.cutUnit(column)
	return said
}

// cutUnit does the same and also says whether the name contains a unit.
func (f Field) cutUnit(column string) (stem, unit string, said bool) {
	if f.AsWritten {
		unit = amountUnitOf(column)
		if stem = strings.Replace(plain(column), plain(unit), "", 1); stem == "" {
			stem = plain(column)
		}
		return stem, unit, unit != ""
	}
	if !f.Measured() {
		return plain(column), "", false
	}
	for _, words := range [][]string{spacedWords(column), nameWords(column)} {
		for n := min(2, len(words)); n > 0; n-- {
			last := strings.Join(words[len(words)-n:], " ")
			m, known := cell.FindUnit(last)
			if !known || m.Of != f.In.Of {
				continue
			}
			if m.Size != f.In.Size {
				unit = last
			}
			if n == len(words) {
				return plain(column), unit, true
			}
			return plain(strings.Join(words[:len(words)-n], "")), unit, true
		}
	}
	return plain(column), "", false
}
