package malformed

import (
	"context"
	"database/sql"
	"fmt"
	"slices"

	_ "modernc.org/sqlite" // the driver
)

// Sound are the SQLite statements that make a valid GeoPackage of two finds.
var Sound = []string{
	"CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT, srs_id INTEGER PRIMARY KEY, organization TEXT, organization_coordsys_id INTEGER, definition TEXT, description TEXT)",
	"INSERT INTO gpkg_spatial_ref_sys VALUES ('WGS 84', 4326, 'EPSG', 4326, '', '')",
	"CREATE TABLE gpkg_contents (table_name TEXT, data_type TEXT, identifier TEXT, srs_id INTEGER)",
	"CREATE TABLE gpkg_geometry_columns (table_name TEXT, column_name TEXT, geometry_type_name TEXT, srs_id INTEGER, z INTEGER, m INTEGER)",
	"INSERT INTO gpkg_contents VALUES ('finds', 'features', 'finds', 4326)",
	"INSERT INTO gpkg_geometry_columns VALUES ('finds', 'geom', 'POINT', 4326, 0, 0)",
	"CREATE TABLE finds (fid INTEGER PRIMARY KEY, geom BLOB, occurrenceID TEXT, eventDate DATE, patch_area_m2 DOUBLE)",
	"INSERT INTO finds VALUES (1, " + aPlace + ", 'a', '2026-07-01', 12.5), (2, x'4750000100000000010100000000000000000025c00000000000804140', 'b', '2026-07-02', 3)",
}

// aPlace is a geometry in the GeoPackage binary format (OGC 12-128r18, clause 2.1.3).
const aPlace = "x'4750000100000000010100000000000000000025c00000000000404140'"

// endless is the beginning of a statement that never ends.
const endless = "WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n WHERE x > 0) "

// renamed changes the name in a row of the schema, so that it differs from the one in the row's SQL.
func renamed(from, to string) string {
	return fmt.Sprintf("UPDATE sqlite_schema SET name = '%s', tbl_name = '%s' WHERE name = '%s'", to, to, from)
}

// asking is a GeoPackage made by changing a valid one with more statements.
type asking struct {
	name       string
	statements []string
}

// view replaces a table by an endless view.
func view(table, columns string) []string {
	return []string{"DROP TABLE " + table, fmt.Sprintf("CREATE VIEW %s AS %s SELECT %s FROM n WHERE x < 0", table, endless, columns)}
}

// disguised is a view that poses as a table: its row in the schema says table, but its SQL makes a
// view.
func disguised(table, columns string) []string {
	return append(view(table, columns), "PRAGMA writable_schema = 1", "UPDATE sqlite_schema SET type = 'table', rootpage = 2 WHERE name = '"+table+"'")
}

// nested are views that each use the previous one twice, which makes two to the power of 60 paths.
func nested() []string {
	all := []string{"CREATE VIEW v0 AS SELECT 1 AS x"}
	for i := range 60 {
		all = append(all, fmt.Sprintf("CREATE VIEW v%d AS SELECT a.x FROM v%d a, v%d b", i+1, i, i))
	}
	return append(all, "INSERT INTO gpkg_contents VALUES ('v60', 'attributes', 'v60', 0)")
}

// made adds a computed column to the layer.
func made(expression, kind string) []string {
	return []string{
		"ALTER TABLE finds RENAME TO old",
		"CREATE TABLE finds (fid INTEGER PRIMARY KEY, geom BLOB, occurrenceID TEXT, eventDate DATE, patch_area_m2 DOUBLE AS (" + expression + ") " + kind + ")",
		"INSERT INTO finds SELECT fid, geom, occurrenceID, eventDate FROM old",
	}
}

// What the views pretend to contain: rows of the layer and of the system tables.
const (
	finds = "x AS fid, NULL AS geom, 'a' AS occurrenceID, '2026-07-01' AS eventDate, 1.0 AS patch_area_m2"
	lists = "'finds' AS table_name, 'features' AS data_type, 'geom' AS column_name, 4326 AS srs_id, 'EPSG' AS organization, 4326 AS organization_coordsys_id, '' AS definition"
)

