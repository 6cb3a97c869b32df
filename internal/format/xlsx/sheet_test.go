package xlsx_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// head is a header row of three columns.
const head = `<row r="1"><c r="A1" t="str"><v>id</v></c><c r="B1" t="str"><v>day</v></c><c r="C1" t="str"><v>note</v></c></row>`

// sheet reads a workbook of one sheet and describes its rows.
func sheet(t *testing.T, rows string, members map[string]string) []string {
	t.Helper()
	l, err := layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(rows, members)}, layers.Asked{})
	if err != nil {
		t.Errorf("%s: %v", rows, err)
	}
	return l.Describe()
}

// TestCells: every type of cell value (ECMA-376 part 1, 18.18.11), with or without spaces around; by
// hand.
func TestCells(t *testing.T) {
	shared := map[string]string{"xl/sharedStrings.xml": `<sst><si><t> first </t></si><si><r><rPr/><t>a</t></r><r><t>b</t></r><rPh><t>spoken</t></rPh><phoneticPr/></si></sst>`}
	for cell, want := range map[string]string{
		`<c t="s"><v>0</v></c>`:                                     "id=first",
		`<c t="s"><v> 1 </v></c>`:                                   "id=ab",
		`<c t="str"><f>A1</f><v> text </v></c>`:                     "id=text",
		`<c t="inlineStr"><is><t>in</t><r><t>line</t></r></is></c>`: "id=inline",
		`<c t="b"><v>1</v></c>`:                                     "id=TRUE",
		`<c t="b"><v>0</v></c>`:                                     "id=FALSE",
		`<c t="e"><v>#N/A</v></c>`:                                  "id=#N/A",
		`<c t="d"><v>2026-07-01</v></c>`:                            "id=2026-07-01",
		`<c t="n"><v>1.50</v></c>`:                                  "id=1.50",
		`<c><v>7</v></c>`:                                           "id=7",
		`<c><v>word</v></c>`:                                        "id=word",
		// fifteen characters are left as they are written; more are shown with fifteen digits
		`<c><v>1.0000000000010</v></c>`:             "id=1.0000000000010",
		`<c><v>1.00000000000010</v></c>`:            "id=1.0000000000001",
		`<c><v>0.30000000000000004</v></c>`:         "id=0.3",
		`<c><v>123456789.12345678</v></c>`:          "id=123456789.123457",
		`<c><v>1.2345678901234567E20</v></c>`:       "id=123456789012346000000",
		`<c><v>3.4E-2</v></c>`:                      "id=3.4E-2",
		`<c><v/></c><c><v>x</v></c>`:                "day=x",
		`<c t="s"/><c><f>B1</f></c><c><v>x</v></c>`: "note=x",
	} {
		if diff := cmp.Diff([]string{want}, sheet(t, head+"<row>"+cell+"</row>", shared)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", cell, diff)
		}
	}
}

// TestCellReferences: letters from A to XFD are columns (ECMA-376 part 1, 18.18.7), in either
// case; a cell without a reference comes after the one before it, and a row likewise.
func TestCellReferences(t *testing.T) {
	header := func(place string) string {
		return head + fmt.Sprintf(`<row r="2"><c r="A2"><v>a</v></c></row><row r="3"><c r="%s3"><v>x</v></c><c><v>y</v></c></row>`, place)
	}
	for place, want := range map[string]string{"A": "id=x day=y", "B": "day=x note=y", "b": "day=x note=y", "": "id=x day=y", "7": "id=x day=y"} {
		if got := sheet(t, header(place), nil); len(got) != 2 || got[1] != want {
			t.Errorf("%s3: %q, want %q", place, got, want)
		}
	}
	for place, column := range map[string]int{"Z": 26, "AA": 27, "AZ": 52, "BA": 53, "ZZ": 702, "AAA": 703, "BXV": 1998} {
		rows := fmt.Sprintf(`<row><c r="A1" t="str"><v>id</v></c><c r="%s1" t="str"><v>far</v></c></row><row><c><v>1</v></c><c r="%s2"><v>2</v></c></row>`, place, strings.ToLower(place))
		l, err := layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(rows, nil)}, layers.Asked{})
		if err != nil || len(l.Names) != column || l.Names[column-1] != "far" || l.Rows[0].Cells[column-1] != "2" {
			t.Errorf("%s is column %d, want %d (%v)", place, len(l.Names), column, err)
		}
	}
	for place, most := range map[string]int{"C": 3, "XFD": 16384} {
		rows := fmt.Sprintf(`<row><c r="%s1" t="str"><v>far</v></c></row>`, place)
		for less, refused := range []bool{false, true} {
			limits := format.DefaultLimits()
			limits.Columns = most - less
			_, err := layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(rows, nil)}, layers.Asked{Limits: limits})
			if want := fmt.Sprintf("there are more than %d columns", most-less); (err != nil) != refused || refused && !strings.Contains(err.Error(), want) {
				t.Errorf("column %s where %d are allowed: %v", place, most-less, err)
			}
		}
	}
}

