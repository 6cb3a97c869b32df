package mapfile

import (
	"bytes"
	"io"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"driftreach/internal/result"
)

// layer is one GeoJSON output with the expected properties of its features.
type layer struct {
	name  string
	write func(io.Writer, *result.Run) error
	rows  func(*result.Run) int
	types []string // of the geometries; blank for none
	table func(*result.Run) result.Table
}

var layers = []layer{
	{"stands", writeStands, func(r *result.Run) int { return len(r.Stands) }, []string{"MultiPolygon", "Polygon"}, result.StandTable},
	{"points", writePoints, func(r *result.Run) int { return len(r.Records.Listed) }, []string{"Point"}, result.PointTable},
	{"aquatic_zone", writeZone, func(r *result.Run) int { return len(r.Zones) }, []string{"MultiPolygon", "Polygon"}, result.ZoneTable},
	{"reaches", writeReaches, func(r *result.Run) int { return len(r.Reaches) }, []string{"LineString", "MultiLineString"}, result.ReachTable},
	{"network", writeNetwork, func(r *result.Run) int { return result.NetworkTable(r).Rows }, []string{"LineString", "MultiLineString"}, result.NetworkTable},
	{"notices", writeNotices, func(r *result.Run) int { return len(r.Notices) }, []string{"Point", "MultiPoint", "LineString", "MultiLineString", "Polygon", "MultiPolygon"}, result.NoticeTable},
	{"findings", writeFindings, func(r *result.Run) int { return len(r.Findings) }, []string{"Point", ""}, result.FindingTable},
}

// parsed returns a layer of the run as read by the parser of orb v0.14.0, which shares no code with
// our writers.
func parsed(t *testing.T, l layer, run *result.Run) *geojson.FeatureCollection {
	t.Helper()
	data, err := written(func(b *bytes.Buffer) error { return l.write(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	c, err := geojson.UnmarshalFeatureCollection(data)
	if err != nil {
		t.Fatalf("%s: %v", l.name, err)
	}
	return c
}

// TestOrbReadsEveryLayer: as many features as in the run, each with the geometry type of its layer
// and the dictionary's properties as written: all properties in the first feature, in the others
// those that are not blank.
func TestOrbReadsEveryLayer(t *testing.T) {
	run := fixture()
	for _, l := range layers {
		c := parsed(t, l, run)
		if len(c.Features) != l.rows(run) || len(c.Features) == 0 {
			t.Errorf("%s: %d features of %d", l.name, len(c.Features), l.rows(run))
		}
		if len(c.BBox) != 4 {
			t.Errorf("%s: box %v", l.name, c.BBox)
		}
		table := result.Layer(l.table(run))
		for i, f := range c.Features {
			if !slices.Contains(l.types, typeOf(f.Geometry)) {
				t.Errorf("%s %d: %s", l.name, i, typeOf(f.Geometry))
			}
			told := 0
			for k, v := range table.Row(run, i, nil) {
				name := table.Fields[k].Name
				if _, there := f.Properties[name]; i > 0 && (v.Kind == result.Null || v.Kind == result.List && len(v.List) == 0) {
					if there {
						t.Errorf("%s %d: %s is written, and holds nothing", l.name, i, name)
					}
					continue
				}
				told++
				sameValue(t, l.name, i, name, f.Properties, v)
			}
			if len(f.Properties) != told {
				t.Errorf("%s %d: %d properties of %d", l.name, i, len(f.Properties), told)
			}
		}
	}
}

// sameValue compares one property with the value it was written from.
func sameValue(t *testing.T, layer string, i int, name string, got geojson.Properties, want result.Value) {
	t.Helper()
	p, there := got[name]
	ok := there
	switch want.Kind {
	case result.Null:
		ok = ok && p == nil
	case result.Number, result.Count:
		ok = ok && p == want.Float()
	case result.Flag:
		ok = ok && p == (want.Int != 0)
	case result.Text, result.Date:
		ok = ok && p == string([]rune(want.Text))
	case result.List:
		items, isList := p.([]any)
		ok = ok && isList && len(items) == len(want.List)
	}
	if !ok {
		t.Errorf("%s %d: %s is %v, written from %v", layer, i, name, p, want)
	}
}

func typeOf(g orb.Geometry) string {
	if g == nil {
		return ""
	}
	return g.GeoJSONType()
}

// TestOrbReadsPlaces: orb reads the fixture's places as written here by hand: a point, both ends of
// a reach, ids as text and as numbers, and the line and stand across 180 degrees, with parts on
// either side.
func TestOrbReadsPlaces(t *testing.T) {
	run := fixture()
	read := map[string]*geojson.FeatureCollection{}
	for _, l := range layers {
		read[l.name] = parsed(t, l, run)
	}
	south := read["points"].Features[0]
	if south.Geometry != (orb.Point{-20.5, -34.25}) || south.ID != "south 0 plain" {
		t.Errorf("first point is %v, %v", south.ID, south.Geometry)
	}
	reach := read["reaches"].Features[0]
	line, ok := reach.Geometry.(orb.LineString)
	if !ok || line[0] != (orb.Point{-20.501, -34.25}) || line[len(line)-1] != (orb.Point{-20.499, -34.25}) || reach.ID != 1.0 {
		t.Errorf("first reach is %v, %v", reach.ID, reach.Geometry)
	}
	if reach.Properties.MustString("velocity_from") == "" || reach.Properties.MustFloat64("hours_afloat_fast") != 1.5 {
		t.Errorf("first reach's travel: %v", reach.Properties)
	}
	if stand := read["stands"].Features[0]; stand.ID != "2026Q3-0000" || stand.Properties.MustInt("treat_order") != 1 {
		t.Errorf("first stand is %v", stand.ID)
	}
	acrossLine(t, read["network"].Features)
	for _, f := range read["stands"].Features[4:6] {
		parts, ok := f.Geometry.(orb.MultiPolygon)
		if !ok || !onBothSides(parts.Bound()) {
			t.Errorf("%v crosses 180 degrees but is %v", f.ID, f.Geometry.GeoJSONType())
		}
	}
}

// acrossLine checks that the stream across the antimeridian is among the edges, cut there.
func acrossLine(t *testing.T, edges []*geojson.Feature) {
	t.Helper()
	for _, f := range edges {
		if f.Properties.MustString("stream_id") != "L-2" {
			continue
		}
		if parts, ok := f.Geometry.(orb.MultiLineString); !ok || len(parts) != 2 || !onBothSides(parts.Bound()) {
			t.Errorf("the stream across 180 degrees is %v", f.Geometry)
		}
		return
	}
	t.Error("the stream across 180 degrees is not in the network")
}

func onBothSides(b orb.Bound) bool { return b.Min[0] < -179 && b.Max[0] > 179 }
