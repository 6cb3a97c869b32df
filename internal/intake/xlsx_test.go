package intake

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"os/exec"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

const bookHead = `<row r="1"><c r="A1" t="inlineStr"><is><t>occurrenceID</t></is></c><c r="B1" t="str"><v>eventDate</v></c><c r="C1" t="str"><v>lon</v></c><c r="D1" t="str"><v>lat</v></c><c r="E1" t="str"><v>patch_area_m2</v></c></row>`

// TestSpreadsheet: shared and written texts, dates of either system, truths, gaps,
// and a number with more digits than a spreadsheet shows. Dates by ECMA-376
// part 1, 18.17.4.1: 46204 is 2026-07-01, and so is 44742 from 1904 on; .99 is a quarter to midnight.
func TestSpreadsheet(t *testing.T) {
	rows := bookHead + `<row r="3"><c r="A3" t="s"><v>0</v></c><c r="B3" s="1"><v>46204</v></c><c r="C3"><v>-117.20001000000001</v></c><c r="D3"><v>34.10001</v></c><c r="E3"><v>0.30000000000000004</v></c></row>` +
		`<row><c t="b"><v>1</v></c><c s="2"><v>46204.99</v></c><c><v>-117.20101</v></c><c><v>34.10001</v></c></row><row/>` +
		`<row r="9"><c r="C9"><v>-117.20201</v></c><c r="D9"><v>3.410001E1</v></c></row>`
	members := map[string]string{
		"xl/sharedStrings.xml": `<sst><si><r><t>a</t></r><r><t>1</t></r><rPh><t>spoken</t></rPh></si></sst>`,
		"xl/styles.xml":        `<styleSheet><numFmts><numFmt numFmtId="164" formatCode="[$-409]d/m/yy"/></numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="22"/></cellXfs></styleSheet>`,
	}
	for _, c := range []struct{ from, flag, number string }{{"1900", "0", "46204"}, {"1904", "1", "44742"}} {
		members["xl/workbook.xml"] = `<workbook xmlns:r="r"><workbookPr date1904="` + c.flag + `"/><sheets><sheet name="Finds" sheetId="1" r:id="rId1"/></sheets></workbook>`
		p, _, err := ReadPoints(testkit.Source("f.xlsx", bytes.NewReader(layers.Book(strings.ReplaceAll(rows, "46204", c.number), members))), testOptions())
		if err != nil || len(p.Records) != 3 {
			t.Fatalf("days from %s: %d records, %v", c.from, len(p.Records), err)
		}
		const day = "2026-07-01"
		r := p.Records
		if r[0].ID != "a1" || r[0].Begin.String() != day || r[1].Begin.String() != day || r[0].PatchArea != 0.3 || r[0].Position[0] != -117.20001 || r[1].ID != "TRUE" || r[2].Position[1] != 34.10001 || r[2].ID != "" {
			t.Errorf("days from %s: %+v", c.from, r)
		}
	}
}

// TestPercentOfSpreadsheets: a number that the sheet shows in percent is read as shown, by ECMA-376
// part 1, 18.8.30 (formats 9 and 10) and 18.8.31 (a percent sign multiplies by 100). A sign in quotes
// is only a letter.
func TestPercentOfSpreadsheets(t *testing.T) {
	rows := strings.Replace(bookHead, "patch_area_m2", "canopy_cover_percent", 1)
	styles := `<styleSheet><numFmts><numFmt numFmtId="164" formatCode="0.0\ %"/><numFmt numFmtId="165" formatCode="0&quot;%&quot;"/></numFmts><cellXfs>`
	for i, id := range []string{"0", "9", "10", "164", "165"} {
		styles += `<xf numFmtId="` + id + `"/>`
		rows += fmt.Sprintf(`<row><c><v>%d</v></c><c t="str"><v>2026-07-01</v></c><c><v>1.%d</v></c><c><v>2</v></c><c s="%d"><v>0.07</v></c></row>`, i, i, i)
	}
	book := layers.Book(rows, map[string]string{"xl/styles.xml": styles + `</cellXfs></styleSheet>`})
	p, _, err := ReadPoints(testkit.Source("f.xlsx", bytes.NewReader(book)), testOptions())
	if err != nil || len(p.Records) != 5 {
		t.Fatalf("%d records, %v", len(p.Records), err)
	}
	for i, want := range []float64{0.07, 7, 7, 7, 0.07} {
		if p.Records[i].Cover != want {
			t.Errorf("style %d: %v, want %v", i, p.Records[i].Cover, want)
		}
	}
}

