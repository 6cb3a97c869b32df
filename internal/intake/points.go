package intake

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
	"driftreach/internal/survey"
)

var nan = math.NaN()

// Points is a file of survey points, read but not yet checked as a batch.
type Points struct {
	File
	Records []survey.Record
	Extra   []string // names of the carried columns, sorted: Record.Extra runs beside them
}

// ReadPoints returns the records of a CSV or GeoJSON file of survey points, in
// WGS 84 degrees and in the order of the file, and what it found. Point and
// MultiPoint (a record a part), Polygon and MultiPolygon (a drawn patch, its
// position a place inside) are read; a feature without geometry takes its position from
// the columns. An unknown occurrenceStatus rejects the record, because an absence
// read as presence would make acreage; an unknown management_status is read as
// untreated with a warning. The error is an *UnusableError when nothing can be made of
// the file. The text is never held as a whole; cost is linear.
func ReadPoints(s Source, o Options) (Points, []check.Finding, error) {
	p := newPointReader(o)
	p.size = s.Size
	if err := p.readFile(s, p.take); err != nil {
		return Points{}, nil, err
	}
	if err := p.usable(); err != nil {
		return Points{}, nil, err
	}
	p.reportDates()
	out := Points{File: p.file, Records: p.records, Extra: p.binding.carried}
	out.sortExtra()
	return out, p.log.Findings(), nil
}

// MergePoints returns the records of several files as one batch, with the
// names of all their carried columns, sorted; a record has "" for the columns of
// the others. It shares memory with the files.
func MergePoints(files []Points) (records []survey.Record, extra []string) {
	if len(files) == 1 {
		return files[0].Records, files[0].Extra
	}
	for _, f := range files {
		extra = append(extra, f.Extra...)
		records = slices.Grow(records, len(f.Records))
	}
	slices.Sort(extra)
	extra = slices.Compact(extra)
	for _, f := range files {
		to := make([]int, len(f.Extra))
		for i, name := range f.Extra {
			to[i], _ = slices.BinarySearch(extra, name)
		}
		for _, r := range f.Records {
			r.Extra = spread(r.Extra, to, len(extra))
			records = append(records, r)
		}
	}
	return records, extra
}

// spread puts value i at place to[i] of n.
func spread(values []string, to []int, n int) []string {
	if n == 0 {
		return nil
	}
	out := make([]string, n)
	for i, v := range values {
		out[to[i]] = v
	}
	return out
}

// sortExtra brings the carried columns into the order of their names, and
// gives every record one value for each.
func (p *Points) sortExtra() {
	order := slices.Clone(p.Extra)
	slices.Sort(order)
	same := slices.Equal(order, p.Extra)
	to := make([]int, len(order))
	for i, name := range p.Extra {
		to[i], _ = slices.BinarySearch(order, name)
	}
	for i := range p.Records {
		if r := &p.Records[i]; !same || len(r.Extra) < len(order) {
			r.Extra = spread(r.Extra, to, len(order))
		}
	}
	p.Extra = order
}

// pointReader makes features into records.
type pointReader struct {
	featureReader
	size       int64
	records    []survey.Record
	badDate    map[int]bool // places in records whose date was reported as unreadable
	dates      words[span2]
	status     words[statusWord]
	occurrence words[occurrenceWord]
	classes    map[string]string
	slab       slab
	strings    []string // free places for carried values
}

type span2 struct {
	begin, end time.Time
	ok         bool
}

type statusWord struct {
	status survey.Status
	ok     bool
}

type occurrenceWord struct{ detected, ok bool }

func newPointReader(o Options) *pointReader {
	p := &pointReader{badDate: map[int]bool{}}
	p.options = o
	p.binding = newBinding(pointFields, o.Mapping)
	p.id = pointID
	p.classes = o.Mapping.words("canopy_cover_class")
	p.dates = newWords(func(text string) span2 {
		begin, end, err := survey.ParseDate(text)
		return span2{begin, end, err == nil}
	})
	statuses, occurrences := o.Mapping.words("management_status"), o.Mapping.words("occurrenceStatus")
	p.status = newWords(func(text string) statusWord {
		s, ok := survey.ParseStatus(translate(statuses, text))
		return statusWord{s, ok}
	})
	p.occurrence = newWords(func(text string) occurrenceWord {
		detected, ok := survey.ParseOccurrence(translate(occurrences, text))
		return occurrenceWord{detected, ok}
	})
	return p
}

