package parquet_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// shapesOf are the geometries of a layer, without names and texts.
func shapesOf(l layers.Layer) []string {
	bare := layers.Layer{}
	for _, row := range l.Rows {
		bare.Rows = append(bare.Rows, layers.Row{Kind: row.Kind, Name: row.Name, Points: row.Points, Parts: row.Parts, Polygons: row.Polygons, Wrong: row.Wrong})
	}
	return bare.Describe()
}

// TestStoredFiles: files of two other writers (scripts/oracle_parquet.mjs) have the geometries of the
// GeoJSON that was written with them.
func TestStoredFiles(t *testing.T) {
	of := func(name string) layers.Layer {
		l, err := layers.Read(layers.Form{File: name, Bytes: testkit.Stored(t, name)[0]}, layers.Asked{})
		if err != nil || len(l.Rows) == 0 {
			t.Fatalf("%s: %d rows, %v", name, len(l.Rows), err)
		}
		return l
	}
	for name, source := range map[string]string{"native_lines.parquet": "parquet/lines.geojson", "native_patches.parquet": "parquet/patches.geojson", "native.parquet": "intake/points.geojson", "groups.parquet": "intake/points.geojson", "differences.parquet": "intake/points.geojson", "script.parquet": "intake/points.geojson"} {
		want, got := of(source), of("parquet/"+name)
		if diff := cmp.Diff(shapesOf(want), shapesOf(got)); diff != "" {
			t.Errorf("%s (-GeoJSON +this):\n%s", name, diff)
		}
		for _, column := range got.Names {
			if other := want.Column(column); other != nil && column != "eventDate" {
				if diff := cmp.Diff(other, got.Column(column)); diff != "" {
					t.Errorf("%s, column %s (-GeoJSON +this):\n%s", name, column, diff)
				}
			}
		}
	}
}

// geo is a file of one column of geometries, with what it says of it under the key "geo".
func geo(of string, element fields, pages []byte) []byte {
	return withGeo(of, []fields{{{4, "root"}, {5, 1}}, element}, [][]byte{pages}, 1)
}

// withGeo is a file of several columns with the key "geo".
func withGeo(of string, schema []fields, columns [][]byte, rows int) []byte {
	file := []byte("PAR1")
	var chunks, elements []any
	for _, pages := range columns {
		chunks = append(chunks, fields{{3, fields{{4, codecNone}, {7, len(pages)}, {9, len(file)}}}})
		file = append(file, pages...)
	}
	for _, e := range schema {
		elements = append(elements, e)
	}
	footer := fields{{2, elements}, {3, rows}, {4, []any{fields{{1, chunks}, {3, rows}}}}}
	if of != "" {
		footer = append(footer, field{5, []any{fields{{1, "geo"}, {2, of}}, fields{{1, "here"}, {2, "EPSG:32633"}}}})
	}
	return closed(file, footer)
}

const pointWKB = "\x01\x01\x00\x00\x00\x00\x00\x00\x00\x80\x84\x1e\x41\x00\x00\x00\x00\x00\x00\x00\x00" // POINT(500000 0), little-endian

