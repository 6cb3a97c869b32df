package mapfile

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"driftreach/internal/result"
)

// TestGDALReadsTheValues: GDAL (reference program, Debian's gdal-bin) reads every field of every
// row from the GeoJSON files and from the database, with the values of the run's tables: numbers to
// the last digit, whole numbers, days, booleans, texts of plain letters, every item of a list; and
// nothing where the table is blank.
func TestGDALReadsTheValues(t *testing.T) {
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		t.Skip("ogr2ogr is not installed (gdal-bin): values are not read by GDAL")
	}
	run, dir := fixture(), t.TempDir()
	save(t, filepath.Join(dir, "driftreach.gpkg"), packed(t, run))
	files := map[string]bool{}
	for _, d := range Deliverables(Extras{Network: true, Notices: true, Units: true}) {
		if file := made(t, d, run, 1); filepath.Ext(file.name) == ".geojson" && file.records > 0 {
			save(t, filepath.Join(dir, file.name), file.data)
			files[file.name] = true
		}
	}
	cells := 0
	for _, l := range packLayers(run, true) {
		if l.table.Rows == 0 {
			continue
		}
		for _, file := range []string{"driftreach.gpkg", l.table.Name + ".geojson"} {
			if file != "driftreach.gpkg" && !files[file] {
				continue
			}
			t.Run(file+"/"+l.table.Name, func(t *testing.T) {
				cells += holdValues(t, run, l.table, gdalRows(t, filepath.Join(dir, file), l.table.Name))
			})
		}
	}
	if cells < 500 {
		t.Errorf("%d cells were compared", cells)
	}
}

// gdalRows returns the fields of a layer as GDAL writes them to CSV, the header first.
func gdalRows(t *testing.T, file, layer string) [][]string {
	t.Helper()
	command := exec.Command("ogr2ogr", "-f", "CSV", "/vsistdout/", file, layer)
	var trouble bytes.Buffer
	command.Stderr = &trouble
	out, err := command.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, trouble.Bytes())
	}
	read := csv.NewReader(bytes.NewReader(out))
	read.FieldsPerRecord = -1 // a header with one column ends in a comma
	rows, err := read.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// holdValues compares a table with what was read of it, and returns the number of cells compared.
func holdValues(t *testing.T, run *result.Run, table result.Table, rows [][]string) (cells int) {
	t.Helper()
	if len(rows) != 1+table.Rows {
		t.Fatalf("%d rows, want %d", len(rows)-1, table.Rows)
	}
	at := map[string]int{}
	for k, name := range rows[0] {
		at[name] = k
	}
	for k, f := range table.Fields {
		column, there := at[f.Name]
		if !there {
			t.Errorf("no column %s", f.Name)
			continue
		}
		for i := range table.Rows {
			want, got := table.Row(run, i, nil)[k], rows[i+1][column]
			if !plain(want) {
				continue
			}
			if cells++; !isValue(want, got) {
				t.Errorf("%s of row %d: %q, want %q", f.Name, i, got, want)
			}
		}
	}
	return cells
}

// plain says whether a text has only characters that every text format writes in the same way.
func plain(v result.Value) bool {
	odd := func(r rune) bool { return r > unicode.MaxASCII || !unicode.IsPrint(r) }
	return !strings.ContainsFunc(v.String(), odd) && strings.TrimSpace(v.String()) == v.String()
}

func isValue(want result.Value, got string) bool {
	switch want.Kind {
	case result.Number, result.Count:
		x, err := strconv.ParseFloat(got, 64)
		return err == nil && x == want.Float()
	case result.Flag:
		return got == strconv.FormatInt(want.Int, 10) || got == want.String()
	case result.Date:
		return strings.ReplaceAll(got, "/", "-") == strings.ReplaceAll(want.Text, "/", "-")
	case result.List:
		var items []string
		if err := json.Unmarshal([]byte(got), &items); err != nil { // the database stores it as one text
			return got == want.String()
		}
		return slices.Equal(items, want.List)
	}
	return got == want.String()
}
