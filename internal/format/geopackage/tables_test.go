package geopackage_test

import (
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

func read(b []byte, layer string) (layers.Layer, error) {
	return layers.Read(layers.Form{File: "a.gpkg", Bytes: b}, layers.Asked{Layer: layer})
}

// refuses compares an error whole: place, what was found and the remedy.
func refuses(t *testing.T, name string, err error, place, found, remedy string) {
	t.Helper()
	var unusable *format.UnusableError
	if !errors.As(err, &unusable) || unusable.Place != place || unusable.Found != found || unusable.Remedy != remedy {
		t.Errorf("%s: %v, want %s: %s; %s", name, err, place, found, remedy)
	}
}

// TestWhichTable: the only layer, or the one that is named, or the only table where no layer is;
// views, tables of styles and those that nothing lists do not count (OGC 12-128r18, 1.1.3 and 2.4).
func TestWhichTable(t *testing.T) {
	second := []string{"CREATE TABLE more (fid INTEGER PRIMARY KEY, geom BLOB, n TEXT)", "INSERT INTO gpkg_contents VALUES ('more', 'features', 'more', 4326)",
		"INSERT INTO gpkg_geometry_columns VALUES ('more', 'geom', 'POINT', 4326, 0, 0)", "INSERT INTO more VALUES (1, NULL, 'm')"}
	table := []string{"CREATE TABLE notes (id INTEGER PRIMARY KEY, n TEXT)", "INSERT INTO gpkg_contents VALUES ('notes', 'attributes', 'n', 0)", "INSERT INTO notes VALUES (1, 'x')"}
	noLayer := append([]string{"DELETE FROM gpkg_contents WHERE table_name = 'finds'"}, table...)
	styles := []string{"CREATE TABLE layer_styles (id INTEGER PRIMARY KEY, n TEXT)", "INSERT INTO gpkg_contents VALUES ('layer_styles', 'attributes', 's', 0)",
		"CREATE TABLE ogr_empty_table (id INTEGER PRIMARY KEY)", "INSERT INTO gpkg_contents VALUES ('ogr_empty_table', 'aspatial', 's', 0)", "INSERT INTO gpkg_contents VALUES ('gone', 'attributes', 's', 0)"}
	finds := []string{"Point -10.5 34.5 occurrenceID=a eventDate=2026-07-01 patch_area_m2=12.5", "Point -10.5 35 occurrenceID=b eventDate=2026-07-02 patch_area_m2=3"}
	for _, c := range []struct {
		name   string
		change []string
		layer  string
		want   []string
	}{
		{"the only layer", nil, "", finds},
		{"by its name", second, "FINDS", finds},
		{"the other", second, "more", []string{"n=m"}},
		{"a layer before a table", table, "", finds},
		{"a table by its name", table, "notes", []string{"n=x"}},
		{"the only table", noLayer, "", []string{"n=x"}},
		{"an old table", append(noLayer, "UPDATE gpkg_contents SET data_type = 'aspatial'"), "", []string{"n=x"}},
		{"beside styles", append(append([]string{}, noLayer...), styles...), "", []string{"n=x"}},
	} {
		l, err := read(layers.GeoPackage(t, c.change...), c.layer)
		if diff := cmp.Diff(c.want, l.Describe()); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", c.name, err, diff)
		}
	}
	_, err := read(layers.GeoPackage(t, second...), "")
	refuses(t, "two layers", err, "", "the GeoPackage has several layers: finds, more", "name one after a colon, as in a.gpkg:finds")
	_, err = read(layers.GeoPackage(t, append(second, table...)...), "none")
	refuses(t, "another name", err, "", `the GeoPackage has no layer "none"; it has finds, more, notes`, "name one after a colon, as in a.gpkg:finds")
	var many, names []string // of the names two hundred letters are listed
	for i := range 12 {
		names = append(names, fmt.Sprintf("layer_number_%02d_of_this", i))
		many = append(many, "CREATE TABLE "+names[i]+" (id INTEGER PRIMARY KEY, n TEXT)", "INSERT INTO gpkg_contents VALUES ('"+names[i]+"', 'attributes', 'n', 0)")
	}
	_, err = read(layers.GeoPackage(t, append(many, "DELETE FROM gpkg_contents WHERE table_name = 'finds'")...), "")
	refuses(t, "twelve tables", err, "", "the GeoPackage has several layers: "+strings.Join(names, ", ")[:200]+"...", "name one after a colon, as in a.gpkg:"+names[0])
	for name, change := range map[string]string{"nothing listed": "DELETE FROM gpkg_contents", "no geometry column listed": "DELETE FROM gpkg_geometry_columns", "tiles": "UPDATE gpkg_contents SET data_type = 'tiles'"} {
		_, err = read(layers.GeoPackage(t, change), "")
		refuses(t, name, err, "", "the GeoPackage has no layer of features", "save the layer, not a view of it, as GeoPackage")
	}
	_, err = read(layers.GeoPackage(t, "DROP TABLE gpkg_contents"), "")
	refuses(t, "another database", err, "", "the SQLite database is no GeoPackage: it has no table gpkg_contents", "save the layer as GeoPackage")
	_, err = read(layers.GeoPackage(t, "DROP TABLE gpkg_contents", "CREATE VIEW gpkg_contents AS SELECT 1"), "")
	refuses(t, "a view", err, "table gpkg_contents", "it is a view or a virtual table, which could ask for anything, and is not read", "save the layer to a new GeoPackage")
	_, err = read(layers.GeoPackage(t, "UPDATE gpkg_geometry_columns SET column_name = 'shape'"), "")
	refuses(t, "a column that is not stored", err, "layer finds", "the layer has no stored column shape of geometries", "save the layer to a new GeoPackage")
}

