package main

import (
	"time"

	"driftreach/internal/batch"
	"driftreach/internal/correction"
	"driftreach/internal/intake"
	"driftreach/internal/work"
)

func workRows(file intake.File, observed batch.Observed) []columnRow {
	return fieldRows(file, observed.Works, func(w *work.Work) string { return w.File }, workValue)
}

// workValue is one work's value of a field, as understood.
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
	switch field {
	case "decimalLongitude":
		return trimDegrees(w.Points[0][0])
	case "decimalLatitude":
		return trimDegrees(w.Points[0][1])
	}
	return ""
}

func correctionRows(file intake.File, observed batch.Observed) []columnRow {
	return fieldRows(file, observed.Corrections, func(c *correction.Correction) string { return c.File }, correctionValue)
}

// correctionValue is one correction's value of a field, as understood.
func correctionValue(c *correction.Correction, field string) string {
	switch field {
	case "date":
		return dayText(c.Date)
	case "correction":
		return string(c.Kind)
	}
	return map[string]string{"occurrenceID": c.RecordID, "stand_id": c.StandID, "other_stand_id": c.OtherID, "reason": c.Reason}[field]
}

func dayText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}
