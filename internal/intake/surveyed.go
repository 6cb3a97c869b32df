package intake

import (
	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/surveyed"
)

// Surveyed is a file of surveyed ground, read but not yet checked as a batch.
type Surveyed struct {
	File
	Ground []surveyed.Ground
}

// RoleSurveyed is the name of the input of surveyed ground.
const RoleSurveyed = "surveyed"

func surveyedRole() Role {
	return Role{
		Name: RoleSurveyed, Is: "surveyed ground", Many: true, System: "the surveyed ground", Passing: "surveyed_id",
		Help:  "`FILE` of the ground walked or flown this quarter, repeatable: lines, areas or tracks; without it, the ground about the points",
		Rules: surveyed.Rules, fields: surveyedFields, shapes: linesOrAreas,
		records: kind[Surveyed, surveyed.Ground]{
			open: ReadSurveyed,
			of:   func(f *Surveyed) (File, []surveyed.Ground) { return f.File, f.Ground },
			check: func(all []surveyed.Ground, a Against) ([]surveyed.Ground, []check.Finding) {
				return surveyed.Check(all, surveyed.Options{Begin: a.FirstDay(), End: a.End()})
			},
			file:   func(g *surveyed.Ground) string { return g.File },
			counts: func(g *surveyed.Ground, a Against) bool { return g.During(a.FirstDay(), a.End()) },
			value:  surveyedValue,
		},
	}
}

// surveyedValue returns the value of a field of surveyed ground, as it was understood.
func surveyedValue(g *surveyed.Ground, field string) string {
	switch field {
	case "start_date", "eventDate":
		return dayText(g.Begin)
	case "end_date":
		return dayText(g.End)
	}
	return ""
}

// ReadSurveyed returns the lines and areas of a file of any format, in WGS 84 degrees and in
// the order of the file, with the days they were walked or flown, and the findings. From a GPX
// file it reads tracks and routes; a track without a date takes that of its positions. The
// error is an *UnusableError when the file cannot be used. Cost is linear.
func ReadSurveyed(s format.Source, o Options) (Surveyed, []check.Finding, error) {
	r := &surveyedReader{featureReader: newReader(surveyedFields, surveyedID, recognisedSurveyed, o)}
	r.Lines, r.Timed = true, true
	r.methods, r.banks = o.Mapping.Words("method"), o.Mapping.Words("bank")
	if err := r.readFile(s, r.take); err != nil {
		return Surveyed{}, nil, err
	}
	if r.features > 0 && r.wrongKind == r.features {
		return Surveyed{}, nil, r.Unusable("", "no feature is a line or an area", "name a file of what was walked or flown; survey points go with --points")
	}
	r.reportDates()
	return Surveyed{File: r.file, Ground: r.found}, r.Log.Findings(), nil
}

// The fields of surveyed ground, by their index in surveyedFields.
const (
	surveyedID = iota
	surveyedStart
	surveyedEnd
	surveyedDate
	surveyedMethod
	surveyedBank
)

// surveyedFields are the columns of surveyed ground. Only findings use the id. Case does not
// matter.
var surveyedFields = []column.Field{
	surveyedID:    {Name: "surveyed_id", Also: []string{"gpx:name"}},
	surveyedStart: {Name: "start_date", Also: []string{"begin", "begin_date", "kml:begin"}, In: cell.Day},
	surveyedEnd:   {Name: "end_date", Also: []string{"end", "kml:end"}, In: cell.Day},
	surveyedDate:  {Name: "eventDate", Also: []string{"dwc:eventDate", "event_date", "gpx:time", "kml:when"}, In: cell.Day},

	surveyedMethod: {Name: "method", Words: column.Theirs{"foot": nil, "boat": nil, "air": nil, "image": nil}},
	surveyedBank:   {Name: "bank", Words: column.Theirs{}},
}

// recognisedSurveyed are names of columns in tracks and flight plans [C].
var recognisedSurveyed = []column.Recognised{
	column.Elsewhere("surveyed_id", column.Different, "id", "trackid", "objectid", "globalid", "fid", "name", "track"),
	column.Elsewhere("start_date", column.Dates, "start", "startdate", "from", "begindate", "starttime", "begintime"),
	column.Elsewhere("end_date", column.Dates, "finish", "enddate", "until", "to", "endtime"),
	column.Elsewhere("eventDate", column.Dates, "date", "surveydate", "visitdate", "datetime", "timestamp", "day", "flown", "walked"),
	column.Elsewhere("method", column.FewWords, "how", "mode", "surveymethod", "means", "platform"),
	column.Elsewhere("bank", column.FewWords, "side", "shore"),
}

// surveyedReader turns features into surveyed ground.
type surveyedReader struct {
	featureReader
	found   []surveyed.Ground
	undated []string // names of the pieces without a date, for findings
	slab    slab

	methods, banks map[string]string
}

// reportDates reports ground without a date, or the file once if it has no date column.
func (r *surveyedReader) reportDates() {
	if !r.columns.Has(surveyedDate) && !r.columns.Has(surveyedStart) && !r.columns.Has(surveyedEnd) && len(r.found) > 0 {
		r.ReportFile(ruleNoDate, "eventDate", "", "the file has no dates; the quarter was assumed for all its ground")
		return
	}
	for _, label := range r.undated {
		r.Log.Add(check.Finding{Rule: ruleNoDate, File: r.Name, Record: label, Field: "eventDate", Message: "the ground has no date; the quarter was assumed"})
	}
}

// take turns one feature into a piece of ground.
func (r *surveyedReader) take(f *format.Feature) error {
	if r.Tabular() && r.GeometryColumn < 0 {
		return r.Unusable("", "the file is a table without a column of lines or areas", "give them as well-known text in a column called WKT, or as another format")
	}
	p, ok := r.shaped(f, linesOrAreas, &r.slab)
	if !ok {
		return nil
	}
	g := surveyed.Ground{File: r.Name, Row: f.Row, Lines: p.lines, Areas: p.areas}
	g.Method = surveyedWord(r, f, surveyedMethod, r.methods, surveyed.ParseMethod)
	g.Bank = surveyedWord(r, f, surveyedBank, r.banks, surveyed.ParseBank)
	blank := func(field int) bool { return cell.IsBlank(r.columns.Cell(f, field)) }
	if blank(surveyedDate) && blank(surveyedStart) && blank(surveyedEnd) {
		r.undated = append(r.undated, r.label(f))
	}
	g.Begin, g.End = r.days(f, surveyedDate)
	if first, last := r.days(f, surveyedStart); !first.IsZero() {
		g.Begin, g.End = first, last
	}
	if _, last := r.days(f, surveyedEnd); !last.IsZero() {
		g.End = last
	}
	r.file.Read++
	r.found = append(grown(&r.featureReader, r.found), g)
	return nil
}

// surveyedWord reads a column of words with the user's table. An unknown word is ignored, with a
// finding.
func surveyedWord[W interface {
	~uint8
	String() string
}](r *surveyedReader, f *format.Feature, field int, table map[string]string, parse func(string) (W, bool)) W {
	text := r.columns.Cell(f, field)
	if cell.IsBlank(text) {
		return 0
	}
	word, known := parse(translate(table, string(text)))
	meaning := ""
	if known {
		meaning = word.String()
	} else {
		rule := surveyed.RuleMethod()
		if field == surveyedBank {
			rule = surveyed.RuleBank()
		}
		r.report(f, rule, surveyedFields[field].Name, string(text), "the word is not known; "+word.String()+" was assumed")
	}
	r.columns.Count(field, text, meaning)
	return word
}