// TestStylesOfASheet: a number whose style shows a percentage is one. In a style with a date format
// numbers are days, from 1899-12-30 or from 1904-01-01, with the time to the second (ECMA-376 part 1,
// 18.17.4.1: 2 is 1900-01-01 there, and 1 is 1904-01-02). Later than 2099 no number is a date here.
func TestStylesOfASheet(t *testing.T) {
	members := map[string]string{"xl/styles.xml": `<styleSheet><numFmts><numFmt numFmtId="164" formatCode="yyyy"/></numFmts><cellStyleXfs><xf numFmtId="14"/><xf numFmtId="14"/></cellStyleXfs>` +
		`<cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="10"/></cellXfs><cellStyles><xf numFmtId="14"/></cellStyles><dxfs><xf numFmtId="14"/></dxfs></styleSheet>`}
	cell := func(style, value string) string {
		return head + fmt.Sprintf(`<row><c s="%s"><v>%s</v></c></row>`, style, value)
	}
	for _, c := range []struct{ style, value, want string }{
		{"1", "46204", "2026-07-01"}, {"1", " 46204 ", "2026-07-01"}, {"1", "46204.5", "2026-07-01T12:00:00"}, {"1", "46204.99999", "2026-07-01T23:59:59"},
		{"1", "46204.000005", "2026-07-01"}, {"1", "46204.000006", "2026-07-01T00:00:01"}, {"1", "0", "1899-12-30"}, {"1", "61", "1900-03-01"},
		{"1", "73049", "2099-12-30"}, {"1", "73049.9", "2099-12-30T21:36:00"}, {"1", "73050", "73050"}, {"1", "-1", "-1"}, {"1", "text", "text"},
		{"0", "46204", "46204"}, {"2", "0.35", "35%"}, {"2", "0.07", "7%"}, {"2", "1", "100%"}, {"2", "1.2345678901234567", "123.456789012346%"}, {"2", "text", "text"}, {"3", "46204", "46204"}, {"-1", "46204", "46204"}, {"x", "46204", "46204"}, {"", "46204", "46204"},
	} {
		if diff := cmp.Diff([]string{"id=" + c.want}, sheet(t, cell(c.style, c.value), members)); diff != "" {
			t.Errorf("%s in style %s (-want +got):\n%s", c.value, c.style, diff)
		}
	}
	for flag, want := range map[string]string{"1": "1904-01-02", "true": "1904-01-02", "0": "1899-12-31", "false": "1899-12-31"} {
		members["xl/workbook.xml"] = `<workbook xmlns:r="r"><workbookPr date1904="` + flag + `"/><sheets><sheet name="Finds" sheetId="1" r:id="rId1"/></sheets></workbook>`
		if diff := cmp.Diff([]string{"id=" + want}, sheet(t, cell("1", "1"), members)); diff != "" {
			t.Errorf("date1904 of %s (-want +got):\n%s", flag, diff)
		}
	}
}

// TestHeaders: the first row that is not blank is the header; a title above it, with less than half of
// its cells, is passed over; rows without a filled cell are none.
func TestHeaders(t *testing.T) {
	title := `<row r="2"><c r="A2" t="str"><v>Finds of July</v></c></row>`
	body := func(from int) string {
		var b strings.Builder
		for i := from; i < from+3; i++ {
			fmt.Fprintf(&b, `<row r="%d"><c><v>a%d</v></c><c><v>b</v></c><c><v>c</v></c></row>`, i, i)
		}
		return b.String()
	}
	blank := `<row r="1"/><row><c t="s"/></row>`
	header := strings.Replace(head, `r="1"`, `r="4"`, 1)
	for rows, want := range map[string]string{
		head + body(2): "id=a2 day=b note=c|id=a3 day=b note=c|id=a4 day=b note=c",
		blank + strings.Replace(header, `r="4"`, "", 1) + body(5):               "id=a5 day=b note=c|id=a6 day=b note=c|id=a7 day=b note=c",
		head + `<row r="2"/><row r="3"><c t="str"><v> </v></c></row>` + body(9): "id=a9 day=b note=c|id=a10 day=b note=c|id=a11 day=b note=c",
		head: "",
	} {
		if got := strings.Join(sheet(t, rows, nil), "|"); got != want {
			t.Errorf("%s: %s, want %s", rows, got, want)
		}
	}
	l, err := layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(title+header+body(5), nil)}, layers.Asked{})
	if diff := cmp.Diff([]string{"id", "day", "note"}, l.Names); err != nil || diff != "" || len(l.Rows) != 3 {
		t.Errorf("under a title: %d rows, %v, columns (-want +got):\n%s", len(l.Rows), err, diff)
	}
	// a header that ends with cells without text has no columns there, and a column of geometry is one
	wide := strings.Replace(head, `</row>`, `<c r="D1" t="str"><v>WKT</v></c><c r="E1" t="str"><v/></c><c r="F1" t="str"><v> </v></c></row>`, 1)
	l, err = layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(wide+`<row><c><v>1</v></c><c><v>b</v></c><c><v>c</v></c><c t="str"><v>POINT (3 4)</v></c></row>`, nil)}, layers.Asked{})
	if got := strings.Join(l.Describe(), "|"); err != nil || got != "Point 3 4 id=1 day=b note=c" || len(l.Names) != 4 {
		t.Errorf("a sheet with geometry: %s, columns %q, %v", got, l.Names, err)
	}
	for place, rows := range map[string]string{"beyond the 3 columns": head + `<row><c r="A2"><v>1</v></c><c r="D2"><v>2</v></c></row><row><c><v>3</v></c></row>`} {
		got := sheet(t, rows, nil)
		if len(got) != 2 || !strings.Contains(got[0], "!the row has cells "+place) || got[1] != "id=3" {
			t.Errorf("a cell %s: %q", place, got)
		}
	}
}

