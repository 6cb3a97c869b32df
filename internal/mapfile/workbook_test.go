package mapfile

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"driftreach/internal/result"
)

// readWorkbook is a Python program that reads a workbook with the package openpyxl and prints, by
// sheet, its rows, where it is frozen, and the type of each cell.
const readWorkbook = `
import sys, json, datetime, openpyxl
book = openpyxl.load_workbook(sys.argv[1])
out = {}
for sheet in book:
    rows = []
    for row in sheet.iter_rows():
        cells = []
        for c in row:
            if c.data_type == "f": sys.exit("formula in " + sheet.title + " " + c.coordinate)
            v = c.value
            kind = c.data_type if v is not None else ""
            if isinstance(v, datetime.datetime): v, kind = v.date().isoformat(), "d"
            cells.append([kind, "" if v is None else repr(v) if kind == "n" else str(v)])
        rows.append(cells)
    out[sheet.title] = {"Frozen": sheet.freeze_panes, "Rows": rows}
json.dump(out, sys.stdout)
`

// TestWorkbook: an independent reader (Debian's python3-openpyxl) finds in every sheet the cells of
// the table's CSV: numbers as numbers, days as dates, flags as booleans, and texts that look like
// formulas as texts.
func TestWorkbook(t *testing.T) {
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import openpyxl").Run() != nil {
		t.Skip("openpyxl is not installed (python3-openpyxl): the workbook is not read with an independent reader")
	}
	run := fixture()
	run.Findings[0].Message, run.Findings[0].Value = "=HYPERLINK(\"http://x\")", "+1\t<b>&\r\n\x07é"
	data, err := written(func(b *bytes.Buffer) error { return writeWorkbook(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), WorkbookFile)
	if err := os.WriteFile(name, data, 0o666); err != nil {
		t.Fatal(err)
	}
	var trouble bytes.Buffer
	command := exec.Command(python, "-c", readWorkbook, name)
	command.Stderr = &trouble
	out, err := command.Output()
	if err != nil || trouble.Len() > 0 {
		t.Fatalf("%v: %s", err, trouble.String())
	}
	var sheets map[string]struct {
		Frozen string
		Rows   [][][2]string
	}
	if err := json.Unmarshal(out, &sheets); err != nil {
		t.Fatal(err)
	}
	kinds, cells := map[result.Kind]string{result.Text: "s", result.List: "s", result.Flag: "b", result.Count: "n", result.Number: "n"}, 0
	for _, table := range workbookTables(run) {
		sheet := sheets[table.Name]
		text, err := written(func(b *bytes.Buffer) error { return writeTable(b, run, table) })
		if err != nil {
			t.Fatal(err)
		}
		want, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if sheet.Frozen != "A2" || len(sheet.Rows) != len(want) {
			t.Fatalf("%s: frozen at %q, %d rows, the CSV has %d", table.Name, sheet.Frozen, len(sheet.Rows), len(want))
		}
		for i, row := range want {
			var values []result.Value
			if i > 0 {
				values = table.Row(run, i-1, nil)
			}
			for k, cell := range row {
				got := sheet.Rows[i][k]
				kind := "s"
				if i > 0 {
					kind = kinds[values[k].Kind]
					if values[k].Kind == result.Date {
						if kind = "s"; len(cell) == len(time.DateOnly) {
							kind = "d"
						}
					}
				}
				if cell == "" {
					kind = ""
				}
				if got[0] == "b" {
					got[1] = strings.ToLower(got[1])
				}
				if value := strings.ReplaceAll(got[1], "\r\n", "\n"); value != cell || got[0] != kind {
					t.Errorf("%s row %d %s: %s %q, the CSV has %s %q", table.Name, i, want[0][k], got[0], value, kind, cell)
				}
				cells++
			}
		}
	}
	if cells < 500 || len(sheets) != len(workbookTables(run)) {
		t.Errorf("%d cells of %d sheets", cells, len(sheets))
	}
}

// TestWorkbookBytes: the same run gives the same bytes; entries have a valid date and a fixed
// order, and no part has a formula or a link.
func TestWorkbookBytes(t *testing.T) {
	write := func(b *bytes.Buffer) error { return writeWorkbook(b, fixture()) }
	one, err := written(write)
	if err != nil {
		t.Fatal(err)
	}
	if other, err := written(write); err != nil || !bytes.Equal(one, other) {
		t.Errorf("other bytes the second time: %v", err)
	}
	pack, err := zip.NewReader(bytes.NewReader(one), int64(len(one)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range pack.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil || bytes.Contains(text, []byte("<f>")) || bytes.Contains(text, []byte("hyperlink")) || f.ModifiedDate != 1<<5|1 {
			t.Errorf("%s: %v, date %x", f.Name, err, f.ModifiedDate)
		}
	}
	if name := cellName(0, 1) + cellName(25, 2) + cellName(26, 3) + cellName(701, 4) + cellName(702, 5); name != "A1Z2AA3ZZ4AAA5" {
		t.Error(name)
	}
	if n := serial(day("1900-03-01")); n != 61 { // ECMA-376, part 1, section 18.17.4.1
		t.Errorf("1 March 1900 is %d", n)
	}
}
