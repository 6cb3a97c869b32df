package intake

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// take makes one feature into its records.
func (p *pointReader) take(f *format.Feature) error {
	if p.rejectFeature(f, pointLike) {
		return nil
	}
	if !finite(f.Shape.Points) {
		p.reject(f, ruleMalformed, "geometry", "", "a coordinate is not a finite number")
		return nil
	}
	at := len(p.records)
	p.add(survey.Record{File: p.Name, Row: f.Row})
	if r := &p.records[at]; !p.fill(f, r) { // in its place: a copy takes longer than a column
		p.records = p.records[:at]
		delete(p.badDate, at)
		return nil
	}
	p.file.Read++
	p.repeat(f, at)
	if !p.columns.Has(pointOccurrence) {
		for ; at < len(p.records); at++ {
			p.hear(f, at)
		}
	}
	return nil
}

// fill reads the feature into a record; false means rejected.
func (p *pointReader) fill(f *format.Feature, r *survey.Record) bool {
	if f.Shape.Kind == format.NoShape && !p.position(f, [2]int{pointLon, pointLat}, &r.Position) {
		return false
	}
	if !p.detection(f, r) {
		return false
	}
	p.attributes(f, r)
	return f.Shape.Kind == format.NoShape || p.place(f, r)
}

func pointLike(k format.ShapeKind) bool {
	switch k {
	case format.PointShape, format.MultiPointShape, format.PolygonShape, format.MultiPolygonShape:
		return true
	}
	return false
}

func finite(points []orb.Point) bool {
	for _, p := range points {
		if math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]) {
			return false
		}
	}
	return true
}

// place puts the record where the feature's geometry is: a point, the first of
// several, or inside an outline.
func (p *pointReader) place(f *format.Feature, r *survey.Record) bool {
	if f.Shape.Kind == format.PointShape || f.Shape.Kind == format.MultiPointShape {
		r.Position = f.Shape.Points[0]
		return true
	}
	outline, closed := outlineOf(&f.Shape, &p.slab)
	if len(outline) == 0 {
		p.reject(f, ruleMalformed, "geometry", f.Shape.Name, "no ring of the outline has three places or more")
		return false
	}
	if closed {
		p.report(f, ruleOutlineRepair, "geometry", "", "a ring of the outline does not end where it begins; it was closed")
	}
	r.Outline = outline
	r.Position = placeInside(outline)
	return true
}

// repeat adds the record at a place in records once more for every position after
// the feature's first.
func (p *pointReader) repeat(f *format.Feature, at int) {
	if f.Shape.Kind != format.MultiPointShape {
		return
	}
	r := p.records[at]
	id := r.ID
	for i, position := range f.Shape.Points[1:] {
		if id != "" {
			r.ID = fmt.Sprintf("%s#%d", id, i+2)
		}
		r.Position = position
		p.add(r)
		p.file.Read++
	}
}

// add adds a record.
func (p *pointReader) add(r survey.Record) {
	// Our choice: after a thousand records their mean length tells the number to come.
	if len(p.records) == 1000 && p.size > 0 && p.Text != nil {
		if behind := p.Text.Place(); behind > 0 {
			expected := int(float64(p.size)/float64(behind)*1000*1.02) + 1000
			p.records = slices.Grow(p.records, min(expected, p.Limits.Records))
			inLargePages(p.records)
		}
	}
	p.records = append(p.records, r)
}

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

// unplaced is why columns give no position.
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
			return at, &unplaced{rulePosition, name, string(text), name + " is no number"}
		case cell.NotFinite:
			return at, &unplaced{rulePosition, name, string(text), name + " is not a finite number"}
		}
		at[i] = v
	}
	if r.System.IsGeographic() && r.System.Name == "" {
		return at, nil
	}
	q, err := r.ToDegrees(at)
	if err != nil {
		return at, &unplaced{rulePosition, "position", "", err.Error()}
	}
	return q, nil
}

// coordinate reads a position's number: of degrees also with minutes and seconds.
func (r *featureReader) coordinate(f *format.Feature, text []byte, axis int) (float64, cell.Numeral) {
	if !r.System.IsGeographic() {
		return cell.ParseNumberIn(f, text, r.Comma)
	}
	letters := [2]string{"WE", "SN"}[axis]
	v, kind := cell.ParseAngle(text, r.Comma, letters)
	if kind == cell.BadNumber && !r.Comma && cell.OneComma(text) { // no degrees have thousands
		return cell.ParseAngle(text, true, letters)
	}
	return v, kind
}
