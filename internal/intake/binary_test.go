package intake

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/format/wellknown"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// shapeSource is a Shapefile in memory.
func shapeSource(shp, dbf []byte) format.Source {
	s := testkit.Source("a.shp", bytes.NewReader(shp))
	s.Beside = func(ending string) (io.ReadCloser, error) {
		if ending == ".dbf" && dbf != nil {
			return io.NopCloser(bytes.NewReader(dbf)), nil
		}
		return nil, fs.ErrNotExist
	}
	return s
}

const gpxText = `<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="34.5" lon="-10.5"><time>2026-07-01T10:00:00Z</time><name>a</name><extensions><patch_area_m2>12.5</patch_area_m2></extensions></wpt>` +
	`<wpt lat="35" lon="-10.5"><name>b &amp; c</name></wpt><trk><name>t</name><trkseg><trkpt lat="1" lon="2"/><trkpt lat="3" lon="4"/></trkseg></trk></gpx>`

const kmlText = `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Folder><name>finds</name>` +
	`<Placemark id="p1"><name>one</name><TimeStamp><when>2026-07-01</when></TimeStamp><ExtendedData><Data name="occurrenceID"><value>a</value></Data><SchemaData><SimpleData name="patch_area_m2">12.5</SimpleData></SchemaData></ExtendedData><Point><coordinates> -10.5,34.5,7 </coordinates></Point></Placemark></Folder>` +
	`<Folder><name>patches</name><Placemark><MultiGeometry><Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 1,0 1,1 0,0</coordinates></LinearRing></outerBoundaryIs></Polygon><Polygon><outerBoundaryIs><LinearRing><coordinates>2,0 3,0 3,1 2,0</coordinates></LinearRing></outerBoundaryIs></Polygon></MultiGeometry></Placemark></Folder></Document></kml>`

// readSource reads a source as points and as lines and checks what must be true of any source: no
// panic, and either an UnusableError or totals that add up.
func readSource(t testing.TB, source func() format.Source) {
	t.Helper()
	o := testOptions()
	o.Limits.MemberBytes, o.Limits.Vertices, o.Limits.Records = 1<<24, 100_000, 100_000
	var unusable *format.UnusableError
	p, findings, err := ReadPoints(source(), o)
	switch {
	case err != nil && !errors.As(err, &unusable):
		t.Fatalf("points: error %v is no UnusableError", err)
	case err == nil && (p.Read != len(p.Records)+p.Rejected || p.Rejected != check.Count(findings, check.Error)):
		t.Fatalf("read %d, accepted %d, rejected %d, told %s", p.Read, len(p.Records), p.Rejected, codes(findings))
	}
	s, findings, err := ReadStreams(source(), o)
	switch {
	case err != nil && !errors.As(err, &unusable):
		t.Fatalf("streams: error %v is no UnusableError", err)
	case err == nil && (s.Read != len(s.Centerlines)+s.Rejected || s.Rejected != check.Count(findings, check.Error)):
		t.Fatalf("read %d, accepted %d, rejected %d, told %s", s.Read, len(s.Centerlines), s.Rejected, codes(findings))
	}
}

// TestRecordsOfDamagedFiles: the layer in every format is cut off or has changed bytes. Points and
// lines are read or refused, and records read equal records accepted plus rejected.
func TestRecordsOfDamagedFiles(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 3))
	for _, f := range layers.Forms(t) {
		t.Run(f.File, func(t *testing.T) {
			source := func(b []byte) func() format.Source {
				return func() format.Source {
					s := from(b)()
					s.Beside = func(ending string) (io.ReadCloser, error) {
						if beside, ok := f.Beside[ending]; ok {
							return io.NopCloser(bytes.NewReader(beside)), nil
						}
						return nil, fs.ErrNotExist
					}
					return s
				}
			}
			for range 20 {
				readSource(t, source(f.Bytes[:r.IntN(len(f.Bytes))]))
				changed := bytes.Clone(f.Bytes)
				for range 1 + r.IntN(4) {
					changed[r.IntN(len(changed))] = byte(r.IntN(256))
				}
				readSource(t, source(changed))
			}
		})
	}
}

func from(b []byte) func() format.Source {
	return func() format.Source { return testkit.Source("f", bytes.NewReader(b)) }
}

