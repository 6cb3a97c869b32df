package mapfile

import (
	"fmt"
	"strings"

	"driftreach/internal/field"
	"driftreach/internal/intake"
	"driftreach/internal/result"
)

// wgs84ID is the id of WGS 84 in the table of reference systems, the same as EPSG's code.
const wgs84ID = 4326

// packSchema creates an empty GeoPackage: application id and version, and the tables of the standard's
// annex C and of the schema extension, annex F.9.
var packSchema = []string{
	`PRAGMA application_id = 1196444487`, // "GPKG"
	`PRAGMA user_version = 10300`,
	`CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER PRIMARY KEY, organization TEXT NOT NULL,
		organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT)`,
	`INSERT INTO gpkg_spatial_ref_sys VALUES
		('Undefined cartesian SRS', -1, 'NONE', -1, 'undefined', 'undefined cartesian coordinate reference system'),
		('Undefined geographic SRS', 0, 'NONE', 0, 'undefined', 'undefined geographic coordinate reference system'),
		('WGS 84 geodetic', 4326, 'EPSG', 4326, 'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563,AUTHORITY["EPSG","7030"]],AUTHORITY["EPSG","6326"]],PRIMEM["Greenwich",0,AUTHORITY["EPSG","8901"]],UNIT["degree",0.0174532925199433,AUTHORITY["EPSG","9122"]],AXIS["Latitude",NORTH],AXIS["Longitude",EAST],AUTHORITY["EPSG","4326"]]', 'longitude and latitude on the WGS 84 ellipsoid')`,
	`CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE, description TEXT DEFAULT '',
		last_change DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')), min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE, srs_id INTEGER,
		CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id))`,
	`CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL,
		z TINYINT NOT NULL, m TINYINT NOT NULL, CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name), CONSTRAINT uk_gc_table_name UNIQUE (table_name),
		CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name), CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id))`,
	`CREATE TABLE gpkg_extensions (table_name TEXT, column_name TEXT, extension_name TEXT NOT NULL, definition TEXT NOT NULL, scope TEXT NOT NULL,
		CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name))`,
	`CREATE TABLE gpkg_data_columns (table_name TEXT NOT NULL, column_name TEXT NOT NULL, name TEXT, title TEXT, description TEXT, mime_type TEXT, constraint_name TEXT,
		CONSTRAINT pk_gdc PRIMARY KEY (table_name, column_name), CONSTRAINT gdc_tn UNIQUE (table_name, name))`,
	`CREATE TABLE gpkg_data_column_constraints (constraint_name TEXT NOT NULL, constraint_type TEXT NOT NULL, value TEXT, min NUMERIC, min_is_inclusive BOOLEAN,
		max NUMERIC, max_is_inclusive BOOLEAN, description TEXT, CONSTRAINT gdcc_ntv UNIQUE (constraint_name, constraint_type, value))`,
	`INSERT INTO gpkg_extensions VALUES
		('gpkg_data_columns', NULL, 'gpkg_schema', 'http://www.geopackage.org/spec130/#extension_schema', 'read-write'),
		('gpkg_data_column_constraints', NULL, 'gpkg_schema', 'http://www.geopackage.org/spec130/#extension_schema', 'read-write')`,
}

// columnNames returns the fields' names. Names that differ only in case, which SQL ignores, are made
// different.
func columnNames(l packLayer) []string {
	taken := map[string]bool{"fid": true, "geom": true}
	names := make([]string, len(l.table.Fields))
	for k, f := range l.table.Fields {
		name := plainText(f.Name)
		for taken[strings.ToLower(name)] || name == "" {
			name = "carried_" + name
		}
		taken[strings.ToLower(name)] = true
		names[k] = name
	}
	return names
}

func quotedName(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }

func quotedNames(names []string) []string {
	out := make([]string, len(names))
	for i, name := range names {
		out[i] = quotedName(name)
	}
	return out
}

// createTable returns the statement that creates the layer's table.
func createTable(l packLayer, columns []string, form []intake.Blank) string {
	var b strings.Builder
	fmt.Fprintf(&b, "CREATE TABLE %s (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL", quotedName(l.table.Name))
	if l.geometry != "" {
		fmt.Fprintf(&b, ", geom %s", l.geometry)
	}
	for k, f := range l.table.Fields {
		fmt.Fprintf(&b, ", %s %s", quotedName(columns[k]), sqlType(f, form))
	}
	b.WriteString(")")
	return b.String()
}

// sqlType returns a field's type among those of the standard, table 1. A survey date may be an interval
// and so is not a DATE; a date to be filled in is one.
func sqlType(f result.Field, form []intake.Blank) string {
	switch f.Kind {
	case result.Flag:
		return "BOOLEAN"
	case result.Count:
		return "INTEGER"
	case result.Number:
		return "DOUBLE"
	case result.Date:
		if f.Name != field.EventDate || form != nil {
			return "DATE"
		}
	}
	return "TEXT"
}

// sqlValue returns a value for the driver; nil for Null.
func sqlValue(v result.Value) any {
	switch v.Kind {
	case result.Null:
		return nil
	case result.Flag, result.Count:
		return v.Int
	case result.Number:
		return v.Float()
	}
	return plainText(v.String())
}

// plainText returns a text without NUL, which ends a text for many programs that read SQLite files, and
// with the replacement character for each byte that is not UTF-8, as in GeoJSON.
func plainText(s string) string {
	return strings.Map(func(r rune) rune {
		if r == 0 {
			return -1
		}
		return r // the replacement character, if the byte was invalid
	}, s)
}
