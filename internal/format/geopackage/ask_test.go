package geopackage

import (
	"database/sql"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Statements that a file might contain: views, endless counts and functions that read the disk are
// refused by SQLite, and a statement that gives no row is ended.
func TestGeoPackageAsksForNothingElse(t *testing.T) {
	db, err := sql.Open("sqlite", filepath.Join(t.TempDir(), "a.gpkg"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, s := range []string{
		"CREATE TABLE t (x)", "CREATE VIEW v AS SELECT x FROM t",
		"INSERT INTO t WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n LIMIT 100) SELECT x FROM n",
	} {
		if _, err := db.Exec(s); err != nil {
			t.Fatal(err)
		}
	}
	conn, err := onlyReading(db)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	g := reader{conn: conn, patience: 50 * time.Millisecond}
	for statement, want := range map[string]string{
		"SELECT x FROM t":      "",
		"PRAGMA table_info(t)": "",
		"SELECT x FROM v":      "prohibited",
		"WITH RECURSIVE n(x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT count(*) FROM n WHERE x < 0": "not authorized",
		"PRAGMA journal_mode":    "not authorized",
		"CREATE TABLE u (x)":     "not authorized",
		"ATTACH 'other.db' AS o": "not authorized",
		"SELECT 1 FROM t a, t b, t c, t d, t e, t f WHERE a.x + b.x + c.x + d.x + e.x + f.x < 0": "asks for more than 50ms of work",
	} {
		rows, done, err := g.ask(statement)
		if err == nil && rows.Next() {
			err = rows.Err()
		}
		done()
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", statement, err, want)
		}
	}
}
