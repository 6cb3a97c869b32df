package intake

import (
	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/work"
)

// Works is a file of planned works, read but not yet checked as a batch.
type Works struct {
	File
	Works []work.Work
}

// RoleWorks is the name of the input of planned works.
const RoleWorks = "works"

func worksRole() Role {
	return Role{
		Name: RoleWorks, Is: "planned works of others", System: "the works",
		Help:  "`FILE` of planned works of others, points, lines or areas: whom to warn of stands nearby",
		Rules: work.Rules, fields: workFields, shapes: anyShape,
		records: kind[Works, work.Work]{
			open: ReadWorks,
			of:   func(f *Works) (File, []work.Work) { return f.File, f.Works },
			check: func(all []work.Work, a Against) ([]work.Work, []check.Finding) {
				return work.Check(all, work.Options{Begin: a.Begin()})
			},
			file:  func(w *work.Work) string { return w.File },
			value: workValue,
		},
	}
}

// workValue returns the value of a work's field, as it was understood.
func workValue(w *work.Work, field string) string {
	switch field {
	case "work_id":
		return w.ID
	case "kind":
		return w.Kind
	case "contact":
		return w.Contact
	case "start_date":
		return dayText(w.Start)
	case "end_date":
		return dayText(w.End)
	}
	if len(w.Points) != 1 {
		return ""
	}
	return positionText(w.Points[0], field)
}

// ReadWorks returns the planned works of a file of any format, in WGS 84 degrees and in the order of
// the file, and the findings. It reads points, lines and areas; the parts of one feature are one work.
// A row without geometry takes its position from the columns. The error is an *UnusableError when the
// file cannot be used. Cost is linear.
func ReadWorks(s format.Source, o Options) (Works, []check.Finding, error) {
	r := &workReader{featureReader: newReader(workFields, workID, recognisedWorks, o)}
	r.AnyShape = true
	r.kinds = o.Mapping.Words("kind")
	if err := r.readFile(s, r.take); err != nil {
		return Works{}, nil, err
	}
	if err := r.needPositions([2]int{workLon, workLat}, "works", "planned works"); err != nil {
		return Works{}, nil, err
	}
	return Works{File: r.file, Works: r.found}, r.Log.Findings(), nil
}

// The fields of a planned work, by their index in workFields.
const (
	workID = iota
	workKind
	workStart
	workEnd
	workContact
	workLon
	workLat
)

// workFields are the columns of planned works. The settings map an office's own names. Case does not
// matter.
var workFields = []column.Field{
	workID: {Name: "work_id", Also: []string{"gpx:name"}},
	workKind: {Name: "kind", Words: column.Theirs{
		"mowing": {"mow", "grasscutting", "brushing", "brushcutting"}, "earthwork": {"earthworks", "grading", "digging", "excavation", "earthmoving"},
		"channel work": {"channelmaintenance", "dredging", "bankwork", "bankrepair", "desilting", "channelclearing"},
	}},
	workStart:   {Name: "start_date", In: cell.Day},
	workEnd:     {Name: "end_date", In: cell.Day},
	workContact: {Name: "contact"},
	workLon:     pointFields[pointLon],
	workLat:     pointFields[pointLat],
}

// recognisedWorks are names of columns in work programmes of road, drainage and
// park offices [C].
var recognisedWorks = []column.Recognised{
	column.Elsewhere("work_id", column.Different, "id", "workorder", "workorderid", "jobid", "jobno", "projectid", "project", "objectid", "globalid", "fid", "name"),
	column.Elsewhere("kind", column.FewWords, "type", "worktype", "activity", "worktypes", "job", "category"),
	column.Elsewhere("start_date", column.Dates, "start", "startdate", "begin", "from", "begindate", "starts"),
	column.Elsewhere("end_date", column.Dates, "end", "enddate", "finish", "until", "to", "finishdate", "ends", "completion"),
	column.Elsewhere("contact", column.Anything, "contactname", "responsible", "office", "owner", "agency", "manager", "crew"),
}

// workReader turns features into works.
type workReader struct {
	featureReader
	found []work.Work
	kinds map[string]string
	slab  slab
}

// take turns one feature into a work.
func (r *workReader) take(f *format.Feature) error {
	at, ok := r.columnPlace(f, [2]int{workLon, workLat})
	if !ok {
		return nil
	}
	w := r.attributes(f)
	p, ok := r.placesOf(f, &r.slab)
	if !ok {
		return nil
	}
	w.Points, w.Lines, w.Areas = append(at, p.points...), p.lines, p.areas
	r.file.Read++
	r.found = append(grown(&r.featureReader, r.found), w)
	return nil
}

func (r *workReader) attributes(f *format.Feature) work.Work {
	w := work.Work{
		ID: r.identity(f), File: r.Name, Row: f.Row,
		Contact: r.store.keep(r.columns.Cell(f, workContact)),
	}
	if text := r.columns.Cell(f, workKind); len(text) > 0 {
		w.Kind = translate(r.kinds, r.store.keep(text))
		r.columns.Count(workKind, text, w.Kind) // every word is accepted
	}
	w.Start, _ = r.days(f, workStart)
	_, w.End = r.days(f, workEnd)
	return w
}
