package intake

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/testkit"
	"driftreach/internal/unit"
)

// atlas holds the records of the roles that are drawn, and survey points.
type atlas struct {
	lines    []stream.Centerline
	surfaces []stream.Surface
	ground   []surveyed.Ground
	units    []unit.Unit
	points   []survey.Record
}

func (a *atlas) Slots() []any { return []any{&a.lines, &a.surfaces, &a.ground, &a.units, &a.points} }

// of reads one GeoJSON text as a role.
func (a *atlas) of(t *testing.T, role, text string, against Against) (Role, Taken) {
	t.Helper()
	r, _ := RoleOf(role)
	taken, err := r.Read(Given{Sources: []format.Source{testkit.Source("f.geojson", strings.NewReader(text))}, Options: func(format.Source) (Options, error) { return DefaultOptions(), nil }, Against: against})
	if err != nil {
		t.Fatalf("%s: %v", role, err)
	}
	taken.Put(a)
	return r, taken
}

const (
	drawnLine = `{"type":"LineString","coordinates":[[10,20],[10.01,20]]}`
	drawnArea = `{"type":"Polygon","coordinates":[[[10,20],[10.01,20],[10.01,20.01],[10,20]]]}`
)

func drawnFeature(geometry, properties string) string {
	return fmt.Sprintf(`{"type":"Feature","properties":{%s},"geometry":%s}`, properties, geometry)
}

// TestValuesOfDrawnRoles: what check shows of each field of a line or an area, as it was understood; 0
// is not recorded where a figure cannot be 0, and what a role has not is blank.
func TestValuesOfDrawnRoles(t *testing.T) {
	for _, c := range []struct {
		role, text string
		want       map[string]string
	}{
		{RoleStreams, drawnFeature(drawnLine, `"stream_id":"a","waterBody":"Low Creek","from_node":"1","to_node":2.0,"feature_type":"canal","flow_permanence":"Perennial","barrier":"weir","stream_order":3,"divergence":2,"bankfull_width_m":"40 ft","length_km":1.05,"hydroseq":7,"flow_share":0.4,"mean_velocity_mps":0.5,"drainage_km2":12,"discharge_m3s":3,"mean_discharge_m3s":2,"slope":0.01,"barrier_pass":0.25,"catchment_km2":4`),
			map[string]string{"stream_id": "a", "waterBody": "Low Creek", "from_node": "1", "to_node": "2.0", "feature_type": "canal", "flow_permanence": "perennial", "barrier": "weir", "stream_order": "3", "divergence": "2", "bankfull_width_m": "12.192", "length_km": "1.05",
				"hydroseq": "7", "flow_share": "0.4", "mean_velocity_mps": "0.5", "drainage_km2": "12", "discharge_m3s": "3", "mean_discharge_m3s": "2", "slope": "0.01", "barrier_pass": "0.25", "catchment_km2": "4", "none": ""}},
		{RoleStreams, drawnFeature(drawnLine, ""), map[string]string{"waterBody": "", "stream_order": "", "divergence": "", "bankfull_width_m": "", "length_km": "", "hydroseq": "", "slope": "", "barrier": "", "flow_permanence": ""}},
		{RoleWater, drawnFeature(drawnArea, `"water_id":"w","waterBody":"High Lake","kind":"lake"`), map[string]string{"water_id": "w", "waterBody": "High Lake", "kind": "lake", "none": ""}},
		{RoleUnits, drawnFeature(drawnArea, `"unit_id":"7","unit_name":"North"`), map[string]string{"unit_id": "7", "unit_name": "North", "none": ""}},
		{RoleSurveyed, drawnFeature(drawnArea, `"start_date":"2026-07-02","end_date":"2026-07-04"`), map[string]string{"start_date": "2026-07-02", "eventDate": "2026-07-02", "end_date": "2026-07-04", "none": ""}},
	} {
		var held atlas
		r, taken := held.of(t, c.role, c.text, Against{})
		if !slices.Equal(taken.Accepted, []int{1}) {
			t.Errorf("%s: %d accepted, %v", c.role, taken.Accepted, taken.Findings)
		}
		for field, want := range c.want {
			var got []string
			r.Values(&held, "f.geojson", field, func(value string) { got = append(got, value) })
			if want == "2.0" {
				want = "2" // the node of a table of floats
			}
			if !slices.Equal(got, []string{want}) {
				t.Errorf("%s, %s: %q, want %q", c.role, field, got, want)
			}
		}
	}
}

// TestGroundOfTheQuarter: ground is read and counted, and left out where it was surveyed after the
// quarter or before the first day that counts.
func TestGroundOfTheQuarter(t *testing.T) {
	quarter, err := survey.ParseQuarter("2026Q3")
	if err != nil {
		t.Fatal(err)
	}
	var texts []string
	for _, day := range []string{"2026-06-30", "2026-07-01", "2026-09-30", "2026-10-01"} {
		texts = append(texts, drawnFeature(drawnArea, `"start_date":"`+day+`"`))
	}
	first := survey.DayOf(quarter.Begin())
	var held atlas
	_, taken := held.of(t, RoleSurveyed, strings.Join(texts, "\n"), Against{Quarter: quarter, First: first})
	var days []string
	for i := range held.ground {
		days = append(days, held.ground[i].Begin.Format("2006-01-02"))
	}
	if strings.Join(days, " ") != "2026-07-01 2026-09-30" || taken.Files[0].Read != 4 {
		t.Errorf("%q of %d", days, taken.Files[0].Read)
	}
}

// TestPointsAsARole: the files of survey points are read as one batch, with the columns of all.
func TestPointsAsARole(t *testing.T) {
	quarter, err := survey.ParseQuarter("2026Q3")
	if err != nil {
		t.Fatal(err)
	}
	table := func(name, column string) format.Source {
		return testkit.Source(name, strings.NewReader("occurrenceID,eventDate,decimalLongitude,decimalLatitude,"+column+"\n"+name+",2026-07-01,-117.2"+fmt.Sprint(len(name))+"001,34.10001,x\n"))
	}
	r, _ := RoleOf(RolePoints)
	var held atlas
	taken, err := r.Read(Given{Sources: []format.Source{table("a", "colour"), table("bb", "access")}, Options: func(format.Source) (Options, error) { return testOptions(), nil }, Against: Against{Quarter: quarter}})
	if err != nil {
		t.Fatal(err)
	}
	taken.Put(&held)
	if len(held.points) != 2 || !slices.Equal(taken.Points.Extra, []string{"access", "colour"}) || len(taken.Files) != 2 || taken.Files[0].Read != 1 || !slices.Equal(held.points[0].Told().Extra, []string{"", "x"}) {
		t.Errorf("%d records, columns %q, %+v", len(held.points), taken.Points.Extra, taken.Files)
	}
	r.Values(&held, "a", "occurrenceID", func(string) { t.Error("the dictionary writes the values of points") })
}
