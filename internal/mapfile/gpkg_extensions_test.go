package mapfile

import (
	"database/sql"
	"encoding/xml"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/internal/result"
	"driftreach/internal/verify/validate"
)

// opened returns the fixture's GeoPackage: the file's name and the open database.
func opened(t *testing.T) (string, *sql.DB) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "driftreach.gpkg")
	save(t, file, packed(t, fixture()))
	db, err := sql.Open("sqlite", file)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	return file, db
}

// texts returns the first column of a query's rows.
func texts(t *testing.T, db *sql.DB, query string, values ...any) []string {
	t.Helper()
	rows, err := db.Query(query, values...)
	if err != nil {
		t.Fatalf("%s: %v", query, err)
	}
	defer rows.Close()
	var all []string
	for rows.Next() {
		var one string
		if err := rows.Scan(&one); err != nil {
			t.Fatal(err)
		}
		all = append(all, one)
	}
	return all
}

// TestSpatialIndexHoldsEveryBox: SQLite's own check finds the index trees sound. Each row's box in
// the index contains the envelope in its blob's header, within the rounding of 32-bit numbers
// (12-128r18, annex F.3; https://www.sqlite.org/rtree.html, section 3.2).
func TestSpatialIndexHoldsEveryBox(t *testing.T) {
	_, db := opened(t)
	seen := 0
	for _, layer := range texts(t, db, "SELECT table_name FROM gpkg_geometry_columns") {
		if said := texts(t, db, "SELECT rtreecheck(?)", "rtree_"+layer+"_geom"); said[0] != "ok" {
			t.Errorf("%s: %s", layer, said)
		}
		var known int
		if err := db.QueryRow(`SELECT count(*) FROM gpkg_extensions WHERE table_name = ? AND column_name = 'geom' AND extension_name = 'gpkg_rtree_index' AND scope = 'write-only'`, layer).Scan(&known); err != nil || known != 1 {
			t.Errorf("%s: its index is entered %d times, %v", layer, known, err)
		}
		rows, err := db.Query(`SELECT l.geom, r.minx, r.maxx, r.miny, r.maxy FROM "` + layer + `" l LEFT JOIN "rtree_` + layer + `_geom" r ON r.id = l.fid WHERE l.geom NOT NULL`)
		if err != nil {
			t.Fatal(err)
		}
		for rows.Next() {
			var blob []byte
			var index [4]float64
			if err := rows.Scan(&blob, &index[0], &index[1], &index[2], &index[3]); err != nil {
				t.Fatal(err) // also if a row is missing in the index
			}
			const off = 2e-5 // of 180 degrees in 24 bits
			for i, edge := range blobEnvelopeOf(t, blob) {
				inside := index[i] - edge // positive: the index box is smaller
				if i%2 == 1 {
					inside = -inside
				}
				if inside > 0 || inside < -off {
					t.Errorf("%s: the index has %v of an envelope of %v", layer, index, blobEnvelopeOf(t, blob))
				}
			}
			seen++
		}
		rows.Close()
	}
	if seen < 100 {
		t.Errorf("%d boxes were held", seen)
	}
}

// TestSpatialIndexFollowsChanges: the triggers keep the index correct in GDAL, which has the
// functions they call, when a shape is moved, emptied, added or removed.
func TestSpatialIndexFollowsChanges(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (gdal-bin): the GeoPackage is not changed by GDAL")
	}
	file, db := opened(t)
	for _, statement := range []string{
		"UPDATE stands SET geom = (SELECT geom FROM stands WHERE fid = 3) WHERE fid = 1", "UPDATE stands SET geom = NULL WHERE fid = 2",
		"UPDATE stands SET fid = 900 WHERE fid = 4", "DELETE FROM stands WHERE fid = 5",
		"INSERT INTO stands (fid, geom) SELECT 901, geom FROM stands WHERE fid = 3",
	} {
		if out, err := exec.Command("ogrinfo", "-q", file, "-sql", statement).CombinedOutput(); err != nil || strings.Contains(string(out), "ERROR") {
			t.Fatalf("%s: %v %s", statement, err, out)
		}
	}
	// rounded, since each program rounds to 32 bits in its own way
	const boxes = "SELECT round(minx, 4) || ' ' || round(maxx, 4) || ' ' || round(miny, 4) || ' ' || round(maxy, 4) FROM rtree_stands_geom WHERE id = ?"
	third := texts(t, db, boxes, 3)
	for _, c := range []struct {
		id   int
		want []string
	}{{1, third}, {2, nil}, {4, nil}, {5, nil}, {901, third}} {
		if got := texts(t, db, boxes, c.id); strings.Join(got, ";") != strings.Join(c.want, ";") {
			t.Errorf("row %d is at %v, want %v", c.id, got, c.want)
		}
	}
	if len(texts(t, db, boxes, 900)) != 1 {
		t.Error("a row with another key is not in the index")
	}
}

