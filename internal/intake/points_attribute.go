package intake

import (
	"fmt"
	"math"

	"driftreach/geo"
	"driftreach/internal/cell"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// detection reads occurrenceStatus; false means rejected.
func (p *pointReader) detection(f *format.Feature, r *survey.Record) bool {
	text := p.columns.Cell(f, pointOccurrence)
	if len(text) == 0 {
		r.Detected = p.blankFound
		return true
	}
	word := p.occurrence.of(text)
	p.columns.Count(pointOccurrence, text, word.text())
	if !word.ok {
		p.statusOf(f) // counts its word, even though the record is lost
		p.reject(f, ruleOccurrence, "occurrenceStatus", string(text), "the word says neither that the plant was found nor that it was not")
		return false
	}
	r.Detected = word.detected
	return true
}

func (p *pointReader) attributes(f *format.Feature, r *survey.Record) {
	r.ID = p.identity(f)
	p.date(f, r)
	if text, word := p.statusOf(f); len(text) > 0 {
		r.Status = word.status
		if !word.ok {
			p.report(f, ruleStatus, "management_status", string(text), "the word is not a known status; the record is read as untreated")
		}
	}
	r.Uncertainty = geo.Meters(p.number(f, pointUncertainty))
	switch u := float64(r.Uncertainty); {
	case math.IsNaN(u):
		r.Uncertainty = 0
	case u == 0:
		p.report(f, survey.RuleUncertaintyNotPositive(), "coordinateUncertaintyInMeters", "0", "coordinateUncertaintyInMeters is not above 0; the value was left out")
	}
	r.PatchArea = geo.SquareMeters(p.patch(f))
	r.Cover = p.cover(f)
	r.StemHeight = geo.Meters(p.number(f, pointHeight))
	r.Notes = p.notebook.of(f)
}

// statusOf returns the cell of the status and its meaning, and counts it.
func (p *pointReader) statusOf(f *format.Feature) (text []byte, word statusWord) {
	if text = p.columns.Cell(f, pointStatus); len(text) > 0 {
		word = p.status.of(text)
		p.columns.Count(pointStatus, text, word.text())
	}
	return text, word
}

func (p *pointReader) date(f *format.Feature, r *survey.Record) {
	text := p.columns.Cell(f, pointDate)
	p.utc = -1
	if cell.IsBlank(text) {
		return
	}
	day := p.dates.of(text)
	p.utc = day.utc
	if !day.ok {
		p.badDate[len(p.records)-1] = true
		p.report(f, ruleDate, "eventDate", string(text), "the date cannot be read; the quarter was assumed")
		return
	}
	if day.serial {
		p.serials.count("eventDate", string(text), day.begin.String())
	}
	r.Begin, r.End = day.begin, day.end
}

// patch returns the patch's area in square metres, from the first of these that can be used: area,
// length and width, diameter; 0 if none can.
func (p *pointReader) patch(f *format.Feature) float64 {
	if area := p.measure(f, pointArea); area > 0 {
		return area
	}
	length, width := p.measure(f, pointLength), p.measure(f, pointWidth)
	if length > 0 && width > 0 {
		return length * width
	}
	if length > 0 || width > 0 {
		p.report(f, rulePatchPart, "patch_length_m", "", "patch_length_m and patch_width_m are not both there; they were left out")
	}
	diameter := p.measure(f, pointDiameter)
	return math.Pi / 4 * diameter * diameter
}

// measure returns a measure above 0. For any other value it returns 0, with a finding.
func (p *pointReader) measure(f *format.Feature, field int) float64 {
	v := p.number(f, field)
	if v > 0 {
		return v
	}
	if v <= 0 {
		name := p.columns.FieldName(field)
		p.report(f, survey.RulePatchNotPositive(), name, fmt.Sprint(v), name+" is not above 0; the value was left out")
	}
	return 0
}

// cover returns canopy cover in percent; NaN if it is not recorded.
func (p *pointReader) cover(f *format.Feature) float64 {
	percent := p.number(f, pointCover)
	text := p.columns.Cell(f, pointCoverClass)
	if !math.IsNaN(percent) || cell.IsBlank(text) {
		return percent
	}
	class := translate(p.classes, string(wholeText(text)))
	middle, ok := p.options.CoverTable.Midpoint(class)
	p.columns.Count(pointCoverClass, text, midpointText(middle, ok))
	if !ok {
		p.report(f, ruleCoverClass, "canopy_cover_class", string(text), "the table "+p.options.CoverTable.Name+" has no such class; the value was left out")
		return math.NaN()
	}
	return middle
}

func midpointText(percent float64, ok bool) string {
	if !ok {
		return ""
	}
	return fmt.Sprintf("%g %%", percent)
}
