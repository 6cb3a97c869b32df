package mapfile

import (
	"io"
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/followup"
	"driftreach/internal/intake"
	"driftreach/internal/result"
)

// phoneFile is the file that is loaded onto telephones and returned with the crew's entries.
const phoneFile = "crew.gpkg"

// writeCrewPackage writes crew.gpkg. It has the stops, a form for the work at each stop that needs
// treatment, with only the stand filled in, and an empty layer for finds and absences. The columns of
// these two are those of --treatments and --points. They are typed, and constraints of the schema
// extension give the allowed words and ranges. The returned file can therefore be read by layer name,
// without a mapping.
func writeCrewPackage(w io.Writer, run *result.Run) error {
	layers, forms := crewLayers(run)
	return writePack(w, run, layers, forms)
}

// crewRows is the number of rows that writeCrewPackage writes.
func crewRows(run *result.Run) int {
	layers, _ := crewLayers(run)
	rows := 0
	for _, l := range layers {
		rows += l.table.Rows
	}
	return rows
}

func crewLayers(run *result.Run) ([]packLayer, map[string][]intake.Blank) {
	stops := result.Stops(run)
	work := slices.DeleteFunc(slices.Clone(result.Listed(stops)), func(s result.Stop) bool {
		state := run.Visits[s.Visit].State
		return state != followup.ToTreat && state != followup.TreatAgain
	})
	place := func(of []result.Stop) func(p *database, i int) any {
		return func(p *database, i int) any { return p.point(of[i].At) }
	}
	forms := map[string][]intake.Blank{}
	form := func(role, title string, rows int, told result.Table, filled map[string]func(i int) string) result.Table {
		of, _ := intake.RoleOf(role)
		forms[role] = of.Form()
		return formTable(role, title, rows, forms[role], told, filled)
	}
	return []packLayer{
		{result.StopTable(run), "POINT", place(stops)},
		{form(intake.RoleTreatments, "Control work, to be filled in", len(work), result.TreatmentTable(run), map[string]func(int) string{
			"treatment_id": func(i int) string { return work[i].Name },
			field.StandID:  func(i int) string { return run.Visits[work[i].Visit].StandID },
		}), "POINT", place(work)},
		{form(intake.RolePoints, "Finds and looks in vain, to be added", 0, result.PointTable(run), nil), "POINT", nil},
		{cautionTable(run), "", nil},
	}, forms
}

// formTable is a table to be filled in. Its columns are those of the form, with titles and definitions
// from the dictionary.
func formTable(name, title string, rows int, form []intake.Blank, told result.Table, filled map[string]func(i int) string) result.Table {
	t := result.Table{Name: name, Title: title, Rows: rows}
	for _, b := range form {
		f := result.Field{Name: b.Name, Label: b.Name, Kind: result.Text, Definition: formDefinitions[b.Name]}
		if i := slices.IndexFunc(told.Fields, func(f result.Field) bool { return f.Name == b.Name }); i >= 0 {
			f = told.Fields[i]
		}
		switch {
		case b.Day:
			f.Kind = result.Date
		case b.Number:
			f.Kind = result.Number
		}
		value := filled[b.Name]
		f.Value = func(_ *result.Run, i int) result.Value {
			if value == nil {
				return result.Value{}
			}
			return result.Value{Kind: result.Text, Text: value(i)}
		}
		t.Fields = append(t.Fields, f)
	}
	return t
}

// formDefinitions define the columns that the dictionary does not have, because a batch writes them
// with another name or not at all.
var formDefinitions = map[string]string{
	"treatment_id":       "What findings call the row.",
	"patch_length_m":     "Length of the patch, with its width, where its area was not measured.",
	"patch_width_m":      "Width of the patch.",
	"patch_diameter_m":   "Diameter of a round patch, where its area was not measured.",
	"canopy_cover_class": "Class of canopy cover, in the words of the cover table that is set.",
}
