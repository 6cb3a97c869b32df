package settings

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/intake"
	"driftreach/internal/testkit"
)

// The settings can map exactly the columns that the readers understand: in a file with all of them,
// of the geometry its role needs, each is understood.
func TestColumnsOfTheSettingsAreThoseOfReading(t *testing.T) {
	for _, role := range intake.Roles() {
		understood := 0
		for _, geometry := range []string{
			`{"type":"LineString","coordinates":[[0,1],[0,2]]}`, `{"type":"Polygon","coordinates":[[[0,1],[1,1],[1,2],[0,1]]]}`, `{"type":"Point","coordinates":[0,1]}`,
		} {
			text := `{"type":"Feature","properties":{"` + strings.Join(role.Fields(), `":"1","`) + `":"1"},"geometry":` + geometry + `}`
			taken, err := role.Read(intake.Given{
				Sources: []format.Source{testkit.Source("f.geojson", strings.NewReader(text))},
				Options: func(format.Source) (intake.Options, error) { return intake.DefaultOptions(), nil },
			})
			var wrong *format.UnusableError
			if errors.As(err, &wrong) { // not the geometry that the role needs
				continue
			}
			if err != nil {
				t.Fatal(role.Name, err)
			}
			understood++
			if diff := cmp.Diff(slices.Sorted(slices.Values(role.Fields())), fields(taken.Files[0].Columns)); diff != "" {
				t.Errorf("%s (-settings +reading):\n%s", role.Name, diff)
			}
		}
		if understood == 0 {
			t.Errorf("%s: no geometry is read", role.Name)
		}
	}
}

// Tables and keys of roles are recognised in upper and lower case; unknown ones are reported by
// line.
func TestTablesOfRoles(t *testing.T) {
	s, err := Read(strings.NewReader("[Columns.POINTS]\nparcel = \"Lot\"\n[inputs]\nStreams = \"s.gpkg\"\nSTREAMS_crs = \"EPSG:26911\"\n"), "settings.toml", Default())
	if err != nil || s.Columns["points"]["parcel"][0] != "Lot" || s.Inputs.One("streams") != "s.gpkg" || s.Inputs.One(SystemKey("streams")) != "EPSG:26911" || len(s.Inputs) != 2 {
		t.Errorf("%v %v %v", s.Columns["points"], s.Inputs, err)
	}
	for text, want := range map[string]string{
		"[columns.points]\nparcel = \"Lot\"\n[columns.point]\nparcel = \"Lot\"\n": "settings.toml line 3: unknown setting columns.point",
		"[units]\nwater.x = \"m\"\nwaters.x = \"m\"\n":                            "settings.toml line 3: unknown setting units.waters.x",
		"[inputs]\n\ncorrections_crs = \"EPSG:26911\"\n":                          "settings.toml line 3: unknown setting inputs.corrections_crs",
		"[inputs]\nstreams = [\"a\", \"b\"]\n":                                    "settings.toml: inputs.streams names 2 files, and one is taken",
		"[inputs]\npoints = [\"a\", \"\"]\n":                                      `settings.toml: inputs.points cannot be ""`,
	} {
		if _, err := Read(strings.NewReader(text), "settings.toml", Default()); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	if _, err := Default().Set("columns.foo.x=y"); err == nil || !strings.HasPrefix(err.Error(), `--set "columns.foo.x=y": unknown setting columns.foo.x`) {
		t.Error(err)
	}
}

// Every table of columns and units is written as it was read.
func TestColumnTablesAreWritten(t *testing.T) {
	s := Default()
	s.Inputs = InputSettings{}
	for _, role := range intake.Roles() {
		s.Columns[role.Name][role.Fields()[0]] = column.Names{"theirs of " + role.Name, "also"}
		s.Inputs[role.Name] = column.Names{role.Name + ".csv"}
	}
	s.Inputs[SystemKey("points")], s.Inputs[OutKey] = column.Names{"EPSG:26911"}, column.Names{"out"}
	s.Files["crew-*.csv"] = FileSettings{
		SkipLines: 2, Columns: map[string]column.Names{"parcel": {"Lot"}}, Units: map[string]string{"patch_area_m2": "ac"},
		Values: map[string]map[string]string{"occurrenceStatus": {"hin": "notDetected"}},
	}
	s.Units["points"]["patch_area_m2"], s.Units["treatments"]["treated_acres"] = "ft2", "ha"
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

func fields(understood []column.Report) []string {
	var names []string
	for _, u := range understood {
		names = append(names, u.Field)
	}
	slices.Sort(names)
	return names
}
