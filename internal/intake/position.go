package intake

import (
	"github.com/paulmach/orb"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// position reads the columns of longitude and latitude; false means rejected.
func (r *featureReader) position(f *format.Feature, fields [2]int, at *orb.Point) bool {
	p, failed := r.positionOf(f, fields)
	if failed != nil {
		r.reject(f, failed.rule, failed.field, failed.value, failed.message)
		return false
	}
	*at = p
	return true
}

// unplaced says why the columns give no position.
type unplaced struct {
	rule                  check.Rule
	field, value, message string
}

// positionOf reads the columns of longitude and latitude, in degrees.
func (r *featureReader) positionOf(f *format.Feature, fields [2]int) (at orb.Point, failed *unplaced) {
	if !r.Tabular() && !r.columns.Has(fields[0]) && !r.columns.Has(fields[1]) {
		return at, &unplaced{ruleEmpty, "geometry", "", "the feature has no geometry"}
	}
	for i, field := range fields {
		text := r.columns.Cell(f, field)
		name := r.columns.FieldName(field)
		v, kind := r.coordinate(f, text, i)
		switch kind {
		case cell.BlankNumber:
			return at, &unplaced{survey.RulePositionMissing(), name, "", name + " is blank"}
		case cell.BadNumber:
			if _, angle := cell.ParseAngle(text, r.Comma, axisLetters[i]); angle == cell.GoodNumber {
				return at, &unplaced{ruleDegrees, name, string(text), name + " is in degrees, and the file is read in " + r.System.Name}
			}
			return at, &unplaced{rulePosition, name, string(text), name + " is no number"}
		case cell.NotFinite:
			return at, &unplaced{rulePosition, name, string(text), name + " is not a finite number"}
		}
		at[i] = v
	}
	if r.System.IsGeographic() && r.System.Name == "" {
		return at, nil
	}
	if !r.System.IsGeographic() {
		if other := r.otherZone(f); other != nil {
			return at, other
		}
		r.sizes.look(at)
	}
	q, err := r.ToDegrees(at)
	if err != nil {
		return at, &unplaced{rulePosition, "position", "", err.Error()}
	}
	return q, nil
}

// axisLetters are the letters of the hemispheres, west and south first.
var axisLetters = [2]string{"WE", "SN"}

// coordinate reads one number of a position; degrees may have minutes and seconds.
func (r *featureReader) coordinate(f *format.Feature, text []byte, axis int) (float64, cell.Numeral) {
	if !r.System.IsGeographic() {
		return cell.ParseNumberIn(f, text, r.Comma)
	}
	letters := axisLetters[axis]
	v, kind := cell.ParseAngle(text, r.Comma, letters)
	if kind == cell.BadNumber && !r.Comma && cell.OneComma(text) { // degrees never reach thousands
		return cell.ParseAngle(text, true, letters)
	}
	return v, kind
}