// usable says what makes the whole file worthless, if anything does.
func (p *pointReader) usable() error {
	noColumns := !p.binding.has(pointLon) || !p.binding.has(pointLat)
	switch {
	case p.format == formatCSV && noColumns:
		return p.unusable("header", "there are no columns for longitude and latitude among: "+shorten(strings.Join(p.schema.names, ", ")),
			"name the columns decimalLongitude and decimalLatitude, or map them under [columns.points]")
	case p.features > 0 && p.wrongKind == p.features:
		return p.unusable("", "no feature is a point or a drawn patch", "name a file of survey points; streams go with --streams")
	}
	return nil
}

// reportDates tells of accepted records without a date, or once that the file
// has no column for it.
func (p *pointReader) reportDates() {
	assumed := "the quarter was assumed"
	if q := p.options.Quarter; !q.IsZero() {
		assumed = "the quarter " + q.String() + " was assumed"
	}
	if !p.binding.has(pointDate) && len(p.records) > 0 {
		p.reportFile(ruleNoDate, "eventDate", "", fmt.Sprintf("the file has no eventDate; %s for all its records", assumed))
		return
	}
	for i := range p.records {
		r := &p.records[i]
		if !r.Begin.IsZero() || p.badDate[i] {
			continue
		}
		at := r.Position
		p.log.Add(check.Finding{Rule: ruleNoDate, File: p.name, Record: r.Name(), Field: "eventDate", Message: "the record has no date; " + assumed, Position: &at})
	}
}

// take makes one feature into its records.
func (p *pointReader) take(f *feature) error {
	if f.wrong != "" {
		rule := ruleUnreadable
		if p.format == formatCSV {
			rule = ruleRagged
		}
		p.reject(f, rule, "", "", f.wrong)
		return nil
	}
	if p.rejectShape(f, pointLike) {
		return nil
	}
	r := survey.Record{File: p.name, Row: f.row}
	if f.shape.kind == noShape && !p.position(f, &r.Position) {
		return nil
	}
	if !p.detection(f, &r) {
		return nil
	}
	p.attributes(f, &r)
	p.place(f, r)
	return nil
}

func pointLike(k shapeKind) bool {
	switch k {
	case pointShape, multiPointShape, polygonShape, multiPolygonShape:
		return true
	}
	return false
}

// place adds the record once for every position of the feature.
func (p *pointReader) place(f *feature, r survey.Record) {
	switch f.shape.kind {
	case noShape:
		p.add(r)
	case pointShape, multiPointShape:
		id := r.ID
		for i, at := range f.shape.points {
			if i > 0 && id != "" {
				r.ID = fmt.Sprintf("%s#%d", id, i+1)
			}
			r.Position = at
			p.add(r)
		}
	default:
		outline, closed := outlineOf(&f.shape, &p.slab)
		if len(outline) == 0 {
			p.reject(f, ruleMalformed, "geometry", f.shape.name, "no ring of the outline has three places or more")
			return
		}
		if closed {
			p.report(f, ruleOutlineRepair, "geometry", "", "a ring of the outline does not end where it begins; it was closed")
		}
		r.Outline = outline
		r.Position = placeInside(outline)
		p.add(r)
	}
}

func (p *pointReader) add(r survey.Record) {
	p.file.Read++
	// Our choice: after a thousand records their mean length tells the number to come.
	if len(p.records) == 1000 && p.size > 0 {
		if behind := p.text.place(); behind > 0 {
			expected := int(float64(p.size)/float64(behind)*1000*1.02) + 1000
			p.records = slices.Grow(p.records, min(expected, p.limits.Records))
		}
	}
	p.records = append(p.records, r)
}

// position reads the position columns.
func (p *pointReader) position(f *feature, at *orb.Point) bool {
	for i, field := range []int{pointLon, pointLat} {
		text := p.binding.cell(f, field)
		name := p.binding.fields[field].name
		v, kind := parseNumber(text, p.comma)
		switch kind {
		case blankNumber:
			p.reject(f, survey.RulePositionMissing(), name, "", name+" is blank")
			return false
		case badNumber:
			p.reject(f, rulePosition, name, string(text), name+" is no number")
			return false
		case notFinite:
			p.reject(f, rulePosition, name, string(text), name+" is not a finite number")
			return false
		}
		at[i] = v
	}
	return true
}
