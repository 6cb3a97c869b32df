package settings

import (
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/intake"
)

// The columns that the settings may map are those that reading understands: a
// file with all of them has each understood as itself.
func TestColumnsOfTheSettingsAreThoseOfReading(t *testing.T) {
	readers := map[string]func(format.Source, intake.Options) (intake.File, error){
		"points": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadPoints(s, o)
			return f.File, err
		},
		"streams": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadStreams(s, o)
			return f.File, err
		},
		"works": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadWorks(s, o)
			return f.File, err
		},
		"units": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadUnits(s, o)
			return f.File, err
		},
		"surveyed": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadSurveyed(s, o)
			return f.File, err
		},
		"treatments": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadTreatments(s, o)
			return f.File, err
		},
		"barriers": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadBarriers(s, o)
			return f.File, err
		},
		"water": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadWater(s, o)
			return f.File, err
		},
		"corrections": func(s format.Source, o intake.Options) (intake.File, error) {
			f, _, err := intake.ReadCorrections(s, o)
			return f.File, err
		},
	}
	if len(readers) != len(columnTables()) {
		t.Errorf("%d readers for %d tables", len(readers), len(columnTables()))
	}
	for _, table := range columnTables() {
		geometry := `{"type":"LineString","coordinates":[[0,1],[0,2]]}`
		if table.name == "units" || table.name == "water" {
			geometry = `{"type":"Polygon","coordinates":[[[0,1],[1,1],[1,2],[0,1]]]}`
		}
		if table.name == "points" || table.name == "treatments" || table.name == "barriers" {
			geometry = `{"type":"Point","coordinates":[0,1]}`
		}
		text := `{"type":"Feature","properties":{"` + strings.Join(table.fields, `":"1","`) + `":"1"},"geometry":` + geometry + `}`
		file, err := readers[table.name](format.FromReader("f.geojson", strings.NewReader(text)), intake.DefaultOptions())
		if err != nil {
			t.Fatal(table.name, err)
		}
		if diff := cmp.Diff(slices.Sorted(slices.Values(table.fields)), fields(file.Columns)); diff != "" {
			t.Errorf("%s (-settings +reading):\n%s", table.name, diff)
		}
	}
}

// Every table of columns and of units is written as it is read.
func TestColumnTablesAreWritten(t *testing.T) {
	s := Default()
	for _, table := range columnTables() {
		(*s.Columns.of(table.name))[table.fields[0]] = intake.Names{"theirs of " + table.name, "also"}
	}
	s.Files["crew-*.csv"] = FileSettings{
		SkipLines: 2, Columns: map[string]intake.Names{"parcel": {"Lot"}}, Units: map[string]string{"patch_area_m2": "ac"},
		Values: map[string]map[string]string{"occurrenceStatus": {"hin": "notDetected"}},
	}
	s.Units.Points["patch_area_m2"], s.Units.Treatments["treated_acres"] = "ft2", "ha"
	var b strings.Builder
	if err := Write(&b, s); err != nil {
		t.Fatal(err)
	}
	again, err := Read(strings.NewReader(b.String()), "settings.toml", Default())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(s, again); diff != "" {
		t.Errorf("(-written +read):\n%s", diff)
	}
}

func fields(understood []intake.ColumnReport) []string {
	var names []string
	for _, u := range understood {
		names = append(names, u.Field)
	}
	slices.Sort(names)
	return names
}
