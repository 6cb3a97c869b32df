package intake

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// Points is a file of survey points, read but not yet checked as a batch.
type Points struct {
	File
	Records []survey.Record
	Extra   []string // names of the carried columns, sorted; Record.Extra is in the same order
}

// ReadPoints returns the records of a CSV or GeoJSON file of survey points, in WGS 84 degrees
// and in the order of the file, and the findings. It reads Point and MultiPoint (one record
// for each part), Polygon and MultiPolygon (a drawn patch, positioned at a place inside); a
// feature without geometry takes its position from the columns. An unknown occurrenceStatus
// rejects the record, because an absence read as presence would add acreage; an unknown
// management_status is read as untreated with a warning. The error is an *UnusableError when
// the file cannot be used. The text is never held in memory as a whole; cost is linear.
func ReadPoints(s format.Source, o Options) (Points, []check.Finding, error) {
	p := newPointReader(o)
	if err := p.readAll(s); err != nil {
		return Points{}, nil, err
	}
	out := Points{File: p.file, Records: p.records, Extra: p.columns.Carried()}
	out.sortExtra()
	return out, p.Log.Findings(), nil
}

// readAll reads the file and finds what can be known at its end.
func (p *pointReader) readAll(s format.Source) error {
	if err := p.readFile(s, p.take); err != nil {
		return err
	}
	if p.give != nil {
		if err := p.giveAll(); err != nil {
			return err
		}
	}
	if err := p.usable(); err != nil {
		return err
	}
	if err := p.decide(); err != nil {
		return err
	}
	p.reportDates()
	p.columns.TellTwoValued(p.ReportFile)
	p.columns.TellUnread(p.ReportFile, p.drawn)
	p.finish()
	return nil
}

// sortExtra brings the carried columns into the order of their names, and
// gives every record one value for each.
func (p *Points) sortExtra() {
	if len(p.Extra) == 0 {
		return
	}
	order := slices.Sorted(slices.Values(p.Extra))
	s := newSpreader(p.Extra, order)
	for i := range p.Records {
		p.Records[i].Notes = s.spread(p.Records[i].Notes)
	}
	p.Extra = order
}

// usable returns an error if the file as a whole is unusable.
func (p *pointReader) usable() error {
	noColumns := !p.columns.Has(pointLon) || !p.columns.Has(pointLat)
	switch {
	case p.Tabular() && noColumns && p.GeometryColumn < 0:
		if p.options.Trial { // this one reason rejected every row
			p.Log = &check.Log{Limit: p.Limits.FindingsAlike}
		}
		return p.stop("header", "there are no columns for longitude and latitude among: "+format.Shorten(strings.Join(p.Schema.Names, ", ")),
			p.positionRemedy())
	case p.features > 0 && p.wrongKind == p.features:
		return p.Unusable("", "no feature is a point or a drawn patch", "name a file of survey points; streams go with --streams")
	}
	return nil
}

// reportDates reports accepted records without a date, or the file once if it has no date column, and
// times in UTC that fall into another quarter.
func (p *pointReader) reportDates() {
	if told := p.utcDays.told(); told != "" {
		p.ReportFile(ruleUTC, "eventDate", p.utcDays.text, told)
	}
	if !p.columns.Has(pointDate) && p.before+len(p.records) > 0 {
		p.ReportFile(ruleNoDate, "eventDate", "", fmt.Sprintf("the file has no eventDate; %s for all its records", p.dateAssumed()))
		return
	}
	p.findUndated()
	p.Log.Take(&p.undated)
}

// findUndated keeps the findings of the records at hand that have no date.
func (p *pointReader) findUndated() {
	if p.options.Quiet {
		return
	}
	p.undated.Limit = p.Limits.FindingsAlike
	message := "the record has no date; " + p.dateAssumed()
	for i := range p.records {
		r := &p.records[i]
		if !r.Begin.IsZero() || p.badDate[i] {
			continue
		}
		at := r.Position
		p.undated.Add(check.Finding{Rule: ruleNoDate, File: p.Name, Record: r.Name(), Field: "eventDate", Message: message, Position: &at})
	}
}

func (p *pointReader) dateAssumed() string {
	if q := p.options.Quarter; !q.IsZero() {
		return "the quarter " + q.String() + " was assumed"
	}
	return "the quarter was assumed"
}

// drawn says whether a field measures the patch and is not needed because every patch is drawn.
func (p *pointReader) drawn(field string) bool {
	if !strings.HasPrefix(field, "patch_") {
		return false
	}
	if p.give != nil {
		return !p.bareFound()
	}
	return !slices.ContainsFunc(p.records, func(r survey.Record) bool { return r.Detected && r.Outline == nil })
}

// bareFound says whether any record that was given is a find without an outline.
func (p *pointReader) bareFound() bool {
	if p.decided == nil {
		return p.bareFind
	}
	found := make([]bool, len(p.decided.words))
	for i, word := range p.decided.words {
		detected, ok := p.occurrences.of(word)
		found[i] = detected || !ok && p.blankFound
	}
	for i, word := range p.decided.heard {
		if found[word] && i/64 < len(p.bare) && p.bare[i/64]>>(i%64)&1 > 0 {
			return true
		}
	}
	return false
}
