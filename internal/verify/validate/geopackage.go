package validate

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/binary"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	_ "modernc.org/sqlite" // the driver
)

// gpkgApplication and gpkgVersion are the values in the header of a GeoPackage 1.3 (OGC 12-128r18,
// requirement 2).
const (
	gpkgApplication = 0x47504b47 // "GPKG"
	gpkgVersion     = 10300
)

// gpkgPatience limits the time for all queries, in case a database was made to be slow. Our choice.
const gpkgPatience = 30 * time.Second

// GeoPackage checks a database against OGC 12-128r18 (1.3): the values in its header, its integrity,
// the required tables, its extensions, and that everything listed as a table is a table. A view would
// run its own SQL. Features is the number of rows of all listed tables except the one of styles.
func GeoPackage(data []byte) *Report {
	r := &Report{}
	if len(data) < 100 || !bytes.HasPrefix(data, []byte("SQLite format 3\x00")) {
		r.addf("not a SQLite database")
		return r
	}
	if id, version := binary.BigEndian.Uint32(data[68:]), binary.BigEndian.Uint32(data[60:]); id != gpkgApplication || version != gpkgVersion {
		r.addf("application id %#x and version %d are not those of GeoPackage 1.3", id, version)
	}
	dir, err := os.MkdirTemp("", "driftreach")
	if err != nil {
		r.addf("cannot be looked at: %v", err)
		return r
	}
	defer os.RemoveAll(dir)
	name := filepath.Join(dir, "copy.gpkg")
	if err := os.WriteFile(name, data, 0o600); err != nil {
		r.addf("cannot be looked at: %v", err)
		return r
	}
	db, err := sql.Open("sqlite", "file:"+filepath.ToSlash(name)+"?mode=ro&immutable=1&_pragma=trusted_schema(0)&_pragma=cell_size_check(1)")
	if err != nil {
		r.addf("cannot be opened: %v", err)
		return r
	}
	defer db.Close()
	ctx, cancel := context.WithTimeout(context.Background(), gpkgPatience)
	defer cancel()
	r.database(ctx, db)
	return r
}

// database checks an open database.
func (r *Report) database(ctx context.Context, db *sql.DB) {
	var whole string
	if err := db.QueryRowContext(ctx, "PRAGMA quick_check(1)").Scan(&whole); err != nil || whole != "ok" {
		r.addf("the database is damaged: %s %v", whole, err)
		return
	}
	kinds, err := pairs(ctx, db, "SELECT name, type FROM sqlite_schema WHERE type IN ('table', 'view', 'trigger')")
	if err != nil {
		r.addf("the schema cannot be read: %v", err)
		return
	}
	for _, name := range slices.Sorted(maps.Keys(kinds)) {
		if kinds[name] == "view" {
			r.addf("%s is a view; databases of this program have none", name)
			return
		}
	}
	for _, name := range []string{"gpkg_spatial_ref_sys", "gpkg_contents", "gpkg_geometry_columns"} {
		if kinds[name] != "table" {
			r.addf("there is no table %s", name)
			return
		}
	}
	listed, err := pairs(ctx, db, "SELECT table_name, data_type FROM gpkg_contents")
	if err != nil {
		r.addf("gpkg_contents cannot be read: %v", err)
		return
	}
	for _, name := range slices.Sorted(maps.Keys(listed)) {
		if kinds[name] != "table" {
			r.addf("gpkg_contents lists %q, which is no table", name)
			continue
		}
		var rows int
		if err := db.QueryRowContext(ctx, `SELECT count(*) FROM "`+strings.ReplaceAll(name, `"`, `""`)+`"`).Scan(&rows); err != nil {
			r.addf("%s cannot be counted: %v", name, err)
		}
		if name != styleTable {
			r.Features += rows
		}
	}
	r.extensions(ctx, db, kinds)
}