// TestColumnsOfATable: the geometry and a key of a usual name are no columns of data; other keys are,
// as is a usual name that is no key, and a key that is bound to a field.
func TestColumnsOfATable(t *testing.T) {
	change := func(columns string) []byte {
		return layers.GeoPackage(t, "DROP TABLE finds", "CREATE TABLE finds ("+columns+")")
	}
	for columns, want := range map[string][]string{
		"fid INTEGER PRIMARY KEY, geom BLOB, a TEXT":                 {"a"},
		"OGC_FID INTEGER PRIMARY KEY, GEOM BLOB, a TEXT, id INTEGER": {"a", "id"},
		"ObjectID INTEGER PRIMARY KEY, geom BLOB":                    nil,
		"id INTEGER PRIMARY KEY, geom BLOB, fid INTEGER":             {"fid"},
		"code TEXT PRIMARY KEY, geom BLOB":                           {"code"},
		"a TEXT, geom BLOB, \"b\"\"c\" TEXT, d AS (a || 'x')":        {"a", `b"c`},
	} {
		l, err := read(change(columns), "")
		if diff := cmp.Diff(want, l.Names); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", columns, err, diff)
		}
	}
	l, err := layers.Read(layers.Form{File: "a.gpkg", Bytes: change("id INTEGER PRIMARY KEY, geom BLOB")}, layers.Asked{Known: []string{"id"}})
	if err != nil || strings.Join(l.Names, " ") != "id" {
		t.Errorf("a bound key: %q, %v", l.Names, err)
	}
}

