package intake

import (
	"archive/zip"
	"bytes"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/format/wellknown"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/malformed"
)

// shapefile makes a .shp of point records and its .dbf with one column, by the
// formats' descriptions.
func shapefile(points []orb.Point) (shp, dbf []byte) {
	b := make([]byte, 100)
	binary.BigEndian.PutUint32(b, 9994)
	binary.BigEndian.PutUint32(b[24:], uint32(50+14*len(points)))
	binary.LittleEndian.PutUint32(b[28:], 1000)
	binary.LittleEndian.PutUint32(b[32:], 1) // points
	for i, p := range points {
		b = binary.BigEndian.AppendUint32(b, uint32(i+1))
		b = binary.BigEndian.AppendUint32(b, 10)
		b = binary.LittleEndian.AppendUint32(b, 1)
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[0]))
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[1]))
	}
	d := make([]byte, 65)
	copy(d, "\x03\x7e\x07\x01")
	binary.LittleEndian.PutUint32(d[4:], uint32(len(points)))
	binary.LittleEndian.PutUint16(d[8:], 65)
	binary.LittleEndian.PutUint16(d[10:], 9)
	copy(d[32:], "id\x00\x00\x00\x00\x00\x00\x00\x00\x00C\x00\x00\x00\x00\x08")
	d[64] = '\r'
	for i := range points {
		d = append(d, fmt.Sprintf(" %-8d", i)...)
	}
	return b, d
}

// outlineShapes makes a .shp of one record of lines or rings.
func outlineShapes(kind uint32, parts ...[]orb.Point) []byte {
	b, _ := shapefile(nil)
	binary.LittleEndian.PutUint32(b[32:], kind)
	record := binary.LittleEndian.AppendUint32(nil, kind)
	record = append(record, make([]byte, 32)...) // a box that nobody reads
	points := slices.Concat(parts...)
	record = binary.LittleEndian.AppendUint32(record, uint32(len(parts)))
	record = binary.LittleEndian.AppendUint32(record, uint32(len(points)))
	begin := 0
	for _, part := range parts {
		record = binary.LittleEndian.AppendUint32(record, uint32(begin))
		begin += len(part)
	}
	for _, p := range points {
		record = binary.LittleEndian.AppendUint64(record, math.Float64bits(p[0]))
		record = binary.LittleEndian.AppendUint64(record, math.Float64bits(p[1]))
	}
	b = binary.BigEndian.AppendUint32(b, 1)
	b = binary.BigEndian.AppendUint32(b, uint32(len(record)/2))
	b = append(b, record...)
	binary.BigEndian.PutUint32(b[24:], uint32(len(b)/2))
	return b
}

// shapeSource is a Shapefile in memory.
func shapeSource(shp, dbf []byte) format.Source {
	s := format.FromReader("a.shp", bytes.NewReader(shp))
	s.Beside = func(ending string) (io.ReadCloser, error) {
		if ending == ".dbf" && dbf != nil {
			return io.NopCloser(bytes.NewReader(dbf)), nil
		}
		return nil, fs.ErrNotExist
	}
	return s
}