// TestGeometryColumns: what a file says of its geometries (GeoParquet 1.1, "Column metadata"): their
// encoding and reference system, by a code, a definition, null for unknown, or none for longitude and
// latitude; a point at 500 km in the zone's middle is at 15 degrees.
func TestGeometryColumns(t *testing.T) {
	const bytesOf = `{"primary_column":"g","columns":{"g":{"encoding":"%s"%s}}}`
	column := fields{{1, parquetBytes}, {4, "g"}}
	for _, c := range []struct{ name, of, value, want, told string }{
		{"WKB", fmt.Sprintf(bytesOf, "WKB", ""), pointWKB, "Point 500000 0", ""}, {"wkb", fmt.Sprintf(bytesOf, "wkb", ""), pointWKB, "Point 500000 0", ""}, {"WKT", fmt.Sprintf(bytesOf, "WKT", ""), " POINT (1 2) ", "Point 1 2", ""}, {"no WKB", fmt.Sprintf(bytesOf, "WKB", ""), "", "", ""}, {"no WKT", fmt.Sprintf(bytesOf, "WKT", ""), " ", "", ""},
		{"a code", fmt.Sprintf(bytesOf, "WKB", `,"crs":"EPSG:32633"`), pointWKB, "Point 15 0", ""}, {"a number", fmt.Sprintf(bytesOf, "WKB", `,"crs":"srid:32633"`), pointWKB, "Point 15 0", ""}, {"a key", fmt.Sprintf(bytesOf, "WKB", `,"crs":"projjson:here"`), pointWKB, "Point 15 0", ""},
		{"unknown", fmt.Sprintf(bytesOf, "WKB", `,"crs":null`), pointWKB, "Point 500000 0", "reference-system-assumed"}, {"unknown in a box", fmt.Sprintf(bytesOf, "WKB", `,"crs":null,"bbox":[1,2,360,90]`), pointWKB, "Point 500000 0", "reference-system-assumed"},
		{"unknown in a box with heights", fmt.Sprintf(bytesOf, "WKB", `,"crs":null,"bbox":[1,2,5000,360,90,5000]`), pointWKB, "Point 500000 0", "reference-system-assumed"}, {"unknown in a box of five", fmt.Sprintf(bytesOf, "WKB", `,"crs":null,"bbox":[1,2,5000,360,90000]`), pointWKB, "Point 500000 0", "reference-system-assumed"},
	} {
		l, err := read(geo(c.of, column, plain(1, encodingPlain, words(c.value))))
		if diff := cmp.Diff([]string{c.want}, l.Describe()); err != nil || diff != "" || !strings.HasPrefix(strings.Join(l.Tell(), "|"), c.told) || c.told == "" && len(l.Told) > 0 {
			t.Errorf("%s: %v, told %q (-want +got):\n%s", c.name, err, l.Tell(), diff)
		}
	}
	const again = "save the layer again as GeoParquet or GeoPackage"
	for _, c := range []struct{ name, of, place, found, remedy string }{
		{"an encoding of none", fmt.Sprintf(bytesOf, "WKX", ""), "column g", `geometries encoded as "WKX" are not read`, "save the layer with geometries as WKB"}, {"another column", `{"primary_column":"h","columns":{"g":{}}}`, "footer", `the primary column "h" of geometries is not described`, again},
		{"lists that are none", fmt.Sprintf(bytesOf, "point", ""), "column g", "the geometries have no columns x and y of numbers", "save the layer with geometries as WKB"},
		{"a box of 361 degrees", fmt.Sprintf(bytesOf, "WKB", `,"crs":null,"bbox":[1,2,361,90]`), "", "the file names no reference system, and its coordinates are not degrees", "put its .prj file beside it, or name its system with --points-crs, --streams-crs and so on, as in EPSG:26911"},
		{"a box of 91 degrees", fmt.Sprintf(bytesOf, "WKB", `,"crs":null,"bbox":[1,2,0,360,91,0]`), "", "the file names no reference system, and its coordinates are not degrees", "put its .prj file beside it, or name its system with --points-crs, --streams-crs and so on, as in EPSG:26911"},
	} {
		_, err := read(geo(c.of, column, plain(1, encodingPlain, words(pointWKB))))
		refuses(t, c.name, err, c.place, c.found, c.remedy)
	}
	_, err := read(geo(`{`, column, plain(1, encodingPlain, words(pointWKB))))
	refuses(t, "no JSON", err, "footer", "what the file says of its geometries cannot be read: unexpected end of JSON input", again)
	two := `{"primary_column":"g","columns":{"g":{"encoding":"WKT"},"h":{"encoding":"WKT","covering":{"bbox":{"xmin":["box","xmin"]}}}}}`
	schema := []fields{{{4, "root"}, {5, 4}}, {{1, parquetBytes}, {4, "g"}}, {{1, parquetBytes}, {4, "h"}}, {{1, parquetInt32}, {4, "box"}}, {{1, parquetInt32}, {4, "n"}}}
	b := withGeo(two, schema, [][]byte{plain(1, 0, words("POINT(1 2)")), plain(1, 0, words("POINT(3 4)")), plain(1, 0, int32s(5)), plain(1, 0, int32s(6))}, 1)
	for layer, want := range map[string]string{"": "Point 1 2 n=6", "h": "Point 3 4 n=6"} {
		l, err := layers.Read(layers.Form{File: "a.parquet", Bytes: b}, layers.Asked{Layer: layer})
		if diff := cmp.Diff([]string{want}, l.Describe()); err != nil || diff != "" {
			t.Errorf("layer %q: %v (-want +got):\n%s", layer, err, diff)
		}
	}
	_, err = layers.Read(layers.Form{File: "a.parquet", Bytes: b}, layers.Asked{Layer: "i"})
	refuses(t, "another layer", err, "", `the file has no column of geometries "i"; it has g, h`, "name one after a colon, or none for the first")
}

// TestGeometriesWithoutGeo: a column of Parquet's own geometry types (LogicalTypes.md, GEOMETRY and
// GEOGRAPHY), with its system or in longitude and latitude; or one of bytes with a usual name, whose
// system is unknown.
func TestGeometriesWithoutGeo(t *testing.T) {
	own := func(id int, of ...field) fields {
		return fields{{1, parquetBytes}, {4, "a"}, {10, fields{{id, append(fields{}, of...)}}}}
	}
	for _, c := range []struct {
		name, want, told string
		element          fields
	}{
		{"geometry", "Point 500000 0", "", own(17)}, {"geography", "Point 500000 0", "", own(18)}, {"with a system", "Point 15 0", "", own(17, field{1, "srid:32633"})},
		{"a usual name", "Point 500000 0", "reference-system-assumed", fields{{1, parquetBytes}, {4, "WKB_geometry"}}}, {"the same, marked as text", "geom=\x01\x01\x00\x00\x00\x00\x00\x00\x00€„\x1eA", "encoding-assumed", fields{{1, parquetBytes}, {4, "geom"}, {6, 0}}},
	} {
		l, err := read(geo("", c.element, plain(1, encodingPlain, words(pointWKB))))
		got := strings.TrimRight(strings.Join(l.Describe(), "|"), "\x00")
		if err != nil || got != c.want || !strings.HasPrefix(strings.Join(l.Tell(), "|"), c.told) || c.told == "" && len(l.Told) > 0 {
			t.Errorf("%s: %q, told %q, %v, want %q", c.name, got, l.Tell(), err, c.want)
		}
	}
}

