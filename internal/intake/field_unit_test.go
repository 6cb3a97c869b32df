package intake

import (
	"math"
	"strings"
	"testing"

	"driftreach/internal/testkit"
)

// TestUnitFactor: exact sizes by hand from NIST Special Publication 811.
func TestUnitFactor(t *testing.T) {
	for _, c := range []struct {
		field, unit string
		want        float64
	}{
		{"patch_area_m2", "ft2", 0.09290304}, {"patch_area_m2", "AC", 4046.8564224}, {"Patch_Area_M2", "hectares", 10_000}, {"patch_area_m2", " sq ft ", 0.09290304}, {"patch_area_m2", "m2", 1},
		{"patch_diameter_m", "inches", 0.0254}, {"stem_height_m", "ft", 0.3048}, {"bankfull_width_m", "ft_us", 1200.0 / 3937}, {"length_km", "mi", 1.609344}, {"length_km", "m", 0.001},
		{"drainage_km2", "sqmi", 2.589988110336}, {"catchment_km2", "ac", 0.0040468564224}, {"discharge_m3s", "cfs", 0.028316846592}, {"mean_velocity_mps", "fps", 0.3048},
		{"canopy_cover_percent", "share", 100}, {"canopy_cover_percent", "%", 1}, {"slope", "%", 0.01}, {"barrier_pass", "percent", 0.01},
	} {
		got, err := UnitFactor(c.field, c.unit)
		if err != nil || math.Abs(got-c.want) > 1e-15*c.want {
			t.Errorf("%s in %s: %v, %v, want %v", c.field, c.unit, got, err, c.want)
		}
	}
	for _, c := range [][2]string{{"patch_area_m2", "ft"}, {"patch_area_m2", "furlongs"}, {"parcel", "m"}, {"nothing", "m"}, {"stem_height_m", ""}} {
		if f, err := UnitFactor(c[0], c[1]); err == nil {
			t.Errorf("%s in %q: %v", c[0], c[1], f)
		}
	}
}

// TestUnitsInFiles reads measures in other units; by hand.
func TestUnitsInFiles(t *testing.T) {
	o := testOptions()
	o.Mapping.Units = map[string]string{"patch_area_m2": "ac", "stem_height_m": "ft", "canopy_cover_percent": "share", "coordinateuncertaintyinmeters": "ft"}
	records, findings, _ := readPoints(t, "occurrenceID,eventDate,lon,lat,patch_area_m2,stem_height_m,canopy_cover_percent,coordinateUncertaintyInMeters\na,2026-07-01,1,2,0.5,10,0.4,10\nb,2026-07-01,1,3,-1,,,\n", o)
	if len(records) != 2 || codes(findings) != "b patch-not-positive" {
		t.Fatalf("%v, %s", records, codes(findings))
	}
	r := records[0]
	if math.Abs(float64(r.PatchArea)-2023.4282112) > 1e-9 || math.Abs(float64(r.StemHeight-3.048)) > 1e-12 || math.Abs(r.Cover-40) > 1e-12 || math.Abs(float64(r.Uncertainty)-3.048) > 1e-12 {
		t.Errorf("%+v", r)
	}
	o.Mapping.Units = map[string]string{"bankfull_width_m": "ft", "length_km": "mi"}
	lines, _, _ := readStreams(t, `{"type":"Feature","properties":{"stream_id":"s","bankfull_width_m":100,"length_km":2},"geometry":{"type":"LineString","coordinates":[[1,2],[1.02,2.02]]}}`, o)
	if l := lines[0]; math.Abs(float64(l.BankfullWidth)-30.48) > 1e-12 || math.Abs(float64(l.Length)-3218.688) > 1e-9 {
		t.Errorf("%+v", l)
	}
	o.Mapping.Units = map[string]string{"length_km": "ac"}
	if _, _, err := ReadStreams(testkit.Source("s", strings.NewReader(linesGeoJSON)), o); err == nil {
		t.Error("a length in acres is read")
	}
}
