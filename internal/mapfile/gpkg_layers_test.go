package mapfile

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/paulmach/orb/geojson"
)

// TestGeoPackageIsTheGeoJSON: every property and shape of every feature in every GeoJSON layer
// equals that of the database row in the same position. No database layer that also has a GeoJSON
// file has other rows or columns. Both are compared as written to files, not with the tables they
// were made from.
func TestGeoPackageIsTheGeoJSON(t *testing.T) {
	run := fixture()
	db := filepath.Join(t.TempDir(), "driftreach.gpkg")
	save(t, db, packed(t, run))
	layers, cells := 0, 0
	for _, d := range Deliverables(Extras{Network: true, Notices: true, Units: true, SurveyNext: true}) {
		file := made(t, d, run, 1)
		layer, is := strings.CutSuffix(file.name, ".geojson")
		if !is || layer == "survey_next" && run.Stretches == nil {
			continue
		}
		layers++
		cells += holdLayer(t, db, layer, file.data)
	}
	if layers < 8 || cells < 2500 {
		t.Errorf("%d cells of %d layers were held", cells, layers)
	}
}

// holdLayer compares a database layer with a GeoJSON file, and returns the number of values
// compared.
func holdLayer(t *testing.T, file, layer string, data []byte) (cells int) {
	t.Helper()
	all, err := geojson.UnmarshalFeatureCollection(data)
	if err != nil {
		t.Fatal(err)
	}
	shapes, rows := packedRows(t, file, layer)
	if len(rows) != len(all.Features) {
		t.Fatalf("%s: %d rows for %d features", layer, len(rows), len(all.Features))
	}
	for i, f := range all.Features {
		want := map[string]any{}
		for name := range all.Features[0].Properties {
			v, there := f.Properties[name]
			if !there && rows[i][columnOf(name)] == "" {
				v = "" // an empty list
			}
			want[columnOf(name)] = columnText(v)
			cells++
		}
		for name := range f.Properties {
			if _, there := all.Features[0].Properties[name]; !there {
				t.Errorf("%s, row %d: %s is no property of the first feature", layer, i, name)
			}
		}
		if diff := cmp.Diff(want, rows[i]); diff != "" {
			t.Errorf("%s, row %d: (-GeoJSON +GeoPackage)\n%.800s", layer, i, diff)
		}
		if one, two := multi(f.Geometry), multi(shapes[i]); !cmp.Equal(one, two) {
			t.Errorf("%s, row %d: shape\n%.300v\nis\n%.300v", layer, i, one, two)
		}
	}
	return cells
}

// columnOf returns the column of a property in the database, which ignores case: a carried column
// of the fixture has the same name as the row key.
func columnOf(name string) string { return strings.ToLower(name) }

// columnText returns a property as stored in a column: flags as numbers, lists as one text.
func columnText(v any) any {
	switch v := v.(type) {
	case bool:
		if v {
			return 1.
		}
		return 0.
	case []any:
		items := make([]string, len(v))
		for i, item := range v {
			items[i] = fmt.Sprint(item)
		}
		return strings.Join(items, "; ")
	case string:
		return strings.ReplaceAll(v, "\x00", "")
	}
	return v
}

// packedRows returns the shapes and the values of a layer, numbers as JSON has them.
func packedRows(t *testing.T, file, layer string) (shapes []orb.Geometry, rows []map[string]any) {
	t.Helper()
	db, err := sql.Open("sqlite", file)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var plus []string
	names := texts(t, db, "SELECT name FROM pragma_table_info(?) WHERE name NOT IN ('fid', 'geom')", layer)
	for _, name := range quotedNames(names) {
		plus = append(plus, "+"+name) // the sign keeps the driver from converting texts to times
	}
	list, err := db.Query("SELECT geom, " + strings.Join(plus, ", ") + " FROM " + quotedName(layer) + " ORDER BY fid")
	if err != nil {
		t.Fatal(err)
	}
	defer list.Close()
	for list.Next() {
		values, into := make([]any, len(names)+1), make([]any, len(names)+1)
		for i := range values {
			into[i] = &values[i]
		}
		if err := list.Scan(into...); err != nil {
			t.Fatal(err)
		}
		row := map[string]any{}
		for i, name := range names {
			row[strings.ToLower(name)] = asJSON(t, values[i+1])
		}
		rows = append(rows, row)
		blob, _ := values[0].([]byte)
		shapes = append(shapes, unpackShape(t, blob))
	}
	return shapes, rows
}

func asJSON(t *testing.T, v any) (out any) {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// unpackShape returns the geometry in a blob (12-128r18, section 2.1.3); nil for none.
func unpackShape(t *testing.T, blob []byte) orb.Geometry {
	t.Helper()
	if blob == nil {
		return nil
	}
	head := 8
	if blob[3]&0x0E == 0x02 {
		head += 32
	}
	g, err := wkb.Unmarshal(blob[head:])
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// multi turns a single shape into a collection of one, as in layers of one type.
func multi(g orb.Geometry) orb.Geometry {
	switch g := g.(type) {
	case orb.Polygon:
		return orb.MultiPolygon{g}
	case orb.LineString:
		return orb.MultiLineString{g}
	case orb.Point:
		return orb.MultiPoint{g}
	}
	return g
}