// TestSheets: of several sheets the one that is named, in any case of letters and even hidden; without
// a name the only one that is shown and holds something. The message lists those that are shown.
func TestSheets(t *testing.T) {
	members := map[string]string{
		"xl/workbook.xml": `<workbook xmlns:r="r"><sheets><sheet name="Notes" sheetId="3" r:id="a"/><sheet name="Finds" sheetId="1" r:id="b"/>` +
			`<sheet name="Lists" state="hidden" r:id="c"/><sheet name="Deep" state="veryHidden" r:id="c"/><sheet name="Chart" r:id="none"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships><Other Id="a" Target="x"/><Relationship Id="a" Target="sharedStrings.xml"/><Relationship Id="b" Target="/xl/worksheets/sheet1.xml"/><Relationship Id="c" Target="styles.xml"/></Relationships>`,
		"xl/sharedStrings.xml":       `<worksheet/>`,
		"xl/styles.xml":              `<worksheet><row><c t="str"><v>key</v></c></row><row><c><v>k</v></c></row></worksheet>`,
	}
	read := func(layer string) (layers.Layer, error) {
		return layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(head+`<row><c><v>1</v></c></row>`, members)}, layers.Asked{Layer: layer})
	}
	for layer, want := range map[string]string{"": "id=1", "finds": "id=1", "LISTS": "key=k", "deep": "key=k"} {
		l, err := read(layer)
		if diff := cmp.Diff([]string{want}, l.Describe()); err != nil || diff != "" {
			t.Errorf("sheet %q: %v (-want +got):\n%s", layer, err, diff)
		}
	}
	for _, layer := range []string{"none", "Chart"} {
		_, err := read(layer)
		refused(t, err, fmt.Sprintf("the spreadsheet has no sheet %q; it has Notes, Finds", layer), "name one after a colon, as in a.xlsx:Notes")
	}
	members["xl/sharedStrings.xml"] = `<worksheet><row><c t="inlineStr"><is><t>x</t></is></c></row></worksheet>`
	_, err := read("")
	refused(t, err, "the spreadsheet has several sheets: Notes, Finds", "name one after a colon, as in a.xlsx:Notes")
	members["xl/sharedStrings.xml"] = ""
	_, err = layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book("<row/>", members)}, layers.Asked{})
	refused(t, err, "no sheet that is shown holds anything", "check that the right file was named")
	members["xl/workbook.xml"] = `<workbook/>`
	_, err = read("x")
	refused(t, err, `the spreadsheet has no sheet "x"; it has `, "name one after a colon, as in a.xlsx:Sheet1")
	members["xl/_rels/workbook.xml.rels"] = ""
	_, err = read("")
	refused(t, err, "the spreadsheet does not say where its sheets are", "save it again, or as CSV")
}