// TestManyRecords reads more records than the readers sample before they estimate the number, from
// files of known size.
func TestManyRecords(t *testing.T) {
	points := make([]orb.Point, 3000)
	for i := range points {
		points[i] = orb.Point{float64(i) / 100, 40}
	}
	shp, dbf := layers.Shapefile(points)
	kml := "<kml>" + strings.Repeat("<Placemark><Point><coordinates>1,2</coordinates></Point></Placemark>", 3000) + "</kml>"
	gpx := "<gpx>" + strings.Repeat("<wpt lat='1' lon='2'/>", 3000) + "</gpx>"
	gpkg := layers.GeoPackage(t, "WITH RECURSIVE n(i) AS (SELECT 3 UNION ALL SELECT i+1 FROM n WHERE i < 3000) INSERT INTO finds SELECT i, x'4750000100000000010100000000000000000025c00000000000804140', 'r' || i, '2026-07-02', i FROM n")
	for name, s := range map[string]format.Source{
		"Shapefile": shapeSource(shp, dbf), "KML": from([]byte(kml))(), "GPX": from([]byte(gpx))(), "GeoPackage": from(gpkg)(),
		"KMZ": from(layers.Zip(t, "doc.kml", []byte(kml)))(), "zip": from(layers.Zip(t, "a.gpkg", gpkg))(),
	} {
		s.Size = 100_000
		if p, _, err := ReadPoints(s, testOptions()); err != nil || len(p.Records) != 3000 {
			t.Errorf("%s: %d records, %v", name, len(p.Records), err)
		}
	}
}

// TestTable: a table that does not match its shapes is never read beyond its end.
func TestTable(t *testing.T) {
	shp, dbf := layers.Shapefile([]orb.Point{{1, 2}, {3, 4}, {5, 6}})
	p, _, err := ReadPoints(shapeSource(shp, dbf), testOptions())
	if err != nil || len(p.Records) != 3 || p.Extra[0] != "id" || p.Records[2].Told().Extra[0] != "2" {
		t.Fatalf("%v, %v of %v", err, p.Records, p.Extra)
	}
	_, short := layers.Shapefile([]orb.Point{{1, 2}, {3, 4}})
	_, long := layers.Shapefile(make([]orb.Point, 4))
	for name, b := range map[string][]byte{"short": short, "long": long, "cut": dbf[:len(dbf)-3], "header": dbf[:20], "fields": dbf[:40], "text": []byte(strings.Repeat("x", 100))} {
		var unusable *format.UnusableError
		if _, _, err := ReadPoints(shapeSource(shp, b), testOptions()); !errors.As(err, &unusable) {
			t.Errorf("%s: %v", name, err)
		}
	}
	deleted := bytes.Clone(dbf)
	deleted[65+9] = '*'
	if p, _, err := ReadPoints(shapeSource(shp, deleted), testOptions()); err != nil || len(p.Records) != 2 || p.Records[1].Position != (orb.Point{5, 6}) {
		t.Errorf("with a deleted record: %v, %v", p.Records, err)
	}
	var unusable *format.UnusableError
	if _, _, err := ReadPoints(testkit.Source("a.dbf", bytes.NewReader(dbf)), testOptions()); !errors.As(err, &unusable) || !strings.Contains(unusable.Found, "name the .shp") {
		t.Errorf("the table alone: %v", err)
	}
}

// viewOf replaces a table by a view with endless rows.
func viewOf(table, columns string) []string {
	return []string{"DROP TABLE " + table, "CREATE VIEW " + table + " AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM n) SELECT " + columns + " FROM n"}
}

