package mapfile

import (
	"bytes"
	"database/sql"
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/result"
)

// packed returns the GeoPackage of a run.
func packed(t testing.TB, run *result.Run) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := writeGeoPackage(&b, run, true); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestGeoPackageIsTheSame: the same run gives the same bytes, and the file begins as the standard
// requires (12-128r18, requirements 1 and 2).
func TestGeoPackageIsTheSame(t *testing.T) {
	one, two := packed(t, fixture()), packed(t, fixture())
	if !bytes.Equal(one, two) {
		t.Error("two files of one run differ")
	}
	if !bytes.HasPrefix(one, []byte("SQLite format 3\x00")) || string(one[68:72]) != "GPKG" {
		t.Errorf("the file begins %q, application %q", one[:16], one[68:72])
	}
	if len(packed(t, &result.Run{})) == 0 {
		t.Error("nothing is written for an empty run")
	}
}

// TestGeoPackageInGDAL: GDAL (reference program, Debian's gdal-bin) opens every
// layer without a warning, with the run's rows, types and values.
func TestGeoPackageInGDAL(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (gdal-bin): the GeoPackage is not opened with GDAL")
	}
	run := fixture()
	file := filepath.Join(t.TempDir(), "driftreach.gpkg")
	save(t, file, packed(t, run))
	rows := 0
	for _, l := range packLayers(run, true) {
		rows += l.table.Rows
		if l.geometry != "" {
			rows++ // the row of its style
		}
	}
	if got := gdalFeatures(t, file); got != rows {
		t.Errorf("GDAL sees %d rows, the run has %d", got, rows)
	}
	out, err := exec.Command("ogrinfo", "-so", "-al", file).CombinedOutput()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Layer name: stands", "Layer name: aquatic_zone", "Layer name: reaches", "Layer name: points", "Layer name: findings", "Layer name: summary", "Layer name: cautions", "Layer name: network",
		"Geometry: Multi Polygon", "Geometry: Multi Line String", "Geometry: Point", "Geometry: None", `ID["EPSG",4326]`,
		"aquatic_zone: Integer(Boolean)", "first_detected: Date", "infested_acres: Real", "points: Integer", "stand_id: String",
	} {
		if !strings.Contains(string(out), want) {
			t.Errorf("GDAL does not say %q", want)
		}
	}
	out, err = exec.Command("ogrinfo", "-q", file, "-sql", "SELECT sum(HasSpatialIndex(table_name, column_name)) AS found, count(*) AS layers FROM gpkg_geometry_columns").CombinedOutput()
	if layers := strconv.Itoa(len(signedLayers(run))); err != nil || !strings.Contains(string(out), "found (Integer) = "+layers) || !strings.Contains(string(out), "layers (Integer) = "+layers) {
		t.Errorf("GDAL finds spatial indexes %v\n%s", err, out)
	}
}

// signedLayers are the layers with shapes, by name.
func signedLayers(run *result.Run) (names []string) {
	for _, l := range packLayers(run, true) {
		if l.geometry != "" {
			names = append(names, l.table.Name)
		}
	}
	return names
}

var shapeText = regexp.MustCompile(`MULTI[A-Z]+ \([-0-9., ()]+\)`)

// TestGeoPackageHoldsTheGeoJSON: GDAL reads the same shapes from points.geojson and from the
// database.
func TestGeoPackageHoldsTheGeoJSON(t *testing.T) {
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		t.Skip("ogr2ogr is not installed (gdal-bin): shapes are not compared")
	}
	run, dir := fixture(), t.TempDir()
	save(t, filepath.Join(dir, "a.gpkg"), packed(t, run))
	for _, d := range Deliverables(Extras{}) {
		file := made(t, d, run, 1)
		layer, isLayer := strings.CutSuffix(file.name, ".geojson")
		if !isLayer {
			continue
		}
		save(t, filepath.Join(dir, file.name), file.data)
		shapes := func(name string) string {
			out, err := exec.Command("ogr2ogr", "-f", "CSV", "/vsistdout/", filepath.Join(dir, name), layer, "-lco", "GEOMETRY=AS_WKT",
				"-nlt", "PROMOTE_TO_MULTI", "-lco", "SEPARATOR=TAB").CombinedOutput()
			if err != nil {
				t.Fatalf("%v: %s", err, out)
			}
			return strings.Join(shapeText.FindAllString(string(out), -1), "\n")
		}
		if one, two := shapes(file.name), shapes("a.gpkg"); one != two || one == "" {
			t.Errorf("%s: GeoJSON\n%.600s\nGeoPackage\n%.600s", layer, one, two)
		}
	}
}

func BenchmarkGeoPackage(b *testing.B) {
	run := many(20_000, 32)
	for range b.N {
		b.SetBytes(int64(len(packed(b, run))))
	}
}

// Every row of every layer has the values and shape of its own record, as read by SQLite.
func TestGeoPackageRowsAreTheirOwn(t *testing.T) {
	run := fixture()
	file := filepath.Join(t.TempDir(), "driftreach.gpkg")
	save(t, file, packed(t, run))
	db, err := sql.Open("sqlite", file)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, l := range packLayers(run, true) {
		columns := columnNames(l)
		rows, err := db.Query("SELECT +" + strings.Join(quotedNames(columns), ", +") + " FROM " + quotedName(l.table.Name) + " ORDER BY rowid")
		if err != nil {
			t.Fatal(err)
		}
		var want, got []any
		row := 0
		for ; rows.Next(); row++ {
			values, into := make([]any, len(columns)), make([]any, len(columns))
			for i := range values {
				into[i] = &values[i]
			}
			if err := rows.Scan(into...); err != nil {
				t.Fatal(err)
			}
			got = append(got, values...)
			for _, v := range l.table.Row(run, row, nil) {
				want = append(want, sqlValue(v))
			}
		}
		rows.Close()
		if diff := cmp.Diff(fmt.Sprint(want...), fmt.Sprint(got...)); diff != "" || row != l.table.Rows {
			t.Errorf("%s, %d rows: (-want +got)\n%s", l.table.Name, row, diff)
		}
	}
}