// geoPackageFile makes a small GeoPackage of two points, with what a reader looks at.
func geoPackageFile(t testing.TB, change ...string) []byte {
	t.Helper()
	name := filepath.Join(t.TempDir(), "a.gpkg")
	db, err := sql.Open("sqlite", name)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, s := range slices.Concat([]string{"PRAGMA page_size = 512"}, malformed.Sound, change) {
		if _, err := db.Exec(s); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
	}
	db.Close()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// zipped packs one member.
func zipped(t testing.TB, name string, content []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	w.Write(content)
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const gpxText = `<?xml version="1.0"?><gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><wpt lat="34.5" lon="-10.5"><time>2026-07-01T10:00:00Z</time><name>a</name><extensions><patch_area_m2>12.5</patch_area_m2></extensions></wpt>` +
	`<wpt lat="35" lon="-10.5"><name>b &amp; c</name></wpt><trk><name>t</name><trkseg><trkpt lat="1" lon="2"/><trkpt lat="3" lon="4"/></trkseg></trk></gpx>`

const kmlText = `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Folder><name>finds</name>` +
	`<Placemark id="p1"><name>one</name><TimeStamp><when>2026-07-01</when></TimeStamp><ExtendedData><Data name="occurrenceID"><value>a</value></Data><SchemaData><SimpleData name="patch_area_m2">12.5</SimpleData></SchemaData></ExtendedData><Point><coordinates> -10.5,34.5,7 </coordinates></Point></Placemark></Folder>` +
	`<Folder><name>patches</name><Placemark><MultiGeometry><Polygon><outerBoundaryIs><LinearRing><coordinates>0,0 1,0 1,1 0,0</coordinates></LinearRing></outerBoundaryIs></Polygon><Polygon><outerBoundaryIs><LinearRing><coordinates>2,0 3,0 3,1 2,0</coordinates></LinearRing></outerBoundaryIs></Polygon></MultiGeometry></Placemark></Folder></Document></kml>`

// readSource reads a source as points and as lines and checks what holds for
// any: no panic, and an UnusableError or totals that add up.
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

func from(b []byte) func() format.Source {
	return func() format.Source { return format.FromReader("f", bytes.NewReader(b)) }
}

// samples are whole files of each format, with the records they have.
func samplesOf(t testing.TB) map[string]struct {
	bytes   []byte
	records int
} {
	shp, _ := shapefile([]orb.Point{{-10.5, 34.5}, {-10.5, 35}})
	return map[string]struct {
		bytes   []byte
		records int
	}{
		"Shapefile": {shp, 2}, "GeoPackage": {geoPackageFile(t), 2}, "GPX": {[]byte(gpxText), 2}, "KML": {[]byte(kmlText), 2},
		"KMZ": {zipped(t, "doc.kml", []byte(kmlText)), 2}, "zip": {zipped(t, "a.gpkg", geoPackageFile(t)), 2},
	}
}

// TestBinaryCutOff: a file of any format cut off anywhere is unusable, never a
// short survey.
func TestBinaryCutOff(t *testing.T) {
	for name, s := range samplesOf(t) {
		t.Run(name, func(t *testing.T) {
			if p, _, err := ReadPoints(from(s.bytes)(), testOptions()); err != nil || len(p.Records) != s.records {
				t.Fatalf("whole: %d records, %v", len(p.Records), err)
			}
			for n := 1; n < len(s.bytes); n += 1 + len(s.bytes)/400 {
				p, _, err := ReadPoints(from(s.bytes[:n])(), testOptions())
				var unusable *format.UnusableError
				if !errors.As(err, &unusable) && (err != nil || len(p.Records) != s.records || n < len(s.bytes)-1-len("\n")) {
					t.Errorf("cut off after %d of %d bytes: %d records, error %v", n, len(s.bytes), len(p.Records), err)
				}
			}
		})
	}
}

// TestBinaryChangedByte changes bytes at many places of files of each format.
func TestBinaryChangedByte(t *testing.T) {
	for name, s := range samplesOf(t) {
		t.Run(name, func(t *testing.T) {
			for i := 0; i < len(s.bytes); i += 1 + len(s.bytes)/300 {
				for _, b := range []byte{0, 0xff, 0x80, '<', '>'} {
					changed := bytes.Clone(s.bytes)
					changed[i] = b
					readSource(t, from(changed))
				}
			}
		})
	}
}

// TestManyRecords reads more records than the readers look at before they guess
// how many will come, from files whose size is known.
func TestManyRecords(t *testing.T) {
	points := make([]orb.Point, 3000)
	for i := range points {
		points[i] = orb.Point{float64(i) / 100, 40}
	}
	shp, dbf := shapefile(points)
	kml := "<kml>" + strings.Repeat("<Placemark><Point><coordinates>1,2</coordinates></Point></Placemark>", 3000) + "</kml>"
	gpx := "<gpx>" + strings.Repeat("<wpt lat='1' lon='2'/>", 3000) + "</gpx>"
	gpkg := geoPackageFile(t, "WITH RECURSIVE n(i) AS (SELECT 3 UNION ALL SELECT i+1 FROM n WHERE i < 3000) INSERT INTO finds SELECT i, x'4750000100000000010100000000000000000025c00000000000804140', 'r' || i, '2026-07-02', i FROM n")
	for name, s := range map[string]format.Source{
		"Shapefile": shapeSource(shp, dbf), "KML": from([]byte(kml))(), "GPX": from([]byte(gpx))(), "GeoPackage": from(gpkg)(),
		"KMZ": from(zipped(t, "doc.kml", []byte(kml)))(), "zip": from(zipped(t, "a.gpkg", gpkg))(),
	} {
		s.Size = 100_000
		if p, _, err := ReadPoints(s, testOptions()); err != nil || len(p.Records) != 3000 {
			t.Errorf("%s: %d records, %v", name, len(p.Records), err)
		}
	}
}

// TestTable: a table that does not belong to its shapes is never read past.
func TestTable(t *testing.T) {
	shp, dbf := shapefile([]orb.Point{{1, 2}, {3, 4}, {5, 6}})
	p, _, err := ReadPoints(shapeSource(shp, dbf), testOptions())
	if err != nil || len(p.Records) != 3 || p.Extra[0] != "id" || p.Records[2].Told().Extra[0] != "2" {
		t.Fatalf("%v, %v of %v", err, p.Records, p.Extra)
	}
	_, short := shapefile([]orb.Point{{1, 2}, {3, 4}})
	_, long := shapefile(make([]orb.Point, 4))
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
	if _, _, err := ReadPoints(format.FromReader("a.dbf", bytes.NewReader(dbf)), testOptions()); !errors.As(err, &unusable) || !strings.Contains(unusable.Found, "name the .shp") {
		t.Errorf("the table alone: %v", err)
	}
}

// viewOf puts a view without end in the place of a table.
func viewOf(table, columns string) []string {
	return []string{"DROP TABLE " + table, "CREATE VIEW " + table + " AS WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM n) SELECT " + columns + " FROM n"}
}

// TestGeoPackageTrouble: what a database may hold that is no layer of ours.
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
			s := from(geoPackageFile(t, c.change...))()
			s.Layer = c.layer
			_, _, err := ReadPoints(s, testOptions())
			var unusable *format.UnusableError
			if !errors.As(err, &unusable) || !strings.Contains(unusable.Found, c.found) {
				t.Errorf("%v, want %q", err, c.found)
			}
		})
	}
	_, findings, err := ReadPoints(from(geoPackageFile(t, "INSERT INTO finds VALUES (3, x'00', 'c', '', 0), (4, NULL, 'd', '', 0), (5, 'text', 'e', '', 0), (6, x'475000010000000001', 'f', '', 0)"))(), testOptions())
	if err != nil || codes(findings) != "c geometry-malformed; d geometry-empty; e geometry-malformed; f geometry-malformed" {
		t.Errorf("%v, %s", err, codes(findings))
	}
}

