package xlsx_test

import (
	"archive/zip"
	"bytes"
	"io/fs"
	"strings"
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// FuzzSpreadsheet: no sheet and no shared texts end the program.
func FuzzSpreadsheet(f *testing.F) {
	f.Add(`<row r="1"><c r="A1" t="str"><v>occurrenceID</v></c></row><row r="2"><c r="A2" t="s"><v>0</v></c><c r="ZZ2" s="1"><v>46204.5</v></c></row>`, `<sst><si><t>a</t></si></sst>`)
	for _, file := range testkit.Stored(f, "handed-in/*.xlsx") {
		rows, texts := rowsAndTexts(f, file)
		f.Add(rows, texts)
	}
	f.Fuzz(func(t *testing.T, rows, shared string) {
		layers.Hold(t, layers.Form{File: "f.xlsx", Bytes: layers.Book(rows, map[string]string{"xl/sharedStrings.xml": shared})})
	})
}

// rowsAndTexts takes the rows of a workbook's first sheet and its shared texts.
func rowsAndTexts(t testing.TB, book []byte) (rows, texts string) {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	member := func(name string) string {
		b, err := fs.ReadFile(z, name)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	_, rows, _ = strings.Cut(member("xl/worksheets/sheet1.xml"), "<sheetData>")
	rows, _, _ = strings.Cut(rows, "</sheetData>")
	if rows == "" {
		t.Fatal("a workbook without rows")
	}
	return rows, member("xl/sharedStrings.xml")
}
