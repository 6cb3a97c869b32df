package mapfile

import (
	"encoding/binary"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
	"driftreach/internal/work"
)

// namesOnly is a Folder that keeps the names of the files and writes none.
type namesOnly []string

func (f *namesOnly) Write(name string, _ int, _ func(io.Writer) error) error {
	*f = append(*f, name)
	return nil
}

// filesOf returns the names of the files that a batch with these extras has.
func filesOf(t *testing.T, with Extras) []string {
	t.Helper()
	var names namesOnly
	for _, d := range Deliverables(with) {
		if err := d.Write(&names, fixture(), 1); err != nil || d.Role == "" {
			t.Fatalf("%s: %v", d.Role, err)
		}
	}
	return names
}

// TestFilesByExtra: each extra brings the files that its comment names, in their place, and no others.
func TestFilesByExtra(t *testing.T) {
	base := filesOf(t, Extras{})
	const always = "map.kmz stands.geojson points.geojson aquatic_zone.geojson reaches.geojson stands.csv reaches.csv summary.csv order.csv order.svg followup.csv followup.ics absent.geojson " +
		"looked_at.geojson ever_mapped.csv history.csv findings.csv findings.geojson fields.csv"
	if got := strings.Join(base, " "); got != always {
		t.Errorf("always %s", got)
	}
	for want, with := range map[string]Extras{
		"map.kml":         {KML: true},
		"network.geojson": {Network: true},
		"driftreach.gpkg": {GeoPackage: true},
		"map_light.kmz":   {Light: true},
		"tables.xlsx":     {Workbook: true},
		"":                {MapPage: true},
		"stand_links.csv": {Links: true},
		"stand_units.csv": {Units: true},
		"lineage.csv stand_changes.csv taken_back.csv":                        {Lineage: true},
		"work_done.csv products_used.csv":                                     {Work: true},
		"stand_parts.geojson":                                                 {Parts: true},
		"crew.gpx crew.gpkg":                                                  {Crew: true},
		"plan.csv plan_quarters.csv plan_held.csv plan_curve.csv plan.svg":    {Plan: true},
		"water_work.csv":                                                      {WaterWork: true},
		"survey_next.csv survey_next.geojson":                                 {SurveyNext: true},
		"notices.csv notices.geojson":                                         {Notices: true},
		"stand_units.csv work_done.csv products_used.csv stand_parts.geojson": {Units: true, Work: true, Parts: true},
	} {
		got := slices.DeleteFunc(filesOf(t, with), func(name string) bool { return slices.Contains(base, name) })
		if strings.Join(got, " ") != want {
			t.Errorf("%+v brings %q, want %q", with, got, want)
		}
	}
	public := filesOf(t, Extras{Public: true, Crew: true})
	if want := slices.DeleteFunc(slices.Clone(base), func(name string) bool { return name == "followup.ics" }); !slices.Equal(public, want) {
		t.Errorf("a public edition: %q", public)
	}
	packed := strings.NewReplacer("points.geojson", "points.zip", "aquatic_zone.geojson", "aquatic_zone.zip", "reaches.geojson", "reaches.zip", "looked_at.geojson", "looked_at.zip").Replace(always)
	if got := strings.Join(filesOf(t, Extras{Packed: true}), " "); got != packed {
		t.Errorf("packed: %s", got)
	}
}

// TestSheetsByInput: the workbook has a sheet for each table that the batch has, those on which
// decisions are based first and the dictionary last.
func TestSheetsByInput(t *testing.T) {
	const first, last = "cautions stands order followup summary reaches ", "findings fields"
	for want, run := range map[string]*result.Run{
		first + last:                            {},
		first + "plan plan_quarters " + last:    {Plan: &plan.Plan{}},
		first + "stand_units " + last:           {Units: make([]unit.Unit, 1)},
		first + "lineage " + last:               {Previous: &result.Previous{}},
		first + "work_done " + last:             {Treatments: []result.Treatment{{Treatment: treatment.Treatment{}}}},
		first + "notices " + last:               {WorksGiven: true},
		first + "stand_units work_done " + last: {Units: make([]unit.Unit, 2), WorkGiven: true},
		first + "stand_units lineage " + last:   {Units: make([]unit.Unit, 1), Previous: &result.Previous{}},
	} {
		run.Quarter = survey.Quarter{Year: 2026, Number: 3}
		var names []string
		for _, table := range workbookTables(run) {
			names = append(names, table.Name)
		}
		if got := strings.Join(names, " "); got != want {
			t.Errorf("sheets %s, want %s", got, want)
		}
	}
}

// TestPlacesOfWorks: what the place of a planned work is in the GeoPackage: areas if it has any, else
// lines, else points. The numbers of the types are those of OGC 06-103r4, table 7, after a header of 8
// bytes and an envelope of 32 (OGC 12-128r18, section 2.1.3).
func TestPlacesOfWorks(t *testing.T) {
	area := orb.MultiPolygon{{{{10, 50}, {10.1, 50}, {10.1, 50.1}, {10, 50.1}, {10, 50}}}}
	line := orb.LineString{{10, 50}, {10.1, 50.1}}
	for name, c := range map[string]struct {
		work        work.Work
		kind, parts uint32
	}{
		"an area":            {work.Work{Areas: area}, 6, 1},
		"two areas":          {work.Work{Areas: orb.MultiPolygon{area[0], {{{20, 50}, {20.1, 50}, {20.1, 50.1}, {20, 50}}}}}, 6, 2},
		"an area and a line": {work.Work{Areas: area, Lines: orb.MultiLineString{line}}, 6, 1},
		"a line":             {work.Work{Lines: orb.MultiLineString{line}}, 5, 1},
		"two lines":          {work.Work{Lines: orb.MultiLineString{line, {{20, 50}, {20, 51}}}}, 5, 2},
		"a line and a point": {work.Work{Lines: orb.MultiLineString{line}, Points: orb.MultiPoint{{10, 50}}}, 5, 1},
		"a point":            {work.Work{Points: orb.MultiPoint{{10, 50}}}, 4, 1},
		"two points":         {work.Work{Points: orb.MultiPoint{{10, 50}, {11, 50}}}, 4, 2},
		"nothing":            {work.Work{}, 0, 0},
	} {
		p := database{}
		blob, _ := p.work(&c.work).([]byte)
		if c.kind == 0 {
			if blob != nil {
				t.Errorf("%s: % x", name, blob)
			}
			continue
		}
		if len(blob) < 49 {
			t.Errorf("%s: % x", name, blob)
			continue
		}
		if kind, parts := binary.LittleEndian.Uint32(blob[41:]), binary.LittleEndian.Uint32(blob[45:]); kind != c.kind || parts != c.parts {
			t.Errorf("%s: type %d of %d parts, want %d of %d", name, kind, parts, c.kind, c.parts)
		}
	}
}