// TestNumbersOfRows: a row without a number follows the one before it, and a number that is not above it
// counts as none; a title is told with the number of the row above the header.
func TestNumbersOfRows(t *testing.T) {
	row := func(number string, cells ...string) string {
		out := "<row" + number + ">"
		for _, c := range cells {
			out += `<c t="str"><v>` + c + "</v></c>"
		}
		return out + "</row>"
	}
	body := row("", "1", "2", "3") + row("", "4", "5", "6")
	for rows, want := range map[string]int{
		row("", "Finds") + row("", "a", "b", "c") + body:                 1,
		row(` r="4"`, "Finds") + row("", "a", "b", "c") + body:           4,
		row(` r="4"`, "Finds") + row(` r="9"`, "a", "b", "c") + body:     8,
		row(` r="4"`, "Finds") + row(` r="2"`, "a", "b", "c") + body:     4,
		row(` r="4"`, "Finds") + row(` r="x"`, "a", "b", "c") + body:     4,
		row(` r="3"`, "Finds") + row("") + row("", "a", "b", "c") + body: 4,
	} {
		l, err := layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(rows, nil)}, layers.Asked{})
		if err != nil || l.Skipped != want || l.Title != "Finds" || len(l.Rows) != 2 {
			t.Errorf("%s: title %q above row %d, %d rows, %v, want %d", rows, l.Title, l.Skipped, len(l.Rows), err, want)
		}
		l, err = layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(rows, nil)}, layers.Asked{Skip: want})
		if err != nil || strings.Join(l.Names, "") != "abc" {
			t.Errorf("%s: without %d rows the header is %q, %v", rows, want, l.Names, err)
		}
	}
}

// TestManySheets: of the names of sheets two hundred letters are listed.
func TestManySheets(t *testing.T) {
	var names, sheets []string
	for i := range 12 {
		names = append(names, fmt.Sprintf("Sheet number %02d of this", i))
		sheets = append(sheets, fmt.Sprintf(`<sheet name=%q r:id="rId1"/>`, names[i]))
	}
	members := map[string]string{"xl/workbook.xml": `<workbook xmlns:r="r"><sheets>` + strings.Join(sheets, "") + `</sheets></workbook>`}
	_, err := layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(head, members)}, layers.Asked{})
	refused(t, err, "the spreadsheet has several sheets: "+strings.Join(names, ", ")[:200]+"...", "name one after a colon, as in a.xlsx:"+names[0])
}

func refused(t *testing.T, err error, found, remedy string) {
	t.Helper()
	var unusable *format.UnusableError
	if !errors.As(err, &unusable) || unusable.Found != found || unusable.Remedy != remedy {
		t.Errorf("%v, want %s; %s", err, found, remedy)
	}
}

// TestLimitsOfASpreadsheet: sheets and bytes of a cell, of a row and of a shared text, up to the limit
// and one more.
func TestLimitsOfASpreadsheet(t *testing.T) {
	shared := map[string]string{"xl/sharedStrings.xml": "<sst><si><t>123456</t><r><t>7890</t></r></si></sst>"}
	for _, c := range []struct {
		rows, found string
		members     map[string]string
		set         func(*format.Limits, int)
		most        int
	}{
		{head, "an element is longer than limits.record_mb", shared, func(l *format.Limits, n int) { l.RecordBytes = n }, 10},
		{`<row><c t="str"><v>12345</v></c><c t="str"><v> 67890</v></c></row>`, "an element is longer than limits.record_mb", nil, func(l *format.Limits, n int) { l.RecordBytes = n }, 10},
		{head, "there are more sheets than the limit of 3", map[string]string{"xl/workbook.xml": `<workbook xmlns:r="r"><sheets><sheet name="A" r:id="rId1"/><sheet name="B"/><sheet name="C"/><sheet name="D"/></sheets></workbook>`,
			"xl/sharedStrings.xml": ""}, func(l *format.Limits, n int) { l.Members = n }, 4},
	} {
		for less, refused := range []bool{false, true} {
			limits := format.DefaultLimits()
			c.set(&limits, c.most-less)
			_, err := layers.Read(layers.Form{File: "a.xlsx", Bytes: layers.Book(c.rows, c.members)}, layers.Asked{Limits: limits})
			if got := err != nil && strings.Contains(err.Error(), c.found); got != refused {
				t.Errorf("%s where %d are allowed: %v", c.found, c.most-less, err)
			}
		}
	}
}

// TestManySharedTexts: a shared text counts sixteen bytes beside its letters, and what is read from a
// small file may be 16 MiB: 2 to the power of 20 texts without letters, and no one more.
func TestManySharedTexts(t *testing.T) {
	for texts, refused := range map[int]bool{1 << 20: false, 1<<20 + 1: true} {
		book := layers.Book(head, map[string]string{"xl/sharedStrings.xml": "<sst>" + strings.Repeat("<si/>", texts) + "</sst>"})
		_, err := layers.Read(layers.Form{File: "a.xlsx", Bytes: book}, layers.Asked{})
		if got := err != nil && strings.Contains(err.Error(), "the texts come to more than 200 times the size of the file"); got != refused {
			t.Errorf("%d texts in a file of %d bytes: %v", texts, len(book), err)
		}
	}
}