// views are GeoPackages that would make SQLite work through views and triggers, or whose schema is
// inconsistent.
func views() []asking {
	return []asking{
		{"no changes", nil},
		{"a layer that is an endless view", view("finds", finds)},
		{"contents that are an endless view", view("gpkg_contents", lists)},
		{"geometry columns that are an endless view", view("gpkg_geometry_columns", lists)},
		{"reference systems that are an endless view", view("gpkg_spatial_ref_sys", lists)},
		{"an endless view that says it is the layer's table", disguised("finds", finds)},
		{"an endless view that says it is the table of contents", disguised("gpkg_contents", lists)},
		{"an endless view that says it is the table of geometry columns", disguised("gpkg_geometry_columns", lists)},
		{"an endless view that says it is the table of reference systems", disguised("gpkg_spatial_ref_sys", lists)},
		{"an endless view whose row has the name of another", append(view("gpkg_contents", lists), "CREATE TABLE other (x)", "PRAGMA writable_schema = 1",
			renamed("gpkg_contents", "a_view"), renamed("other", "gpkg_contents"))},
		{"a layer whose row has the name of another", []string{"CREATE TABLE other (fid INTEGER PRIMARY KEY, geom BLOB, occurrenceID TEXT)", "PRAGMA writable_schema = 1",
			renamed("finds", "third"), renamed("other", "finds"), renamed("third", "other")}},
		{"views within views", nested()},
		{"views within views that say they are the contents", slices.Concat(nested(), []string{"DROP TABLE gpkg_contents", "CREATE TABLE other (x)", "CREATE VIEW gpkg_contents AS SELECT x AS table_name, x AS data_type FROM v60",
			"PRAGMA writable_schema = 1", renamed("gpkg_contents", "a_view"), renamed("other", "gpkg_contents")})},
		{"a layer with triggers", []string{"CREATE TRIGGER t1 AFTER INSERT ON finds BEGIN INSERT INTO finds(occurrenceID) " + "SELECT 'c'; END",
			"CREATE TRIGGER t2 BEFORE UPDATE ON finds BEGIN DELETE FROM finds; END"}},
		{"an endless view with a trigger for what is put into it", append(view("finds", finds), "CREATE TRIGGER t1 INSTEAD OF INSERT ON finds BEGIN SELECT 1; END")},
	}
}

