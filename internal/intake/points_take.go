package intake

import (
	"fmt"
	"slices"

	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// take turns one feature into its records.
func (p *pointReader) take(f *format.Feature) error {
	if p.rejectFeature(f, pointsOrAreas) {
		return nil
	}
	if !finite(f.Shape.Points) {
		p.reject(f, ruleMalformed, "geometry", "", "a coordinate is not a finite number")
		return nil
	}
	at := len(p.records)
	p.add(survey.Record{File: p.Name, Row: f.Row})
	if r := &p.records[at]; !p.fill(f, r) { // filled in place, because copying a record takes longer than reading a column
		p.records = p.records[:at]
		delete(p.badDate, at)
		return nil
	}
	p.file.Read++
	p.repeat(f, at)
	if !p.columns.Has(pointOccurrence) {
		for ; at < len(p.records); at++ {
			p.hear(f, p.before+at)
		}
	}
	if p.give != nil && len(p.records) >= givenAtOnce {
		return p.giveAll()
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
	if f.Shape.Kind != format.NoShape && !p.place(f, r) {
		return false
	}
	if p.utc >= 0 {
		p.utcDays.count(r, p.columns.Cell(f, pointDate), p.utc)
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

// repeat adds a copy of the record at index at for every position of the feature after the first.
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
	// Our choice: a thousand records are enough to estimate the number to come from their mean length.
	if len(p.records) == 1000 && p.give == nil && p.size > 0 && p.Text != nil {
		if behind := p.Text.Place(); behind > 0 {
			expected := int(float64(p.size)/float64(behind)*1000*1.02) + 1000
			p.records = slices.Grow(p.records, min(expected, p.Limits.Records))
			inLargePages(p.records)
		}
	}
	p.records = append(p.records, r)
}

// givenAtOnce is how many records are given at once. Our choice: enough that giving costs nothing, few
// enough to need no memory to speak of.
const givenAtOnce = 1 << 10

// giveAll gives the records read since the last block.
func (p *pointReader) giveAll() error {
	p.findUndated()
	for i := range p.records {
		if r := &p.records[i]; r.Outline == nil {
			p.setBare(p.before + i)
			p.bareFind = p.bareFind || r.Detected
		}
	}
	err := p.give(p.records)
	p.before += len(p.records)
	clear(p.records)
	p.records = p.records[:0]
	clear(p.badDate)
	return err
}

func (p *pointReader) setBare(at int) {
	for len(p.bare) <= at/64 {
		p.bare = append(p.bare, 0)
	}
	p.bare[at/64] |= 1 << (at % 64)
}
