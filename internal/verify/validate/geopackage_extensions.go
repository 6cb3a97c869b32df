package validate

import (
	"context"
	"database/sql"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// styleTable is where desktop programs look for styles. It is listed like a layer.
const styleTable = "layer_styles"

// extensions checks the contents of a GeoPackage besides its layers: everything it names must exist.
func (r *Report) extensions(ctx context.Context, db *sql.DB, kinds map[string]string) {
	if kinds["gpkg_extensions"] == "" {
		return
	}
	indexes, err := pairs(ctx, db, "SELECT table_name, column_name FROM gpkg_extensions WHERE extension_name = 'gpkg_rtree_index'")
	if err != nil {
		r.addf("gpkg_extensions cannot be read: %v", err)
		return
	}
	for _, table := range slices.Sorted(maps.Keys(indexes)) {
		r.spatialIndex(ctx, db, table, indexes[table])
	}
	for _, rule := range extensionRules {
		if kinds[rule.of] == "" {
			continue
		}
		var wrong sql.NullString
		if err := db.QueryRowContext(ctx, rule.wrong).Scan(&wrong); err != nil && err != sql.ErrNoRows {
			r.addf("%s cannot be read: %v", rule.of, err)
		} else if wrong.Valid {
			r.addf("%s: %q %s", rule.of, wrong.String, rule.told)
		}
	}
	if kinds["gpkgext_relations"] != "" {
		r.relations(ctx, db)
	}
}

// extensionRules are queries that find wrong rows, and return their names (12-128r18, section 2.3 and
// annex F.8; OGC 18-000 for relations).
var extensionRules = []struct{ of, wrong, told string }{
	{"gpkg_extensions", "SELECT table_name FROM gpkg_extensions WHERE table_name NOT IN (SELECT name FROM sqlite_schema)", "is a table that is not there"},
	{"gpkg_metadata_reference", "SELECT md_file_id FROM gpkg_metadata_reference WHERE md_file_id NOT IN (SELECT id FROM gpkg_metadata)", "is no metadata"},
	{"gpkg_metadata_reference", "SELECT table_name FROM gpkg_metadata_reference WHERE table_name NOT IN (SELECT table_name FROM gpkg_contents)", "is no table with contents"},
	{"gpkg_metadata_reference", "SELECT column_name FROM gpkg_metadata_reference r WHERE column_name NOT NULL AND column_name NOT IN (SELECT name FROM pragma_table_info(r.table_name))", "is no column of its table"},
	{"gpkgext_relations", "SELECT base_table_name FROM gpkgext_relations WHERE base_table_name NOT IN (SELECT table_name FROM gpkg_contents)", "is no table with contents"},
	{"gpkgext_relations", "SELECT related_table_name FROM gpkgext_relations WHERE related_table_name NOT IN (SELECT table_name FROM gpkg_contents)", "is no table with contents"},
	{styleTable, "SELECT f_table_name FROM layer_styles WHERE (f_table_name, f_geometry_column) NOT IN (SELECT table_name, column_name FROM gpkg_geometry_columns)", "is no layer"},
}

func quoted(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

// spatialIndex checks that a layer's index has each row with a shape once, and that its triggers exist
// (12-128r18, annex F.3).
func (r *Report) spatialIndex(ctx context.Context, db *sql.DB, table, column string) {
	index := quoted("rtree_" + table + "_" + column)
	var shapes, rows, strays, triggers int
	err := db.QueryRowContext(ctx, fmt.Sprintf("SELECT (SELECT count(*) FROM %s WHERE %s NOT NULL), (SELECT count(*) FROM %s), (SELECT count(*) FROM %s WHERE id NOT IN (SELECT rowid FROM %s)), "+
		"(SELECT count(*) FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = ?)", quoted(table), quoted(column), index, index, quoted(table)), table).Scan(&shapes, &rows, &strays, &triggers)
	switch {
	case err != nil:
		r.addf("the spatial index of %s cannot be read: %v", table, err)
	case shapes != rows || strays > 0:
		r.addf("the spatial index of %s has %d rows for %d shapes, %d of none of its rows", table, rows, shapes, strays)
	case triggers < indexTriggers:
		r.addf("%s has %d triggers, its spatial index needs %d", table, triggers, indexTriggers)
	}
}

// indexTriggers is the number of triggers that maintain a spatial index.
const indexTriggers = 6

// relations checks that every pair of a relation names two existing rows (OGC 18-000).
func (r *Report) relations(ctx context.Context, db *sql.DB) {
	rows, err := db.QueryContext(ctx, "SELECT base_table_name, base_primary_column, related_table_name, related_primary_column, mapping_table_name FROM gpkgext_relations")
	if err != nil {
		r.addf("gpkgext_relations cannot be read: %v", err)
		return
	}
	var all [][5]string
	for rows.Next() {
		var one [5]string
		if err := rows.Scan(&one[0], &one[1], &one[2], &one[3], &one[4]); err != nil {
			r.addf("gpkgext_relations cannot be read: %v", err)
		}
		all = append(all, one)
	}
	rows.Close()
	for _, one := range all {
		var loose int
		err := db.QueryRowContext(ctx, fmt.Sprintf("SELECT count(*) FROM %s WHERE base_id NOT IN (SELECT %s FROM %s) OR related_id NOT IN (SELECT %s FROM %s)",
			quoted(one[4]), quoted(one[1]), quoted(one[0]), quoted(one[3]), quoted(one[2]))).Scan(&loose)
		if err != nil || loose > 0 {
			r.addf("the relation %s has %d pairs of rows that are not there %v", one[4], loose, err)
		}
	}
}
