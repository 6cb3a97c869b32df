package earlier

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geo"
	"github.com/paulmach/orb/geojson"

	"driftreach/internal/disk"
	"driftreach/internal/mapfile"
)

// TestCentersOf: the middles of stands, whatever the order of the columns; a table of an
// early format does not tell them.
func TestCentersOf(t *testing.T) {
	for _, c := range []struct {
		table  string
		want   []orb.Point
		reason string
	}{
		{"stand_id,decimalLongitude,decimalLatitude\na,-38.16,-30.67\nb,179.9,0\n", []orb.Point{{-38.16, -30.67}, {179.9, 0}}, ""},
		{"stand_id,decimalLatitude,assumed,decimalLongitude\na,-30.67,\"x; y, z\",-38.16\n", []orb.Point{{-38.16, -30.67}}, ""},
		{"stand_id,decimalLongitude,decimalLatitude\n", nil, ""},
		{"stand_id,decimalLongitude,decimalLatitude\na,-38.16,north\n", nil, "decimalLatitude of stand a"},
		{"stand_id,decimalLatitude\na,-30.67\n", nil, ""},
		{"stand_id,decimalLongitude,decimalLatitude\na,-38.16\n", nil, "wrong number of fields"},
		{"", nil, "EOF"},
	} {
		both := strings.Contains(c.table, "decimalLongitude") && strings.Contains(c.table, "decimalLatitude")
		got, told, err := centersOf(strings.NewReader(c.table))
		said := ""
		if err != nil {
			said = err.Error()
		}
		if !slices.Equal(got, c.want) || !strings.Contains(said, c.reason) || (said == "") != (c.reason == "") || told != both {
			t.Errorf("%q: %v, %t, %q; want %v, %q", c.table, got, told, said, c.want, c.reason)
		}
	}
}

// TestCentersAreToldByEitherFile: the table is asked first, then the layer, as a batch of an early
// format needs; its middles lie within 100 m of where its own points are.
func TestCentersAreToldByEitherFile(t *testing.T) {
	begin := func(from Folder) *opened {
		e, err := open(context.Background(), disk.System(), from, next)
		if err != nil {
			t.Fatal(err)
		}
		return e
	}
	e := begin(written(t, map[string]string{mapfile.StandsTable: "stand_id,decimalLongitude,decimalLatitude\r\na,10,20\r\n", mapfile.StandsFile: "no layer"}, nil))
	if got, err := e.centers(1); err != nil || !slices.Equal(got, []orb.Point{{10, 20}}) {
		t.Errorf("%v, %v", got, err)
	}
	early := begin(Folder{Name: "early", Path: "../../cmd/driftreach/testdata/earlier/2026Q1"})
	got, err := early.centers(1)
	if err != nil {
		t.Fatal(err)
	}
	points, err := early.text(mapfile.PointsFile)
	if err != nil {
		t.Fatal(err)
	}
	found, err := geojson.UnmarshalFeatureCollection(points)
	if err != nil {
		t.Fatal(err)
	}
	for _, center := range got {
		if !slices.ContainsFunc(found.Features, func(f *geojson.Feature) bool { return geo.Distance(f.Point(), center) < 100 }) {
			t.Errorf("no point near the stand at %v", center)
		}
	}
	if len(got) == 0 {
		t.Error("no stand")
	}
}