// TestSystemsOfALayer: the definition of the layer's system, or its organisation and number where there
// is none (OGC 12-128r18, 1.1.2); 0 and -1 are undefined by the standard, and told to be taken as
// degrees.
func TestSystemsOfALayer(t *testing.T) {
	layer := func(id int, row string) []byte {
		change := []string{fmt.Sprintf("UPDATE gpkg_geometry_columns SET srs_id = %d", id), "DELETE FROM finds WHERE fid = 2", "DELETE FROM gpkg_spatial_ref_sys"}
		if row != "" {
			change = append(change, "INSERT INTO gpkg_spatial_ref_sys VALUES "+row)
		}
		return layers.GeoPackage(t, change...)
	}
	const assumed = "reference-system-assumed"
	for _, c := range []struct {
		id                int
		row, system, told string
	}{
		{4326, "('a', 4326, 'EPSG', 4326, '', '')", "WGS 84", ""}, {4326, "('a', 4326, 'EPSG', 4326, ' undefined ', '')", "WGS 84", ""}, {7, "('a', 7, 'EPSG', 32633, 'Undefined', '')", "EPSG:32633", ""},
		{7, "('a', 7, 'NONE', 1, 'EPSG:32633', ''), ('b', 8, 'EPSG', 4326, '', '')", "EPSG:32633", ""},
		{0, "('a', 0, 'EPSG', 32633, '', '')", "WGS 84", assumed}, {-1, "('a', -1, 'EPSG', 32633, '', '')", "WGS 84", assumed}, {9, "('a', 7, 'EPSG', 32633, '', '')", "WGS 84", assumed}, {9, "", "WGS 84", assumed},
	} {
		l, err := read(layer(c.id, c.row), "")
		told := strings.Join(l.Tell(), " ")
		if zone := strings.Contains(l.System, "33N") || strings.Contains(l.System, "32633"); err != nil || !strings.HasPrefix(told, c.told) || c.told == "" && told != "" || zone != (c.system != "WGS 84") {
			t.Errorf("%d of %s: %s, told %s, %v", c.id, c.row, l.System, told, err)
		}
	}
	_, err := read(layer(7, "('a', 7, 'NONE', 12, '', '')"), "")
	var unusable *format.UnusableError
	if !errors.As(err, &unusable) || unusable.Place != "layer finds" || !strings.Contains(unusable.Remedy, "--points-crs") {
		t.Errorf("an unknown system: %v", err)
	}
	// a table without geometries needs none
	l, err := read(layers.GeoPackage(t, "UPDATE gpkg_contents SET data_type = 'attributes'", "UPDATE gpkg_geometry_columns SET srs_id = 0"), "")
	if err != nil || len(l.Tell()) > 0 || len(l.Rows) != 2 {
		t.Errorf("a table: %q, %v", l.Tell(), err)
	}
}

// TestGeometryBlobs: the header of a geometry (OGC 12-128r18, 2.1.3.1.1): magic, version, flags, system
// and an envelope of 0, 4, 6, 6 or 8 numbers by three bits of the flags; bit 4 is an empty geometry and
// bit 5 an extended one.
func TestGeometryBlobs(t *testing.T) {
	const place = "0101000000000000000000F03F0000000000000040" // POINT(1 2), little-endian (OGC 06-103r4, 8.2)
	head := func(flags byte, envelope int) string {
		return fmt.Sprintf("475000%02x00000000", flags) + strings.Repeat("00", envelope)
	}
	const none, envelope = "!the geometry is no GeoPackage binary", "!the geometry's envelope is none"
	for blob, want := range map[string]string{
		"x'" + head(0x01, 0) + place + "'": "Point 1 2", "x'" + head(0x00, 0) + place + "'": "Point 1 2", "x'" + head(0x03, 32) + place + "'": "Point 1 2", "x'" + head(0x05, 48) + place + "'": "Point 1 2",
		"x'" + head(0x07, 48) + place + "'": "Point 1 2", "x'" + head(0x09, 64) + place + "'": "Point 1 2", "x'" + head(0x11, 0) + place + "'": "Point",
		"x'" + head(0x0b, 64) + place + "'": envelope, "x'" + head(0x0f, 64) + place + "'": envelope, "x'" + head(0x03, 31) + "'": envelope, "x'" + head(0x21, 0) + place + "'": none,
		"x'4751000100000000" + place + "'": none, "x'47500001000000'": none, "x'" + place + "'": none, "x''": "", "NULL": "", "'POINT(1 2)'": none, "7": none,
	} {
		l, err := read(layers.GeoPackage(t, "DELETE FROM finds", "INSERT INTO finds VALUES (1, "+blob+", NULL, NULL, NULL)"), "")
		if diff := cmp.Diff([]string{want}, l.Describe()); err != nil || diff != "" {
			t.Errorf("%s: %v (-want +got):\n%s", blob, err, diff)
		}
	}
}