// TestSpreadsheetsOfGDAL: GDAL writes the table, and it reads as the same CSV.
func TestSpreadsheetsOfGDAL(t *testing.T) {
	testkit.NeedGDAL(t)
	csv := sheet("occurrenceStatus", "detected", "notDetected", "detected", "detected")
	dir := t.TempDir()
	from := write(t, dir+"/finds.csv", []byte(csv))
	if out, err := exec.Command("ogr2ogr", "-f", "XLSX", "-oo", "AUTODETECT_TYPE=YES", dir+"/finds.xlsx", from).CombinedOutput(); err != nil {
		t.Fatalf("ogr2ogr: %v: %s", err, out)
	}
	want, _, err := ReadPoints(testkit.Source("points", strings.NewReader(csv)), testOptions())
	if err != nil {
		t.Fatal(err)
	}
	got, findings, err := ReadPoints(onDisk(dir+"/finds.xlsx", ""), testOptions())
	if err != nil || len(findings) > 0 || found(got) != found(want) || len(got.Records) != 4 {
		t.Fatalf("%v, %v", findings, err)
	}
	for i := range got.Records {
		a, b := got.Records[i], want.Records[i]
		if a.ID != b.ID || a.Position != b.Position || a.Begin != b.Begin || a.PatchArea != b.PatchArea {
			t.Errorf("%+v, want %+v", a, b)
		}
	}
}

// TestHostileSpreadsheets: each is refused with a remedy, and none takes more than
// its size allows.
func TestHostileSpreadsheets(t *testing.T) {
	good := bookHead + `<row r="2"><c r="A2" t="s"><v>0</v></c></row>`
	for name, c := range map[string]struct {
		rows    string
		members map[string]string
		want    string
	}{
		"a negative shared text":      {strings.Replace(good, "<v>0</v>", "<v>-1</v>", 1), nil, "shared text -1 of 0"},
		"a shared text that is not":   {good, map[string]string{"xl/sharedStrings.xml": `<sst count="999999999999"/>`}, "shared text 0 of 0"},
		"a sheet that is cut off":     {"", map[string]string{"xl/worksheets/sheet1.xml": `<worksheet><sheetData>` + bookHead + `<row r="2"><c r="A2"><v>1`}, ""},
		"a column beyond all":         {bookHead + `<row><c r="XFD2"><v>1</v></c></row>`, nil, "more than 2000 columns"},
		"no relations":                {good, map[string]string{"xl/_rels/workbook.xml.rels": ""}, "where its sheets are"},
		"no sheet":                    {good, map[string]string{"xl/workbook.xml": `<workbook/>`}, "no sheet that is shown"},
		"entities":                    {good, map[string]string{"xl/sharedStrings.xml": `<!DOCTYPE x [<!ENTITY a "aaaa">]><sst/>`}, "entities"},
		"nested deep":                 {strings.Repeat("<a>", 1000), nil, "nested deeper"},
		"texts that are a bomb":       {good, map[string]string{"xl/sharedStrings.xml": "<sst>" + strings.Repeat("<si/>", 4<<20) + "</sst>"}, "times"},
		"rows that are a bomb":        {bookHead + strings.Repeat("<row><c><v>1</v></c></row>", 1<<20), nil, "times"},
		"one text again and again":    {bookHead + strings.Repeat(`<row><c t="s"><v>0</v></c></row>`, 3000), map[string]string{"xl/sharedStrings.xml": "<sst><si><t>" + strings.Repeat("x", 1<<20) + "</t></si></sst>"}, "times"},
		"a header of nothing":         {`<row r="1"><c r="A1" t="s"/></row>`, nil, "no sheet that is shown holds anything"},
		"a chart in place of a sheet": {good, map[string]string{"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId1" Target="../other.xml"/></Relationships>`}, "no sheet that is shown"},
	} {
		_, _, err := ReadPoints(testkit.Source("f.xlsx", bytes.NewReader(layers.Book(c.rows, c.members))), testOptions())
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || unusable.Remedy == "" || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// TestOtherSpreadsheets are refused with the remedy.
func TestOtherSpreadsheets(t *testing.T) {
	var ods bytes.Buffer
	z := zip.NewWriter(&ods)
	w, _ := z.Create("content.xml")
	fmt.Fprint(w, "<office/>")
	z.Close()
	for _, text := range []string{"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", ods.String()} {
		_, _, err := ReadPoints(testkit.Source("f", strings.NewReader(text)), testOptions())
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || !strings.Contains(unusable.Remedy, ".xlsx") || !strings.Contains(unusable.Found, "spreadsheet") {
			t.Errorf("%v", err)
		}
	}
}
