package verify

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"

	"driftreach/internal/mapfile"
)

// aWorkbook returns a workbook of two tables by ECMA-376, written as ours are, and the tables as
// CSV: a text, a number, a day (1 March 2026 is 46,082 days after 30 December 1899), a boolean, a
// blank cell and a text with a line end.
func aWorkbook(t *testing.T, change func(part, text string) string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	text := func(at, text string) string {
		return `<c r="` + at + `" s="0" t="inlineStr"><is><t xml:space="preserve">` + text + `</t></is></c>`
	}
	for _, part := range [][2]string{
		{"xl/workbook.xml", `<workbook><sheets><sheet name="stands"/><sheet name="fields"/></sheets></workbook>`},
		{"xl/worksheets/sheet1.xml", `<worksheet><sheetData><row r="1">` + text("A1", "stand_id") + text("B1", "acres") + text("C1", "day") + text("D1", "live") + text("E1", "note") + "</row>" +
			`<row r="2">` + text("A2", "2026Q1-0001") + `<c r="B2"><v>0.5</v></c><c r="C2" s="2"><v>46082</v></c><c r="D2" t="b"><v>1</v></c>` + text("E2", "two&#10;lines") + "</row>" +
			`<row r="3">` + text("A3", "2026Q1-0002") + `<c r="D3" t="b"><v>0</v></c></row></sheetData></worksheet>`},
		{"xl/worksheets/sheet2.xml", `<worksheet><sheetData><row r="1">` + text("A1", "table") + text("B1", "field") + `</row><row r="2">` + text("A2", "stands") + text("B2", "acres") + "</row></sheetData></worksheet>"},
	} {
		w, err := z.Create(part[0])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, change(part[0], part[1])); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestWorkbookIsHeldAgainstTheTables: a workbook with the same values as the tables is sound; every
// changed, missing or additional cell is reported by sheet, row and column.
func TestWorkbookIsHeldAgainstTheTables(t *testing.T) {
	tables := map[string][]byte{
		"stands.csv": []byte("stand_id,acres,day,live,note\r\n2026Q1-0001,0.5,2026-03-01,true,\"two\r\nlines\"\r\n2026Q1-0002,,,false,\r\n"),
		"fields.csv": []byte("table,field\r\nstands,stand_id\r\nstands,acres\r\n"),
	}
	const first, second = "xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml"
	for _, c := range []struct{ name, part, old, new, says string }{
		{"nothing", first, "", "", ""},
		{"the same number", first, "<v>0.5</v>", "<v>0.50</v>", ""},
		{"a text", first, "2026Q1-0002", "2026Q1-0003", `sheet stands, row 3: stand_id is "2026Q1-0003", and stands.csv says "2026Q1-0002"`},
		{"a number", first, "<v>0.5</v>", "<v>0.6</v>", `acres is "0.6"`},
		{"a day", first, "46082", "46083", `day is "46083", and stands.csv says "2026-03-01"`},
		{"a day as a number", first, ` s="2"`, "", `day is "46082"`},
		{"a truth", first, `t="b"><v>1`, `t="b"><v>0`, `live is "0"`},
		{"a cell gone", first, `<c r="B2"><v>0.5</v></c>`, "", `acres is ""`},
		{"a cell too many", first, "</c></row></sheetData>", `</c><c r="F3"><v>1</v></c></row></sheetData>`, "has 6 cells"},
		{"a row gone", first, `<row r="3">`, `<other r="3">`, "element"},
		{"a formula", first, "<v>0.5</v>", "<f>1/2</f><v>0.5</v>", "holds a formula"},
		{"a place that is none", first, `r="B2"`, `r="2"`, "a cell is at"},
		{"cells out of order", first, `r="C2"`, `r="A2"`, "out of order"},
		{"a field", second, "acres", "hectares", "sheet fields, row 2: fields.csv has no such row"},
		{"a sheet of another name", "xl/workbook.xml", `name="stands"`, `name="fields"`, "has no such row"},
		{"no sheets", "xl/workbook.xml", "<sheet name=\"stands\"/><sheet name=\"fields\"/>", "", "it has no sheets"},
	} {
		changed := c.old == ""
		kept := map[string][]byte{"stands.csv": tables["stands.csv"], "fields.csv": tables["fields.csv"]}
		kept[mapfile.WorkbookFile] = aWorkbook(t, func(part, text string) string {
			if part == c.part && c.old != "" {
				changed = strings.Contains(text, c.old)
				return strings.Replace(text, c.old, c.new, 1)
			}
			return text
		})
		var r Report
		r.workbook(kept)
		var said []string
		for _, p := range r.Problems {
			said = append(said, p.Text)
		}
		if all := strings.Join(said, "\n"); !changed || c.says == "" && all != "" || !strings.Contains(all, c.says) {
			t.Errorf("%s: %q, want %q", c.name, all, c.says)
		}
	}
	var r Report
	r.workbook(map[string][]byte{mapfile.WorkbookFile: []byte("PK")})
	if len(r.Problems) != 1 || !strings.Contains(r.Problems[0].Text, "cannot be read as a workbook") {
		t.Errorf("%q", r.Problems)
	}
}

// TestSheetOfMissingRows: rows missing from a sheet are counted.
func TestSheetOfMissingRows(t *testing.T) {
	var r Report
	r.workbook(map[string][]byte{
		mapfile.WorkbookFile: aWorkbook(t, func(_, text string) string { return text }),
		"stands.csv":         []byte("stand_id,acres,day,live,note\r\n2026Q1-0001,0.5,2026-03-01,true,\"two\nlines\"\r\n2026Q1-0002,,,false,\r\n2026Q1-0003,,,false,\r\n"),
	})
	if len(r.Problems) != 1 || r.Problems[0].Text != "sheet stands has 2 rows, and stands.csv has 3" {
		t.Errorf("%q", r.Problems)
	}
}

// TestSheetOfMoreRows: rows that the table does not have are counted, not compared.
func TestSheetOfMoreRows(t *testing.T) {
	var r Report
	r.workbook(map[string][]byte{
		mapfile.WorkbookFile: aWorkbook(t, func(_, text string) string { return text }),
		"stands.csv":         []byte("stand_id,acres,day,live,note\r\n2026Q1-0001,0.5,2026-03-01,true,\"two\nlines\"\r\n"),
	})
	if len(r.Problems) != 1 || r.Problems[0].Text != "sheet stands has 2 rows, and stands.csv has 1" {
		t.Errorf("%q", r.Problems)
	}
}

// TestSheetOfManyFaults: of a sheet that differs in every row the first 20 rows are told, and how many more
// there are.
func TestSheetOfManyFaults(t *testing.T) {
	for n, want := range map[int]string{19: "", 20: "", 21: "and 1 more", 45: "and 25 more"} {
		var rows, table strings.Builder
		table.WriteString("stand_id\n")
		for i := range n {
			fmt.Fprintf(&rows, `<row r="%d"><c r="A%d"><v>%d</v></c></row>`, i+2, i+2, i)
			fmt.Fprintf(&table, "%d\n", i+1)
		}
		var r Report
		r.workbook(map[string][]byte{"stands.csv": []byte(table.String()), mapfile.WorkbookFile: aWorkbook(t, func(part, text string) string {
			if part != "xl/worksheets/sheet1.xml" {
				return text
			}
			return `<worksheet><sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>stand_id</t></is></c></row>` + rows.String() + "</sheetData></worksheet>"
		})})
		told, last := len(r.Problems), r.Problems[len(r.Problems)-1].Text
		if told != min(n, 21) || (want != "") != (told == 21) || want != "" && last != want {
			t.Errorf("%d faults: %d told, at last %q, want %q", n, told, last, want)
		}
	}
}

// TestColumnOf: columns are A to Z, then AA on. The last column of a sheet is XFD, the 16,384th
// (Excel specifications and limits); no sheet has a column of four letters.
func TestColumnOf(t *testing.T) {
	for at, want := range map[string]int{"A1": 0, "Z9": 25, "AA10": 26, "AZ1": 51, "BA1": 52, "ZZ1": 701, "AAA1": 702, "XFD1048576": 16383} {
		if got, err := columnOf(at); err != nil || got != want {
			t.Errorf("%s is column %d, %v; want %d", at, got, err, want)
		}
	}
	for _, at := range []string{"", "1", "a1", "@1", "[1", "{1", "A-1", "ABCD1", "Ä1"} {
		if got, err := columnOf(at); err == nil {
			t.Errorf("%q is column %d", at, got)
		}
	}
}

// TestCellSays: which values of a cell and of a table are the same, by the types of ECMA-376 18.18.11. A
// text that was cut to fit a cell is the beginning of the text in the table. Days are counted from 30
// December 1899 (ECMA-376 18.17.4.1): day 45,000 is 15 March 2023 by Python's datetime.
func TestCellSays(t *testing.T) {
	for _, c := range []struct {
		kind, text, table string
		same              bool
	}{
		{"inlineStr", "by the ford", "by the ford", true},
		{"inlineStr", "by the ford", "by the fords", false},
		{"inlineStr", "", "", true},
		{"inlineStr", "", "x", false},
		{"inlineStr", "a\nb", "a\r\nb", true},
		{"inlineStr", "a\rb", "a\nb", true},
		{"inlineStr", "a b", "a\nb", false},
		{"inlineStr", "by the" + mapfile.CutCell, "by the ford", true},
		{"inlineStr", "by a" + mapfile.CutCell, "by the ford", false},
		{"inlineStr", "a\nb" + mapfile.CutCell, "a\r\nbc", true},
		{"inlineStr", "0.50", "0.5", false},
		{"b", "1", "true", true},
		{"b", "0", "false", true},
		{"b", "1", "false", false},
		{"b", "0", "true", false},
		{"b", "true", "true", false},
		{"date", "45000", "2023-03-15", true},
		{"date", "45000", "2023-03-16", false},
		{"date", "2958465", "9999-12-31", true},
		{"date", "2958466", "10000-01-01", false},
		{"date", "x", "1899-12-30", false},
		{"", "0.5", "0.5", true},
		{"", "0.5", "0.50", true},
		{"", "-0.5", "0.5", false},
		{"", "12", "012", true},
		{"", "0.1000000000000000001", "0.1", false},
		{"", "1/2", "0.5", false},
		{"", "5e-1", "0.5", false},
		{"", "x", "x", true},
		{"", "x", "y", false},
		{"", "x", "0", false},
		{"", "0", "x", false},
		{"", "0." + strings.Repeat("0", 38), "0", true},
		{"", "0." + strings.Repeat("0", 39), "0", false}, // longer than any number of ours
		{"", "0", "0." + strings.Repeat("0", 39), false},
		{"", "0", "0." + strings.Repeat("0", 38), true},
	} {
		if got := (sheetCell{c.kind, c.text}).says(c.table); got != c.same {
			t.Errorf("a cell %q of kind %q and %q in the table: the same: %v", c.text, c.kind, c.table, got)
		}
	}
}