// blobEnvelopeOf returns west, east, south and north of a blob; those of its point if it has no
// envelope.
func blobEnvelopeOf(t *testing.T, blob []byte) [4]float64 {
	t.Helper()
	at := unpackShape(t, blob).Bound()
	return [4]float64{at.Min[0], at.Max[0], at.Min[1], at.Max[1]}
}

// TestMetadataAndRelations: the file has its cautions and its origin, and for each column the
// source of its rule. Each relation pairs the stands with the rows that name them. All are read
// with SQLite.
func TestMetadataAndRelations(t *testing.T) {
	_, db := opened(t)
	run := fixture()
	whole := texts(t, db, "SELECT metadata FROM gpkg_metadata m JOIN gpkg_metadata_reference r ON r.md_file_id = m.id WHERE r.reference_scope = 'geopackage'")
	if len(whole) != 1 {
		t.Fatalf("%d records are of the whole file", len(whole))
	}
	said := flatText(t, whole[0])
	for _, want := range append(result.Cautions(run), "survey records and stream centerlines of 2026Q3", "2026-09-30") {
		if !strings.Contains(said, want) {
			t.Errorf("the metadata do not say %q", want)
		}
	}
	for _, l := range packLayers(run, true) {
		for k, f := range l.table.Fields {
			got := texts(t, db, "SELECT metadata FROM gpkg_metadata m JOIN gpkg_metadata_reference r ON r.md_file_id = m.id WHERE r.table_name = ? AND r.column_name = ?", l.table.Name, columnNames(l)[k])
			if strings.Join(got, ";") != f.Origin {
				t.Errorf("%s.%s comes from %q, want %q", l.table.Name, f.Name, got, f.Origin)
			}
		}
	}
	related := texts(t, db, "SELECT related_table_name FROM gpkgext_relations")
	if len(related) < 3 {
		t.Errorf("stands are related to %v", related)
	}
	for _, table := range related {
		pairs := `SELECT group_concat(p) FROM (SELECT base_id || '-' || related_id p FROM "stands_` + table + `" ORDER BY p)`
		named := `SELECT group_concat(p) FROM (SELECT s.fid || '-' || r.fid p FROM stands s JOIN "` + table + `" r ON r.stand_id = s.stand_id ORDER BY p)`
		if got, want := texts(t, db, pairs), texts(t, db, named); got[0] != want[0] {
			t.Errorf("%s: pairs %s, want %s", table, got, want)
		}
	}
}

// flatText returns the texts of an XML document.
func flatText(t *testing.T, doc string) string {
	t.Helper()
	var b strings.Builder
	read := xml.NewDecoder(strings.NewReader(doc))
	for {
		token, err := read.Token()
		if err == io.EOF {
			return b.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		if text, is := token.(xml.CharData); is {
			b.Write(text)
		}
	}
}

// TestExtensionMutantsAreCaught: the checks of a finished folder report a GeoPackage whose
// statements about its extensions are false.
func TestExtensionMutantsAreCaught(t *testing.T) {
	file, _ := opened(t)
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if r := validate.GeoPackage(whole); !r.OK() {
		t.Fatal(r.Problems)
	}
	for _, change := range []string{
		"DELETE FROM rtree_stands_geom WHERE id = 1", "UPDATE rtree_stands_geom SET id = 1000 WHERE id = 1", "DROP TRIGGER rtree_stands_geom_update3", "DROP TABLE rtree_stands_geom",
		"UPDATE gpkg_metadata_reference SET md_file_id = 1000 WHERE reference_scope = 'geopackage'", "UPDATE gpkg_metadata_reference SET table_name = 'nothing' WHERE table_name = 'stands'",
		"UPDATE gpkg_metadata_reference SET column_name = 'nothing' WHERE table_name = 'stands'", "UPDATE gpkgext_relations SET related_table_name = 'nothing'",
		"UPDATE stands_points SET base_id = 1000", "UPDATE stands_points SET related_id = 1000", "DROP TABLE stands_points",
		"UPDATE layer_styles SET f_table_name = 'nothing' WHERE f_table_name = 'stands'",
	} {
		save(t, file, whole)
		db, err := sql.Open("sqlite", file)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Exec(change); err != nil {
			t.Fatalf("%s: %v", change, err)
		}
		db.Close()
		mutant, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if validate.GeoPackage(mutant).OK() {
			t.Errorf("not caught: %s", change)
		}
	}
}