// TestListsOfNumbers: geometries as lists of numbers (GeoParquet 1.1, native encodings), by the
// repetition levels of their positions: 0 begins a row, the others say which list goes on.
func TestListsOfNumbers(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		encoding string
		lists    int
		again    []byte // repetition levels
		x        []float64
		want     string
	}{
		{"point", 0, []byte{0, 0}, []float64{1, 2}, "Point 1 -1|Point 2 -2"}, {"point", 0, []byte{0, 0}, []float64{nan, 2}, "|Point 2 -2"},
		{"multipoint", 1, []byte{0, 1, 0}, []float64{1, 2, 3}, "MultiPoint 1 -1,2 -2|MultiPoint 3 -3"}, {"linestring", 1, []byte{0, 1, 0, 1}, []float64{1, 2, 3, 4}, "LineString (1 -1,2 -2)|LineString (3 -3,4 -4)"},
		{"multilinestring", 2, []byte{0, 2, 1, 2, 0}, []float64{1, 2, 3, 4, 5}, "MultiLineString (1 -1,2 -2)(3 -3,4 -4)|MultiLineString (5 -5)"}, {"polygon", 2, []byte{0, 2, 1, 2, 0}, []float64{1, 2, 3, 4, 5}, "Polygon ((1 -1,2 -2)(3 -3,4 -4))|Polygon ((5 -5))"},
		{"multipolygon", 3, []byte{0, 3, 2, 3, 1, 3, 0}, []float64{1, 2, 3, 4, 5, 6, 7}, "MultiPolygon ((1 -1,2 -2)(3 -3,4 -4))((5 -5,6 -6))|MultiPolygon ((7 -7))"},
	} {
		schema := []fields{{{4, "root"}, {5, 1}}, {{4, "g"}, {5, 1}}}
		for range c.lists {
			schema = append(schema, fields{{3, 2}, {4, "list"}, {5, 1}})
		}
		schema[len(schema)-1] = append(schema[len(schema)-1][:len(schema[len(schema)-1])-1], field{5, 2})
		schema = append(schema, fields{{1, parquetDouble}, {4, "x"}}, fields{{1, parquetDouble}, {4, "y"}})
		numbers := func(sign float64, again []byte) []byte {
			var body []byte
			if c.lists > 0 { // levels of one value each, both kinds
				for _, deep := range []bool{false, true} {
					var runs []byte
					for _, level := range again {
						if deep {
							level = byte(c.lists)
						}
						runs = append(runs, 2, level)
					}
					body = append(body, byte(len(runs)), 0, 0, 0)
					body = append(body, runs...)
				}
			}
			for _, v := range c.x {
				body = append(body, int64s(int64(math.Float64bits(sign*v)))...)
			}
			return plain(len(c.x), encodingPlain, body)
		}
		of := fmt.Sprintf(`{"primary_column":"g","columns":{"g":{"encoding":%q}}}`, c.encoding)
		l, err := read(withGeo(of, schema, [][]byte{numbers(1, c.again), numbers(-1, c.again)}, 2))
		if got := strings.Join(l.Describe(), "|"); err != nil || got != c.want {
			t.Errorf("%s: %s, %v, want %s", c.encoding, got, err, c.want)
		}
		if c.lists == 0 {
			continue
		}
		other := append([]byte(nil), c.again...)
		other[1] = 0
		_, err = read(withGeo(of, schema, [][]byte{numbers(1, c.again), numbers(-1, other)}, 2))
		refuses(t, c.encoding+" with other lists of y", err, "row 1", "the column cannot be read: geometries: x and y do not belong together", copyAgain)
		first := 1 // positions of the first row
		for first < len(c.again) && c.again[first] != 0 {
			first++
		}
		for most, refused := range map[int]bool{first: false, first - 1: true} {
			limits := format.DefaultLimits()
			limits.Vertices = most
			_, err = read(withGeo(of, schema, [][]byte{numbers(1, c.again), numbers(-1, c.again)}, 2), limits)
			if (err != nil) != refused || refused && !strings.Contains(err.Error(), "more vertices than limits.vertices allows") {
				t.Errorf("%s with %d vertices: %v", c.encoding, most, err)
			}
		}
	}
}
