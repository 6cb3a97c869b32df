package intake

import (
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/correction"
	"driftreach/internal/format"
)

// Corrections is a file of corrections, read but not yet checked as a batch.
type Corrections struct {
	File
	Rows []correction.Correction
}

// RoleCorrections is the name of the input of corrections.
const RoleCorrections = "corrections"

func correctionsRole() Role {
	return Role{
		Name: RoleCorrections, Is: "corrections of earlier records and stands", Many: true, Passing: "correction_id",
		Help:  "`FILE` of corrections, repeatable: look-alikes, stands to join or to part, absences that were wrong; later batches keep them",
		Rules: correction.Rules, fields: correctionFields,
		records: kind[Corrections, correction.Correction]{
			open: ReadCorrections,
			of:   func(f *Corrections) (File, []correction.Correction) { return f.File, f.Rows },
			check: func(all []correction.Correction, a Against) ([]correction.Correction, []check.Finding) {
				return correction.Check(all, correction.Options{End: a.End()})
			},
			file:   func(c *correction.Correction) string { return c.File },
			counts: func(c *correction.Correction, a Against) bool { return !c.After(a.End()) },
			value:  correctionValue,
		},
	}
}

// correctionValue returns the value of a correction's field, as it was understood.
func correctionValue(c *correction.Correction, field string) string {
	if field == "date" {
		return dayText(c.Date)
	}
	return map[string]string{
		"correction": string(c.Kind), "occurrenceID": c.RecordID, "stand_id": c.StandID, "other_stand_id": c.OtherID, "reason": c.Reason,
	}[field]
}

// ReadCorrections returns the corrections of a file of any format, in the order of the file,
// and the findings. Geometries of the rows are ignored: ids say what is corrected. The error
// is an *UnusableError when the file cannot be used. Cost is linear.
func ReadCorrections(s format.Source, o Options) (Corrections, []check.Finding, error) {
	r := &correctionReader{featureReader: newReader(correctionFields, correctionID, recognisedCorrections, o)}
	r.kinds = o.Mapping.Words("correction")
	if err := r.readFile(s, r.take); err != nil {
		return Corrections{}, nil, err
	}
	if r.Tabular() || r.features > 0 {
		if err := r.needColumns(); err != nil {
			return Corrections{}, nil, err
		}
	}
	return Corrections{File: r.file, Rows: r.found}, r.Log.Findings(), nil
}

// The fields of corrections, by their index in correctionFields.
const (
	correctionID = iota
	correctionDate
	correctionKind
	correctionRecord
	correctionStand
	correctionOther
	correctionReason
)

// correctionFields are the columns of corrections. Only findings use the id. Case does not
// matter.
var correctionFields = []column.Field{
	correctionID:     {Name: "correction_id"},
	correctionDate:   {Name: "date", Also: []string{"eventDate", "dwc:eventDate", "event_date"}, In: cell.Day},
	correctionKind:   {Name: "correction", Words: column.Theirs{}},
	correctionRecord: pointFields[pointID],
	correctionStand:  {Name: "stand_id"},
	correctionOther:  {Name: "other_stand_id"},
	correctionReason: {Name: "reason", Also: []string{"occurrenceRemarks", "dwc:occurrenceRemarks", "remarks"}},
}

// recognisedCorrections are names of columns in lists of errata [C].
var recognisedCorrections = []column.Recognised{
	column.Elsewhere("date", column.Dates, "correctiondate", "correctedon", "dateofcorrection", "reviewdate", "reviewed", "decided", "day"),
	column.Elsewhere("correction", column.FewWords, "kind", "type", "action", "what", "correctiontype", "verdict", "change"),
	column.Elsewhere("occurrenceID", column.Anything, "record", "recordid", "point", "pointid", "observation", "observationid", "find", "findid"),
	column.Elsewhere("stand_id", column.Anything, "stand", "standno", "patch", "patchid", "site", "siteid"),
	column.Elsewhere("other_stand_id", column.Anything, "otherstand", "other", "sameas", "notsameas", "secondstand", "stand2", "standb", "of"),
	column.Elsewhere("reason", column.Anything, "why", "comment", "comments", "note", "notes", "remark", "explanation"),
}

// correctionReader turns features into corrections.
type correctionReader struct {
	featureReader
	found []correction.Correction
	kinds map[string]string
}

// needColumns refuses a table that cannot contain a correction.
func (r *correctionReader) needColumns() error {
	const remedy = "name the columns date, correction, occurrenceID or stand_id, and other_stand_id, or map them under [columns.corrections]"
	among := " among: " + format.Shorten(strings.Join(r.Schema.Names, ", "))
	switch {
	case !r.columns.Has(correctionKind):
		return r.stop("header", "there is no column that says what is corrected"+among, remedy)
	case !r.columns.Has(correctionRecord) && !r.columns.Has(correctionStand):
		return r.stop("header", "there is no column for the record and none for the stand"+among, remedy)
	}
	return nil
}

// take turns one feature into a row.
func (r *correctionReader) take(f *format.Feature) error {
	if f.Wrong != "" {
		r.rejectFeature(f, nil)
		return nil
	}
	c := correction.Correction{
		File: r.Name, Row: f.Row, Kind: correction.Kind(r.word(f, correctionKind, r.kinds, correction.ParseKind)), RecordID: r.text(f, correctionRecord),
		StandID: r.text(f, correctionStand), OtherID: r.text(f, correctionOther), Reason: r.text(f, correctionReason),
	}
	_, c.Date = r.days(f, correctionDate) // the check of the batch reports a missing day
	r.file.Read++
	r.found = append(grown(&r.featureReader, r.found), c)
	return nil
}