// madeUp are GeoPackages with unexpected columns, indexes, sizes and names.
func madeUp() []asking {
	return []asking{
		{"areas made up of half a thousand million bytes", made("length(hex(zeroblob(250000000)))", "VIRTUAL")},
		{"areas made up and stored", made("fid * 2", "STORED")},
		{"geometries made up", []string{"ALTER TABLE finds RENAME TO old", "CREATE TABLE finds (fid INTEGER PRIMARY KEY, geom BLOB AS (zeroblob(900000000)) VIRTUAL, occurrenceID TEXT)",
			"INSERT INTO finds(fid, occurrenceID) SELECT fid, occurrenceID FROM old"}},
		{"a column that is nine hundred million bytes unless it is given", []string{"ALTER TABLE finds ADD COLUMN notes TEXT DEFAULT 'x'", "PRAGMA writable_schema = 1",
			"UPDATE sqlite_schema SET sql = replace(sql, 'DEFAULT ''x''', 'DEFAULT (hex(zeroblob(450000000)))') WHERE name = 'finds'"}},
		{"the day of reading where none is given", []string{"ALTER TABLE finds RENAME TO old", "CREATE TABLE finds (fid INTEGER PRIMARY KEY, geom BLOB, occurrenceID TEXT DEFAULT (upper('c')), eventDate DATE DEFAULT (date('now')))",
			"INSERT INTO finds SELECT fid, geom, occurrenceID, eventDate FROM old"}},
		{"an index on an expression", []string{"CREATE INDEX i ON finds (hex(geom), length(occurrenceID))"}},
		{"an index on all columns", []string{"CREATE INDEX i ON finds (geom, occurrenceID, eventDate, patch_area_m2)"}},
		{"a layer that is an index by itself", []string{"ALTER TABLE finds RENAME TO old", "CREATE TABLE finds (fid INTEGER PRIMARY KEY, geom BLOB, occurrenceID TEXT) WITHOUT ROWID",
			"INSERT INTO finds SELECT fid, geom, occurrenceID FROM old"}},
		{"a layer that is a virtual table", []string{"DROP TABLE finds", "CREATE VIRTUAL TABLE finds USING rtree(fid, w, e, s, n)"}},
		{"contents that are a virtual table", []string{"DROP TABLE gpkg_contents", "CREATE VIRTUAL TABLE gpkg_contents USING fts5(table_name, data_type)",
			"INSERT INTO gpkg_contents VALUES ('finds', 'features')"}},
		{"a geometry of 20 MB", []string{"UPDATE finds SET geom = CAST(" + aPlace + " || zeroblob(20000000) AS BLOB) WHERE fid = 1"}},
		{"a text of 20 MB", []string{"UPDATE finds SET occurrenceID = hex(zeroblob(10000000)) WHERE fid = 1"}},
		{"contents of 100 000 rows", []string{endless + "INSERT INTO gpkg_contents SELECT 't' || x, 'features', '', 4326 FROM n LIMIT 100000"}},
		{"100 000 reference systems", []string{"DELETE FROM gpkg_spatial_ref_sys", endless + "INSERT INTO gpkg_spatial_ref_sys SELECT 'x', x + 5000, 'EPSG', 4326, 'LOCAL_CS[]', '' FROM n LIMIT 100000"}},
		{"a name of quotation marks", []string{`ALTER TABLE finds RENAME TO """; DROP TABLE x; --"`, `UPDATE gpkg_contents SET table_name = '"; DROP TABLE x; --'`, `UPDATE gpkg_geometry_columns SET table_name = '"; DROP TABLE x; --'`}},
		{"a geometry column with a name of quotation marks", []string{`ALTER TABLE finds RENAME COLUMN geom TO """ FROM gpkg_contents; --"`, `UPDATE gpkg_geometry_columns SET column_name = '" FROM gpkg_contents; --'`}},
		{"the layer is the schema", []string{"UPDATE gpkg_contents SET table_name = 'sqlite_schema'", "UPDATE gpkg_geometry_columns SET table_name = 'sqlite_schema', column_name = 'sql'"}},
		{"the layer is a list of functions", []string{"UPDATE gpkg_contents SET table_name = 'pragma_function_list', data_type = 'attributes'"}},
	}
}

// databases are GeoPackages that would make SQLite work.
func databases() []Case {
	var all []Case
	for _, c := range append(views(), madeUp()...) {
		b, err := database(c.statements)
		if err != nil { // cannot fail: the statements are our own
			panic(c.name + ": " + err.Error())
		}
		all = append(all, Case{Name: "GeoPackage with " + c.name, Ending: ".gpkg", Bytes: b})
	}
	// SQLite reads an index that covers all columns of a query instead of the table. Here the index's
	// first page, the last of the file, leads into a maze. A cell is a child page, the length of a
	// record, and a record with one column of an unknown type.
	b, err := database([]string{"CREATE INDEX i ON gpkg_contents (table_name, data_type)"})
	if err != nil {
		panic(err)
	}
	b = mazeOf(b, len(b)/4096, 2, []byte{2, 2, 0})
	return append(all, Case{Name: "GeoPackage with an index that leads into a maze", Ending: ".gpkg", Bytes: b})
}

// database returns the bytes of a valid GeoPackage after some more statements.
func database(more []string) ([]byte, error) {
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return nil, err
	}
	defer db.Close()
	db.SetMaxOpenConns(1) // in memory, each connection would have its own database
	for _, s := range slices.Concat([]string{"PRAGMA page_size = 4096", "PRAGMA legacy_alter_table = 1"}, Sound, more) {
		if _, err := db.Exec(s); err != nil {
			return nil, fmt.Errorf("%s: %w", s, err)
		}
	}
	rows, err := db.QueryContext(context.Background(), "SELECT data FROM sqlite_dbpage ORDER BY pgno")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []byte
	for rows.Next() {
		var page sql.RawBytes
		if err := rows.Scan(&page); err != nil {
			return nil, err
		}
		all = append(all, page...)
	}
	return all, rows.Err()
}
