package result

import (
	"github.com/paulmach/orb"

	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// PointTable returns the table of survey records, one row for each record in the run's order. Carried
// columns come last, as text, with their own names.
func PointTable(run *Run) Table {
	fields := append(pointPlace(), pointRecord()...)
	return Table{
		Name: "points", Title: "One row an accepted survey record",
		Fields: append(fields, carried(fields, run.ExtraColumns)...), Rows: run.Records.Len(),
	}
}

func pointPlace() []Field {
	return []Field{
		{field.OccurrenceID, "Record", NoUnit, Text, "Identity of the record, unique in the batch.", "Darwin Core [P]",
			func(r *Run, i int) Value { return text(r.Records.At(i).ID) }},
		{field.StandID, "Stand", NoUnit, Text, "Stand the record belongs to; blank for records that did not detect the plant.", "",
			func(r *Run, i int) Value { return text(r.standID(r.StandOf[i])) }},
		{field.Carried, "Carried", NoUnit, Flag, "True when the record is of an earlier quarter and nobody saw its ground since. Where a part of its patch was seen, the patch outline has only the rest.", "",
			func(r *Run, i int) Value { _, is := r.recordCarried(i); return flag(is) }},
		{field.CarriedFrom, "Carried from", NoUnit, Text, "Quarter of a carried record; blank for those of this quarter.", "",
			func(r *Run, i int) Value { from, _ := r.recordCarried(i); return quarterText(from) }},
		{field.AquaticZone, "In the aquatic zone", NoUnit, Flag, "True when the record's patch touches the aquatic zone.", "",
			func(r *Run, i int) Value { return flag(r.InZone[i]) }},
		{"zone_uncertain", "Zone uncertain", NoUnit, Flag, "True when the position is uncertain by more than the setback. Then it is also uncertain whether the record is in the zone.", "Darwin Core coordinateUncertaintyInMeters [P]",
			func(r *Run, i int) Value { return flag(r.uncertain(int32(i))) }},
		{field.EventDate, "Date", NoUnit, Date, "Day seen, or an ISO 8601 interval of days; blank when the quarter was assumed.", "Darwin Core [P]",
			func(r *Run, i int) Value { return days(r.Records.At(i).Begin.Time(), r.Records.At(i).End.Time()) }},
		{field.CoordinateUncertaintyInMeters, "Position uncertainty", Meters, Number, "Radius around the position that holds the true one; blank when unknown; in a public edition with half the diagonal of its squares added.", "Darwin Core [P]",
			func(r *Run, i int) Value { return r.uncertainty(r.Records.At(i)) }},
		{field.OccurrenceStatus, "Found", NoUnit, Text, "detected or notDetected.", "Darwin Core [P]",
			func(r *Run, i int) Value { return text(occurrence(r.Records.At(i))) }},
	}
}

func pointRecord() []Field {
	return []Field{
		{field.ManagementStatus, "Status", NoUnit, Text, "untreated, treated, resprout or standing_dead; blank where the plant was not detected.", "",
			func(r *Run, i int) Value { return pointStatus(r.Records.At(i)) }},
		{field.PatchAreaM2, "Patch area", SquareMeters, Number, "Measured patch; blank when the default was used.", "",
			func(r *Run, i int) Value { return recorded(float64(r.Records.At(i).PatchArea), SquareMeters) }},
		{field.PatchOutline, "Patch outline", NoUnit, Text, "The patch where it was drawn as an area: well-known text in degrees.", "OGC Simple Features, 06-103r4 [P]",
			func(r *Run, i int) Value { return outlineText(r.Records.At(i).Outline) }},
		{field.CanopyCoverPercent, "Canopy cover", Percent, Number, "Recorded canopy cover; blank when it was not recorded.", "",
			func(r *Run, i int) Value { return number(r.Records.At(i).Cover, Percent) }},
		{field.StemHeightM, "Stem height", Meters, Number, "Recorded stem height.", "",
			func(r *Run, i int) Value { return number(r.Records.At(i).StemHeight, Meters) }},
		{field.RecordedBy, "Recorded by", NoUnit, Text, "Who made the record.", "Darwin Core [P]",
			func(r *Run, i int) Value { return text(r.Records.At(i).RecordedBy()) }},
		{field.Parcel, "Parcel", NoUnit, Text, "Parcel the record lies in, as recorded.", "",
			func(r *Run, i int) Value { return text(r.Records.At(i).Parcel()) }},
		{field.OccurrenceRemarks, "Remarks", NoUnit, Text, "Remarks of the surveyor.", "Darwin Core [P]",
			func(r *Run, i int) Value { return text(r.Records.At(i).Remarks()) }},
	}
}

// outlineText returns polygons in degrees as well-known text, with the number of decimals used for
// degrees; Null for none.
func outlineText(areas orb.MultiPolygon) Value {
	if len(areas) == 0 {
		return Value{}
	}
	b := []byte("MULTIPOLYGON")
	for i, polygon := range areas {
		b = append(b, separator(i)...)
		for j, ring := range polygon {
			b = append(b, separator(j)...)
			for k, p := range ring {
				b = append(b, separator(k)...)
				b = append(number(p[0], Degrees).Append(b), ' ')
				b = number(p[1], Degrees).Append(b)
			}
			b = append(b, ')')
		}
		b = append(b, ')')
	}
	return text(string(append(b, ')')))
}

// separator returns the text before item i of a list in well-known text: an opening bracket or a comma.
func separator(i int) string {
	if i == 0 {
		return "("
	}
	return ","
}

func occurrence(r *survey.Record) string {
	if r.Detected {
		return "detected"
	}
	return "notDetected"
}

func pointStatus(r *survey.Record) Value {
	if !r.Detected {
		return Value{}
	}
	return text(r.Status.String())
}

// carried returns a field for each extra column. If a name is blank or in use, "carried_" is put before
// it, repeatedly if needed.
func carried(ours []Field, columns []string) []Field {
	taken := make(map[string]bool, len(ours)+len(columns))
	for _, f := range ours {
		taken[f.Name] = true
	}
	fields := make([]Field, 0, len(columns))
	for k, name := range columns {
		for name == "" || taken[name] {
			name = "carried_" + name
		}
		taken[name] = true
		fields = append(fields, Field{name, name, NoUnit, Text, "Carried through untouched from the input.", "",
			func(r *Run, i int) Value { return carriedText(r.Records.At(i), k) }})
	}
	return fields
}

// carriedText returns a record's text in a carried column.
func carriedText(r *survey.Record, k int) Value {
	if value, told := r.Carried(k); told {
		return text(value)
	}
	return Value{}
}
