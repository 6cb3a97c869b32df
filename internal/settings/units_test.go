package settings

import (
	"strings"
	"testing"

	"driftreach/internal/format"
)

// TestUnitSettings reads, checks and prints the tables of units.
func TestUnitSettings(t *testing.T) {
	text := "[units.points]\nPatch_Area_M2 = \"ft2\"\n[units.streams]\nbankfull_width_m = \"ft\"\n"
	s, err := Read(strings.NewReader(text), "s.toml", Default())
	if err != nil || s.Units["points"]["patch_area_m2"] != "ft2" || s.Units["streams"]["bankfull_width_m"] != "ft" {
		t.Fatalf("%v, %v", s.Units, err)
	}
	var b strings.Builder
	if err := Write(&b, s); err != nil {
		t.Fatal(err)
	}
	again, err := Read(strings.NewReader(b.String()), "again", Default())
	if err != nil || again.Units["points"]["patch_area_m2"] != "ft2" {
		t.Errorf("printed and read again: %v, %v", again.Units, err)
	}
	for assignment, want := range map[string]string{
		"units.points.patch_area_m2=furlong": "furlong", "units.points.patch_area_m2=ft": "ft2", "units.points.parcel=m": "no unit", "units.points.patch=m": "unknown setting",
	} {
		if _, err := Default().Set(assignment); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", assignment, err, want)
		}
	}
	if s, err := Default().Set("units.points.stem_height_m=ft"); err != nil || s.Units["points"]["stem_height_m"] != "ft" {
		t.Errorf("%v, %v", s.Units, err)
	}
}

// TestLimitSettings: the default limits are those of the readers, and each is printed.
func TestLimitSettings(t *testing.T) {
	if got := Default().Limits.Limits(); got != format.DefaultLimits() {
		t.Errorf("limits %+v", got)
	}
	s, err := Default().Set("limits.expansion=5")
	if err != nil || s.Limits.Limits().Expansion != 5 {
		t.Errorf("%+v, %v", s.Limits, err)
	}
	if _, err := Default().Set("limits.records=0"); err == nil {
		t.Error("no records at all are allowed")
	}
}