// TestGeoPackageTrouble: database content that is not a usable layer.
func TestGeoPackageTrouble(t *testing.T) {
	for _, c := range []struct {
		name, layer, found string
		change             []string
	}{
		{"several layers", "", "several layers: finds, more", []string{"CREATE TABLE more (geom BLOB)", "INSERT INTO gpkg_contents VALUES ('more', 'features', 'more', 4326)", "INSERT INTO gpkg_geometry_columns VALUES ('more', 'geom', 'POINT', 4326, 0, 0)"}},
		{"unknown layer", "other", `no layer "other"; it has finds`, nil},
		{"a view", "", "no layer of features", []string{"ALTER TABLE finds RENAME TO hidden", "CREATE VIEW finds AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM n) SELECT i, x'00' AS geom FROM n", "UPDATE gpkg_contents SET table_name = 'finds'", "UPDATE gpkg_geometry_columns SET table_name = 'finds'"}},
		{"a geometry that is computed", "", "no stored column", []string{"DROP TABLE finds", "CREATE TABLE finds (fid INTEGER PRIMARY KEY, geom AS (zeroblob(900000000)))", "INSERT INTO finds (fid) VALUES (1)"}},
		{"the list of layers a view", "", "it is a view", viewOf("gpkg_contents", "'finds' AS table_name, 'features' AS data_type")},
		{"the list of geometries a view", "", "it is a view", viewOf("gpkg_geometry_columns", "'finds' AS table_name, 'geom' AS column_name, 4326 AS srs_id")},
		{"the list of systems a view", "", "it is a view", viewOf("gpkg_spatial_ref_sys", "i AS srs_id, 'EPSG' AS organization, 4326 AS organization_coordsys_id, '' AS definition")},
		{"the list of layers computed", "", "no layer of features", []string{"DROP TABLE gpkg_contents", "CREATE TABLE gpkg_contents (a, table_name AS (hex(zeroblob(400000000))), data_type AS ('features'))", "INSERT INTO gpkg_contents VALUES (1), (2), (3)"}},
		{"another database", "", "no GeoPackage", []string{"DROP TABLE gpkg_contents"}},
		{"unknown system", "", "may lie more than a metre from WGS 84", []string{`UPDATE gpkg_spatial_ref_sys SET definition = 'GEOGCS["x",DATUM["old",SPHEROID["c",6378206.4,294.98]],UNIT["degree",0.0174532925199433]]'`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := from(layers.GeoPackage(t, c.change...))()
			s.Layer = c.layer
			_, _, err := ReadPoints(s, testOptions())
			var unusable *format.UnusableError
			if !errors.As(err, &unusable) || !strings.Contains(unusable.Found, c.found) {
				t.Errorf("%v, want %q", err, c.found)
			}
		})
	}
	_, findings, err := ReadPoints(from(layers.GeoPackage(t, "INSERT INTO finds VALUES (3, x'00', 'c', '', 0), (4, NULL, 'd', '', 0), (5, 'text', 'e', '', 0), (6, x'475000010000000001', 'f', '', 0)"))(), testOptions())
	if err != nil || codes(findings) != "c geometry-malformed; d geometry-empty; e geometry-malformed; f geometry-malformed" {
		t.Errorf("%v, %s", err, codes(findings))
	}
}

// TestGeoPackageLog: a file in the journal mode of desktop programs is read once they have closed
// it, and refused while changes are still in a file beside it.
func TestGeoPackageLog(t *testing.T) {
	content := layers.GeoPackage(t, "PRAGMA journal_mode = wal", "INSERT INTO finds VALUES (3, NULL, 'c', '', 0)")
	if content[18] != 2 {
		t.Fatalf("the file keeps no log: mark %d", content[18])
	}
	source := func(log string) format.Source {
		s := from(content)()
		s.Beside = func(ending string) (io.ReadCloser, error) {
			if ending == ".gpkg-wal" {
				return io.NopCloser(strings.NewReader(log)), nil
			}
			return nil, fs.ErrNotExist
		}
		return s
	}
	if p, _, err := ReadPoints(source(""), testOptions()); err != nil || p.Read != 3 {
		t.Errorf("closed: %d read, %v", p.Read, err)
	}
	var unusable *format.UnusableError
	if _, _, err := ReadPoints(source("x"), testOptions()); !errors.As(err, &unusable) || !strings.Contains(unusable.Found, "open") {
		t.Errorf("open: %v", err)
	}
}