// TestDamagedGeoPackages: files that are cut off, by the size in their header (SQLite's file format,
// 1.3.8), and another program's changes beside the file.
func TestDamagedGeoPackages(t *testing.T) {
	whole := layers.GeoPackage(t)
	const again = "copy it again"
	for name, b := range map[string][]byte{"a page less": whole[:len(whole)-512], "half a page less": whole[:len(whole)-256], "a head alone": whole[:99], "a page size of 256": edited(whole, 16, 1, 0)} {
		_, err := read(b, "")
		refuses(t, name, err, "", "the GeoPackage is cut off", again)
	}
	// the number of pages counts only where the two versions of the header agree
	if l, err := read(edited(edited(whole, 28, 0, 1, 0, 0), 24, 9, 9, 9, 9), ""); err != nil || len(l.Rows) != 2 {
		t.Errorf("by an old program: %d rows, %v", len(l.Rows), err)
	}
	_, err := read(edited(whole, 28, 0, 1, 0, 0), "")
	refuses(t, "fewer pages than the head says", err, "", "the GeoPackage is cut off", again)
	for text, open := range map[string]bool{"": false, "x": true} {
		_, err := layers.Read(layers.Form{File: "a.gpkg", Bytes: whole, Beside: map[string][]byte{".gpkg-wal": []byte(text)}}, layers.Asked{})
		if open {
			refuses(t, "open elsewhere", err, "", "another program has the file open and has changes that are not in it yet (a -wal file is beside it)", "close the program, or save a copy from it")
		} else if err != nil {
			t.Errorf("an empty log: %v", err)
		}
	}
	// a database that another program keeps with a log is read as it is (1.3.3: 2 means a log)
	if l, err := read(edited(whole, 18, 2, 2), ""); err != nil || len(l.Rows) != 2 {
		t.Errorf("with a log: %d rows, %v", len(l.Rows), err)
	}
}

func edited(b []byte, at int, to ...byte) []byte {
	out := append([]byte(nil), b...)
	copy(out[at:], to)
	return out
}

// TestLimitsOfAGeoPackage: tables, columns and bytes of text, at the limit and at one less.
func TestLimitsOfAGeoPackage(t *testing.T) {
	whole := layers.GeoPackage(t, "UPDATE finds SET occurrenceID = '12345', eventDate = '67890', patch_area_m2 = NULL")
	for _, c := range []struct {
		place, found, remedy string
		most                 int
		set                  func(*format.Limits, int)
	}{
		{"", "3 columns are more than the limit", "remove columns, or raise limits.columns", 3, func(l *format.Limits, n int) { l.Columns = n }},
		{"row 1", "the texts of a feature are longer than the limit", "shorten them, or raise limits.record_mb", 10, func(l *format.Limits, n int) { l.RecordBytes = n }},
		{"", "the GeoPackage has more layers than limits.members allows", "save the layer to a new one, or raise limits.members", 4, func(l *format.Limits, n int) { l.Members = n }},
	} {
		for less, refused := range []bool{false, true} {
			limits := format.DefaultLimits()
			c.set(&limits, c.most-less)
			_, err := layers.Read(layers.Form{File: "a.gpkg", Bytes: whole}, layers.Asked{Limits: limits})
			if refused {
				refuses(t, c.found, err, c.place, c.found, c.remedy)
			} else if err != nil {
				t.Errorf("%s at the limit: %v", c.found, err)
			}
		}
	}
	if n := binary.BigEndian.Uint16(whole[16:]); n != 512 {
		t.Errorf("pages of %d bytes", n)
	}
}
