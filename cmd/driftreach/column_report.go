package main

import (
	"fmt"
	"io"
	"slices"
	"text/tabwriter"
	"unicode/utf8"

	"driftreach/internal/column"
	"driftreach/internal/intake"
	"driftreach/internal/observed"
	"driftreach/internal/result"
)

// writeColumnReport prints, for each file, its totals and how its columns were understood: our name,
// how many accepted records have a value, and the values as they were understood. If there are few
// different values, all are shown with their counts; otherwise the first.
func writeColumnReport(w io.Writer, observed observed.Quarter) {
	for i, file := range observed.ColumnReports {
		total := observed.Files[i]
		aside := ""
		if total.SetAside > 0 {
			aside = ", " + count(total.SetAside) + " set aside"
		}
		fmt.Fprintf(w, "%s: %s of %s, %s, %s; %s read, %s accepted, %s rejected%s\n\n", oneLine(total.Name), file.Format, total.Role,
			file.Encoding, oneLine(file.System), count(total.Read), count(total.Accepted), count(total.Rejected), aside)
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		fmt.Fprint(t, "  column\tread as\tfilled\texample\n")
		role, found := intake.RoleOf(total.Role)
		if !found {
			continue
		}
		if file.Geometry != "" {
			fmt.Fprintf(t, "  %s\t(geometry)\t%s\t\n", shown(file.Geometry), count(total.Accepted))
		}
		for _, row := range columnRows(role, file, observed) {
			if row.field == role.Passing {
				fmt.Fprintf(t, "  %s\t%s\t\t(for findings alone)\n", shown(row.column), row.field)
				continue
			}
			fmt.Fprintf(t, "  %s\t%s\t%s\t%s\n", shown(row.column), row.field, count(row.filled), row.sample(file))
		}
		t.Flush()
		fmt.Fprintln(w)
		writeWordCounts(w, file.Words)
	}
	writeProposed(w, observed)
}

// columnRows shows how each column of a file was understood in the rows from that file.
func columnRows(role intake.Role, file intake.File, observed observed.Quarter) []columnRow {
	if role.Name == intake.RolePoints {
		return pointRows(file, observed) // in the form in which the dictionary writes them
	}
	var rows []columnRow
	for _, u := range file.Columns {
		row := columnRow{column: u.Column, field: u.Field}
		role.Values(&observed, file.Name, u.Field, row.see)
		rows = append(rows, row)
	}
	return rows
}

// columnRow says how one column was understood.
type columnRow struct {
	column, field string
	filled        int
	example       string
	values        valueCounts
}

// see counts the value of one record.
func (r *columnRow) see(value string) {
	if value == "" {
		return
	}
	if r.filled == 0 {
		r.example = value
	}
	r.filled++
	r.values.add(value)
}

// sample returns the values that the row shows, with their counts if that fits. Columns of words have a
// table of their own.
func (r *columnRow) sample(file intake.File) string {
	all := r.values.String()
	ofWords := slices.ContainsFunc(file.Words, func(c column.WordCount) bool { return c.Field == r.field })
	if all == "" || ofWords || utf8.RuneCountInString(all) > maxCell {
		return shown(r.example)
	}
	return all
}

// readInto names the field into which some columns are converted. They share its row.
var readInto = map[string]string{
	"patch_length_m": "patch_area_m2", "patch_width_m": "patch_area_m2", "patch_diameter_m": "patch_area_m2",
	"canopy_cover_class": "canopy_cover_percent",
}

// plainTexts are the fields of points whose values need no formatting.
var plainTexts = map[string]bool{"recordedBy": true, "parcel": true, "occurrenceRemarks": true}

func pointRows(file intake.File, observed observed.Quarter) []columnRow {
	run := &result.Run{Records: observed.Records, ExtraColumns: observed.ExtraColumns}
	table := result.PointTable(run)
	var rows []columnRow
	for _, u := range file.Columns {
		name := u.Field
		if into, ok := readInto[name]; ok {
			name = into
		}
		if at := slices.IndexFunc(rows, func(r columnRow) bool { return r.field == name }); at >= 0 {
			rows[at].column += ", " + u.Column
			continue
		}
		rows = append(rows, columnRow{column: u.Column, field: name})
	}
	for k := range rows {
		at := slices.IndexFunc(table.Fields, func(f result.Field) bool { return f.Name == rows[k].field })
		for i := range observed.Records.Len() {
			r, row := observed.Records.At(i), &rows[k]
			switch {
			case r.File != file.Name || !hasPointValue(run, table, at, row.field, i):
			case row.filled > 0 && !plainTexts[row.field]: // the other fields are only counted
				row.filled++
				row.values.many = true
			default:
				row.see(pointValue(run, table, at, row.field, i, r.Position))
			}
		}
	}
	for k := range rows {
		rows[k].recorded(file)
	}
	return append(rows, carriedRows(file, observed)...)
}

// recorded counts the words of a column as written in the file. A word for blank does not count as a
// value, nor does a field that an absence leaves out.
func (r *columnRow) recorded(file intake.File) {
	if r.field != "occurrenceStatus" && r.field != "management_status" {
		return
	}
	r.filled = 0
	for _, c := range file.Words {
		if c.Field == r.field {
			r.filled += c.Count
		}
	}
	if r.filled == 0 {
		r.example = ""
	}
}

// hasPointValue says whether pointValue would not be blank.
func hasPointValue(run *result.Run, table result.Table, at int, name string, i int) bool {
	switch {
	case name == "decimalLongitude" || name == "decimalLatitude":
		return true
	case name == "eventDate":
		return !run.Records.At(i).Begin.IsZero()
	}
	return at >= 0 && table.Fields[at].Value(run, i).Kind != result.Null
}

// pointValue returns one record's value of a field, as it was understood.
func pointValue(run *result.Run, table result.Table, at int, name string, i int, position [2]float64) string {
	switch {
	case name == "decimalLongitude":
		return intake.DegreesText(position[0])
	case name == "decimalLatitude":
		return intake.DegreesText(position[1])
	case at < 0:
		return ""
	}
	return table.Fields[at].Value(run, i).String()
}

// carriedRows are the carried columns in which the file has values.
func carriedRows(file intake.File, observed observed.Quarter) []columnRow {
	var rows []columnRow
	for at, name := range observed.ExtraColumns {
		if slices.ContainsFunc(file.Columns, func(u column.Report) bool { return u.Column == name }) {
			continue // it was also read as a field
		}
		row := columnRow{column: name, field: "(carried)"}
		for i := range observed.Records.Len() {
			r := observed.Records.At(i)
			if text, told := r.Carried(at); r.File == file.Name && told {
				row.see(text)
			}
		}
		if row.filled > 0 {
			rows = append(rows, row)
		}
	}
	return rows
}