// TestXMLTrouble: no entity is expanded, no reference followed, and nothing read beyond a limit.
func TestXMLTrouble(t *testing.T) {
	bomb := `<!DOCTYPE kml [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>`
	small := testOptions()
	small.Limits.Nesting, small.Limits.RecordBytes, small.Limits.Vertices = 20, 1000, 5
	for _, c := range []struct{ name, text, found string }{
		{"entities", `<?xml version="1.0"?>` + bomb + `<kml><Placemark><name>&b;</name></Placemark></kml>`, "entities"},
		{"outside entity", `<?xml version="1.0"?><!DOCTYPE k [<!ENTITY f SYSTEM "file:///etc/passwd">]><kml><name>&f;</name></kml>`, "entities"},
		{"unknown entity", `<kml><Placemark><name>&nbsp;</name></Placemark></kml>`, "entity"},
		{"nested deep", "<kml>" + strings.Repeat("<Folder>", 30), "nested deeper"},
		{"not closed", "<gpx><wpt lat='1' lon='2'>", "unexpected EOF"},
		{"crossed", "<kml><Document></kml></Document>", "closed"},
		{"long text", "<kml><Placemark><name>" + strings.Repeat("x", 2000) + "</name></Placemark></kml>", "longer than limits.record_mb"},
		{"many vertices", "<kml><Placemark><LineString><coordinates>" + strings.Repeat("1,2 ", 10) + "</coordinates></LineString></Placemark></kml>", "more vertices"},
		{"tracks only", "<gpx><trk><trkseg><trkpt lat='1' lon='2'/></trkseg></trk></gpx>", "no waypoints"},
		{"no element", "<?xml version='1.0'?><!-- -->", "without an element"},
		{"encoding", `<?xml version="1.0" encoding="klingon"?><kml/>`, "klingon"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := ReadPoints(from([]byte(c.text))(), small)
			var unusable *format.UnusableError
			if !errors.As(err, &unusable) || !strings.Contains(unusable.Found, c.found) {
				t.Errorf("%v, want %q", err, c.found)
			}
		})
	}
	for _, c := range []struct{ name, text, codes string }{
		{"no coordinates", "<kml><Placemark id='a'><Point/></Placemark></kml>", "a geometry-empty"},
		{"bad coordinates", "<kml><Placemark id='a'><Point><coordinates>1;2</coordinates></Point></Placemark></kml>", "a geometry-malformed"},
		{"spaces for commas", "<kml><Placemark id='a'><Point><coordinates>1 2</coordinates></Point></Placemark></kml>", "a geometry-malformed"},
		{"mixed", "<kml><Placemark id='a'><MultiGeometry><Point><coordinates>1,2</coordinates></Point><LineString><coordinates>1,2 3,4</coordinates></LineString></MultiGeometry></Placemark><Placemark id='b'><Point><coordinates>1,2</coordinates></Point></Placemark></kml>", "a geometry-kind"},
		{"bad waypoint", "<gpx><wpt lat='x' lon='2'><name>a</name></wpt></gpx>", "a geometry-malformed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, findings, err := ReadPoints(from([]byte(c.text))(), testOptions())
			var told []check.Finding
			for _, f := range findings {
				if f.Rule.Severity == check.Error {
					told = append(told, f)
				}
			}
			if err != nil || codes(told) != c.codes {
				t.Errorf("%v, %s, want %s", err, codes(told), c.codes)
			}
		})
	}
}

// TestLayers reads folders and feature types by the layer's name.
func TestLayers(t *testing.T) {
	for _, c := range []struct {
		text, layer string
		records     int
	}{{kmlText, "", 2}, {kmlText, "Finds", 1}, {kmlText, "patches", 1}, {kmlText, "none", 0}, {gpxText, "", 2}, {gpxText, "waypoints", 2}} {
		s := from([]byte(c.text))()
		s.Layer = c.layer
		p, _, err := ReadPoints(s, testOptions())
		if err != nil || len(p.Records) != c.records {
			t.Errorf("layer %q: %d records, %v", c.layer, len(p.Records), err)
		}
	}
}

// FuzzGeometryText reads any cell as a geometry: parts and polygons stay in range.
func FuzzGeometryText(f *testing.F) {
	for _, seed := range []string{"POINT(1 2)", "SRID=4326;MULTIPOLYGON(((0 0,1 0,1 1,0 0)),((2 2,3 2,3 3,2 2),(2.1 2.1,2.2 2.1,2.2 2.2,2.1 2.1)))", "LINESTRING ZM (1 2 3 4, 5 6 7 8)", "MULTIPOINT((1 2),(3 4))", "POLYGON EMPTY", "0101000000000000000000f03f0000000000000040"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var s format.Shape
		wellknown.ReadText(text, &s, 1000)
		for i := range s.Parts {
			s.Part(i)
		}
		if s.Kind == format.PolygonShape || s.Kind == format.MultiPolygonShape {
			var memory slab
			if outline, _ := outlineOf(&s, &memory); len(outline) > 0 {
				placeInside(outline)
			}
		}
		if v, kind := cell.ParseAngle(text, false, "WE"); kind == cell.GoodNumber && math.IsNaN(v) {
			t.Fatalf("%q is no number and called good", text)
		}
	})
}
