package result

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/internal/field"
)

// FindingTable returns the table of findings, in the run's order.
func FindingTable(run *Run) Table {
	return Table{
		Name: "findings", Title: "One row for each finding about the input",
		Fields: append(findingWhere(), findingWhat()...), Rows: len(run.Findings),
	}
}

func findingWhere() []Field {
	return []Field{
		{"severity", "Severity", NoUnit, Text, "error (the record was rejected), warning (something was assumed or repaired) or note.", "",
			func(r *Run, i int) Value { return text(r.Findings[i].Rule.Severity.String()) }},
		{"code", "Code", NoUnit, Text, "Name of the rule.", "",
			func(r *Run, i int) Value { return text(r.Findings[i].Rule.Code) }},
		{field.File, "File", NoUnit, Text, "File, as named on the command line.", "",
			func(r *Run, i int) Value { return text(r.Findings[i].File) }},
		{field.Record, "Record", NoUnit, Text, "Identity of the record. One without an id is named by its row: row 12 is the twelfth record below the header, blank rows not counted; a spreadsheet shows that row as 13.", "",
			func(r *Run, i int) Value { return text(r.Findings[i].Record) }},
		{"field", "Field", NoUnit, Text, "Field the finding is about; blank when it is about the whole record.", "",
			func(r *Run, i int) Value { return text(r.Findings[i].Field) }},
		{field.Value, "Value", NoUnit, Text, "What was found there, as read.", "",
			func(r *Run, i int) Value { return text(r.Findings[i].Value) }},
	}
}

func findingWhat() []Field {
	return []Field{
		{"message", "Message", NoUnit, Text, "What is wrong and what was done about it.", "",
			func(r *Run, i int) Value { return text(r.Findings[i].Message) }},
		{"remedy", "Remedy", NoUnit, Text, "What you can do in the input.", "",
			func(r *Run, i int) Value { return text(r.Findings[i].Rule.Remedy) }},
		{field.DecimalLongitude, "Longitude", Degrees, Number, "Longitude of the place; blank when there is none.", "Darwin Core [P]",
			func(r *Run, i int) Value { return coordinate(r.Findings[i].Position, 0) }},
		{field.DecimalLatitude, "Latitude", Degrees, Number, "Latitude of the place; blank when there is none.", "Darwin Core [P]",
			func(r *Run, i int) Value { return coordinate(r.Findings[i].Position, 1) }},
	}
}

func coordinate(p *orb.Point, axis int) Value {
	if !OnEarth(p) {
		return Value{}
	}
	return number(p[axis], Degrees)
}

// OnEarth says whether p is a longitude within 180 degrees and a latitude within 90.
func OnEarth(p *orb.Point) bool {
	return p != nil && math.Abs(p[0]) <= 180 && math.Abs(p[1]) <= 90
}
