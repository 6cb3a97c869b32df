package intake

import (
	"fmt"
	"strconv"
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/treatment"
)

// Treatments is a file of control work done, read but not yet checked as a batch.
type Treatments struct {
	File
	Actions []treatment.Treatment
}

// RoleTreatments is the name of the input of control work done.
const RoleTreatments = "treatments"

func treatmentsRole() Role {
	return Role{
		Name: RoleTreatments, Is: "control work done", Many: true, System: "the control work", Passing: "treatment_id",
		Help:  "`FILE` of control work done, repeatable, by stand or position: the next visits are planned from it",
		Rules: treatment.Rules, fields: treatmentFields, shapes: pointsOrAreas,
		records: kind[Treatments, treatment.Treatment]{
			open: ReadTreatments,
			of:   func(f *Treatments) (File, []treatment.Treatment) { return f.File, f.Actions },
			check: func(all []treatment.Treatment, a Against) ([]treatment.Treatment, []check.Finding) {
				return treatment.Check(all, treatment.Options{End: a.End()})
			},
			file:   func(w *treatment.Treatment) string { return w.File },
			counts: func(w *treatment.Treatment, a Against) bool { return !w.After(a.End()) },
			value:  treatmentValue,
		},
	}
}

// treatmentValue returns the value of a field of control work, as it was understood.
func treatmentValue(a *treatment.Treatment, field string) string {
	switch field {
	case "date":
		return dayText(a.Date)
	case "stand_id":
		return a.StandID
	case "method":
		return a.Method
	case "formulation_class":
		return a.FormulationClass
	case "treated_acres":
		return numberText(a.TreatedAcres)
	case "decimalLongitude", "decimalLatitude":
		if a.Placed {
			return positionText(a.Position, field)
		}
		return ""
	}
	return applicationValue(&a.Application, field)
}

// ReadTreatments returns the control work of a file of any format, in WGS 84 degrees and in the order
// of the file, and the findings. The position comes from the geometry or the columns; a row that names
// a stand needs none. An area is the treated ground, and the position is a place inside it. The error
// is an *UnusableError when the file cannot be used. Cost is linear.
func ReadTreatments(s format.Source, o Options) (Treatments, []check.Finding, error) {
	r := &treatmentReader{featureReader: newReader(treatmentFields, treatmentID, recognisedTreatments, o)}
	r.amountUnit = o.Mapping.AmountUnit("amount")
	r.methods, r.classes = o.Mapping.Words("method"), o.Mapping.Words("formulation_class")
	if err := r.readFile(s, r.take); err != nil {
		return Treatments{}, nil, err
	}
	if r.blank > 0 {
		r.ReportFile(treatment.RuleBlankForm(), "date", "", fmt.Sprintf("%s a stand or a place and nothing of any work: not filled in, and passed over", rowsName(r.blank)))
	}
	noColumns := !r.columns.Has(treatmentStand) && (!r.columns.Has(treatmentLon) || !r.columns.Has(treatmentLat))
	switch {
	case r.Tabular() && noColumns && r.GeometryColumn < 0:
		if o.Trial { // this one reason rejected every row
			r.Log, r.found = &check.Log{Limit: r.Limits.FindingsAlike}, nil
		}
		err := r.stop("header", "there is no column for the stand and none for the position among: "+format.Shorten(strings.Join(r.Schema.Names, ", ")),
			"name the columns stand_id, or decimalLongitude and decimalLatitude, or map them under [columns.treatments]")
		if err != nil {
			return Treatments{}, nil, err
		}
	case r.features > 0 && r.wrongKind == r.features:
		return Treatments{}, nil, r.Unusable("", "no feature is a point or an area", "name a file of control work done")
	}
	return Treatments{File: r.file, Actions: r.found}, r.Log.Findings(), nil
}

// take turns one feature into a piece of work.
func (r *treatmentReader) take(f *format.Feature) error {
	if r.rejectFeature(f, pointsOrAreas) {
		return nil
	}
	if r.unfilled(f) {
		r.blank++
		return nil
	}
	a := treatment.Treatment{
		File: r.Name, Row: f.Row, StandID: r.store.keep(wholeText(r.columns.Cell(f, treatmentStand))),
		TreatedAcres: r.number(f, treatmentAcres), Application: r.application(f),
	}
	_, a.Date = r.days(f, treatmentDate) // the check of the batch reports a missing day
	if !r.where(f, &a) {
		return nil
	}
	a.Method = r.word(f, treatmentMethod, r.methods, treatment.ParseMethod)
	a.FormulationClass = r.word(f, treatmentClass, r.classes, treatment.ParseFormulationClass)
	r.file.Read++
	r.found = append(grown(&r.featureReader, r.found), a)
	return nil
}

// unfilled says whether a row is a form that a crew did not fill in: the file has a column for the day
// of the work, and the row has only the stand and perhaps its position. A drawn area counts as filled
// in.
func (r *treatmentReader) unfilled(f *format.Feature) bool {
	if !r.columns.Has(treatmentDate) || areas.has(f.Shape.Kind) || cell.IsBlank(r.columns.Cell(f, treatmentStand)) {
		return false
	}
	for field := range treatmentFields {
		switch field {
		case treatmentID, treatmentStand, treatmentLon, treatmentLat:
			continue
		}
		if !cell.IsBlank(r.columns.Cell(f, field)) {
			return false
		}
	}
	return true
}

// rowsName returns the beginning of the sentence "n rows name ...".
func rowsName(n int) string {
	if n == 1 {
		return "1 row names"
	}
	return strconv.Itoa(n) + " rows name"
}

// where sets the position of the work; false means rejected.
func (r *treatmentReader) where(f *format.Feature, a *treatment.Treatment) bool {
	switch {
	case f.Shape.Kind == format.NoShape && len(r.columns.Cell(f, treatmentLon)) == 0 && len(r.columns.Cell(f, treatmentLat)) == 0:
		return true // the check of the batch reports it if it names no stand either
	case f.Shape.Kind == format.NoShape:
		at, failed := r.positionOf(f, [2]int{treatmentLon, treatmentLat})
		switch {
		case failed == nil:
			a.Placed, a.Position = true, at
		case a.StandID == "":
			r.reject(f, failed.rule, failed.field, failed.value, failed.message)
			return false
		default:
			r.report(f, treatment.RulePositionLeftOut(), failed.field, failed.value, failed.message+"; the position was left out")
		}
		return true
	case len(f.Shape.Points) > 1 && !areas.has(f.Shape.Kind):
		r.reject(f, ruleMalformed, "geometry", f.Shape.Name, "the work has several positions")
		return false
	}
	p, ok := r.placesOf(f, &r.slab)
	if !ok {
		return false
	}
	a.Placed = true
	if a.Position = f.Shape.Points[0]; len(p.areas) > 0 {
		a.Position, a.Ground = placeInside(p.areas), p.areas
	}
	return true
}
