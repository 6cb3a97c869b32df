package settings

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/column"
	"driftreach/internal/format"
)

// TestMappingOfAFile: the tables for a file's name override those for its input; a field mapped for
// the file has the file's unit and no other. By hand.
func TestMappingOfAFile(t *testing.T) {
	text := `
[columns.points]
eventDate = ["Date", "SURV_DATE"]
patch_area_m2 = "Area"
[units.points]
patch_area_m2 = "ft2"
[values.occurrenceStatus]
hit = "detected"
[files."*.csv"]
skip_lines = 1
[files."crew-*.csv".columns]
Patch_Area_M2 = "Size"
[files."crew-b.csv"]
skip_lines = 3
units.patch_area_m2 = "ac"
values.occurrenceStatus = { HIT = "notDetected", miss = "notDetected" }
`
	s, err := Read(strings.NewReader(text), "s.toml", Default())
	if err != nil {
		t.Fatal(err)
	}
	dates := column.Names{"Date", "SURV_DATE"}
	for _, c := range []struct {
		file string
		want column.Mapping
		skip int
	}{
		{"x.gpkg", column.Mapping{
			Columns: map[string]column.Names{"eventDate": dates, "patch_area_m2": {"Area"}}, Units: map[string]string{"patch_area_m2": "ft2"},
			Values: map[string]map[string]string{"occurrenceStatus": {"hit": "detected"}},
		}, 0},
		{"in/crew-a.csv", column.Mapping{
			Columns: map[string]column.Names{"eventDate": dates, "patch_area_m2": {"Size"}}, Units: map[string]string{},
			Values: map[string]map[string]string{"occurrenceStatus": {"hit": "detected"}},
		}, 1},
		{"crew-b.csv", column.Mapping{
			Columns: map[string]column.Names{"eventDate": dates, "patch_area_m2": {"Size"}}, Units: map[string]string{"patch_area_m2": "ac"},
			Values: map[string]map[string]string{"occurrenceStatus": {"HIT": "notDetected", "miss": "notDetected"}},
		}, 3},
	} {
		got, skip := s.Mapping("points", format.Source{Name: c.file})
		if diff := cmp.Diff(c.want, got); diff != "" || skip != c.skip {
			t.Errorf("%s: skips %d, want %d; mapping (-want +got):\n%s", c.file, skip, c.skip, diff)
		}
	}
	for wrong, remedy := range map[string]string{
		"[files.\"in/a.csv\"]\nskip_lines = 1": "without its folder", "[files.\"[\"]\nskip_lines = 1": "without its folder", "[files.\"a\"]\nskip_lines = 101": "0 to 100",
		"[files.\"a\".columns]\nparcels = \"x\"": "did you mean", "[files.\"a\".units]\nparcel = \"x\"": "ft2", "[files.\"a\".values.colour]\nx = \"y\"": "our name",
	} {
		if _, err := Read(strings.NewReader(wrong), "s.toml", Default()); err == nil || !strings.Contains(err.(*Error).Remedy, remedy) {
			t.Errorf("%s: %v, want the remedy %q", wrong, err, remedy)
		}
	}
	if s, err := Default().Set(`files."a.csv".skip_lines=2`); err != nil || s.Files["a.csv"].SkipLines != 2 {
		t.Errorf("%v, %v", s.Files, err)
	}
	if s, err := Default().Set(`files."a.csv".columns.parcel=Lot No`); err != nil || s.Files["a.csv"].Columns["parcel"][0] != "Lot No" {
		t.Errorf("%v, %v", s.Files, err)
	}
}