// TestGeoPackageLog: a file in the mode in which desktop programs keep it open is
// read once they have closed it, and refused while changes are still beside it.
func TestGeoPackageLog(t *testing.T) {
	content := geoPackageFile(t, "PRAGMA journal_mode = wal", "INSERT INTO finds VALUES (3, NULL, 'c', '', 0)")
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

// TestXMLTrouble: nothing is expanded, followed or read past a limit.
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

// TestLayers reads folders and kinds by the layer's name.
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

// FuzzShapefile reads any shapes with any table.
func FuzzShapefile(f *testing.F) {
	shp, dbf := shapefile([]orb.Point{{1, 2}, {3, 4}})
	f.Add(shp, dbf)
	f.Add(shp[:100], []byte(nil))
	stored := testkit.Stored(f, "intake/feet.shp", "intake/feet.dbf")
	f.Add(stored[0], stored[1])
	f.Add(outlineShapes(3, []orb.Point{{1, 2}, {3, 4}, {5, 4}}), dbf)
	f.Add(outlineShapes(5, []orb.Point{{0, 0}, {0, 3}, {3, 3}, {0, 0}}, []orb.Point{{1, 2}, {2, 2}, {1, 1}, {1, 2}}), dbf)
	f.Fuzz(func(t *testing.T, shp, dbf []byte) {
		shp = append([]byte("\x00\x00\x27\x0a"), shp[min(4, len(shp)):]...)
		readSource(t, func() format.Source { return shapeSource(shp, dbf) })
	})
}

// FuzzGeoPackage reads any text that begins as a database does.
func FuzzGeoPackage(f *testing.F) {
	f.Add(geoPackageFile(f))
	f.Add(geoPackageFile(f, "CREATE VIEW v AS SELECT * FROM gpkg_contents", "UPDATE gpkg_contents SET srs_id = 32718"))
	f.Add(geoPackageFile(f, "DELETE FROM gpkg_geometry_columns"))
	f.Add(testkit.Stored(f, "intake/feet.gpkg")[0])
	f.Fuzz(func(t *testing.T, b []byte) {
		readSource(t, from(append([]byte("SQLite format 3\x00"), b[min(16, len(b)):]...)))
	})
}

// FuzzXML reads any GPX and KML.
func FuzzXML(f *testing.F) {
	f.Add(gpxText)
	f.Add(kmlText)
	for _, file := range testkit.Stored(f, "handed-in/*.kml", "handed-in/*.gpx", "intake/*.kml", "intake/*.gpx") {
		f.Add(string(file))
	}
	f.Add(`<kml><Placemark><MultiGeometry><Point><coordinates>1,2</coordinates></Point><Track><coord>1 2 3</coord></Track></MultiGeometry></Placemark></kml>`)
	f.Fuzz(func(t *testing.T, text string) { readSource(t, from([]byte(text))) })
}

// FuzzArchive reads any archive.
func FuzzArchive(f *testing.F) {
	f.Add(zipped(f, "doc.kml", []byte(kmlText)))
	f.Add(zipped(f, "a.csv", []byte(header+"\na,1,2,2026-07-01\n")))
	for _, file := range testkit.Stored(f, "handed-in/*.xlsx", "intake/*.kmz", "intake/*.shz") {
		f.Add(file)
	}
	f.Fuzz(func(t *testing.T, b []byte) { readSource(t, from(append([]byte("PK\x03\x04"), b[min(4, len(b)):]...))) })
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
		if v, kind := parseAngle(text, false, "WE"); kind == goodNumber && math.IsNaN(v) {
			t.Fatalf("%q is no number and called good", text)
		}
	})
}
