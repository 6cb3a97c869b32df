package mapfile

import (
	"archive/zip"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/result"
)

// WorkbookFile is the file with all tables.
const WorkbookFile = "tables.xlsx"

// The largest sheet and cell in spreadsheet programs: ECMA-376 gives no limit, these are common
// practice.
const (
	MostSheetRows = 1 << 20
	mostCell      = 32767 // characters
)

// CutCell is added to a text that was cut to fit a cell.
const CutCell = " [cut: the CSV has all of it]"

// workbookTables returns the tables of a workbook: first those on which decisions are based, then those
// behind them, and the dictionary of all of these last.
func workbookTables(run *result.Run) []result.Table {
	all := []result.Table{
		cautionTable(run), result.StandTable(run), result.OrderTable(run), result.FollowupTable(run), result.SummaryTable(run, result.Summarize(run)), result.ReachTable(run),
	}
	add := func(there bool, table func(*result.Run) result.Table) {
		if there {
			all = append(all, table(run))
		}
	}
	add(run.Plan != nil, result.PlanTable)
	add(run.Plan != nil, result.PlanQuarterTable)
	add(len(run.Units) > 0, result.StandUnitTable)
	add(run.Previous != nil, result.LineageTable)
	add(run.WorkGiven || len(run.Treatments) > 0, result.TreatmentTable)
	add(run.WorksGiven, result.NoticeTable)
	all = append(all, result.FindingTable(run))
	return append(all, result.Dictionary(all))
}

// workbookRows is the number of rows in its sheets.
func workbookRows(run *result.Run) (n int) {
	for _, t := range workbookTables(run) {
		n += t.Rows
	}
	return n
}

// writeWorkbook writes tables.xlsx (ECMA-376, transitional): one sheet for each table, the cautions
// first and the dictionary last, with typed cells, dates as dates and a fixed header. It has no
// formula, macro or link: text is written as text, and a text that a spreadsheet would take for a
// formula has an apostrophe before it, as in the CSV. Its parts contain no clock time.
func writeWorkbook(w io.Writer, run *result.Run) error {
	z, tables := zip.NewWriter(w), workbookTables(run)
	for _, part := range workbookParts(tables) {
		if err := writePart(z, part.name, func(w io.Writer) error { _, err := io.WriteString(w, xmlHead+part.text); return err }); err != nil {
			return err
		}
	}
	for k, t := range tables {
		err := writePart(z, fmt.Sprintf("xl/worksheets/sheet%d.xml", k+1), func(w io.Writer) error { return writeSheet(w, run, t) })
		if err != nil {
			return err
		}
	}
	return z.Close()
}

func writePart(z *zip.Writer, name string, write func(io.Writer) error) error {
	f, err := z.CreateHeader(dated(zip.FileHeader{Name: name, Method: zip.Deflate}))
	if err != nil {
		return err
	}
	return write(f)
}

type workbookPart struct{ name, text string }

// Cell styles, by their index in cellXfs below.
const (
	plainStyle = iota
	headStyle
	DateStyle // shows a number as a date
)

// workbookParts returns the parts of the workbook that are not sheets.
func workbookParts(tables []result.Table) []workbookPart {
	const main, office = "http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	const packed, kinds = "http://schemas.openxmlformats.org/package/2006", "application/vnd.openxmlformats-officedocument.spreadsheetml."
	var types, sheets, relations strings.Builder
	for k, t := range tables {
		n := strconv.Itoa(k + 1)
		types.WriteString(`<Override PartName="/xl/worksheets/sheet` + n + `.xml" ContentType="` + kinds + `worksheet+xml"/>`)
		sheets.WriteString(`<sheet name="` + t.Name + `" sheetId="` + n + `" r:id="rId` + n + `"/>`)
		relations.WriteString(`<Relationship Id="rId` + n + `" Type="` + office + `/worksheet" Target="worksheets/sheet` + n + `.xml"/>`)
	}
	return []workbookPart{
		{"[Content_Types].xml", `<Types xmlns="` + packed + `/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
			`<Override PartName="/xl/workbook.xml" ContentType="` + kinds + `sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="` + kinds + `styles+xml"/>` + types.String() + `</Types>`},
		{"_rels/.rels", `<Relationships xmlns="` + packed + `/relationships"><Relationship Id="rId1" Type="` + office + `/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
		{"xl/workbook.xml", `<workbook xmlns="` + main + `" xmlns:r="` + office + `"><sheets>` + sheets.String() + `</sheets></workbook>`},
		{"xl/_rels/workbook.xml.rels", `<Relationships xmlns="` + packed + `/relationships">` + relations.String() +
			`<Relationship Id="rId` + strconv.Itoa(len(tables)+1) + `" Type="` + office + `/styles" Target="styles.xml"/></Relationships>`},
		{"xl/styles.xml", `<styleSheet xmlns="` + main + `"><numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\-mm\-dd"/></numFmts>` +
			`<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts>` +
			`<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>` +
			`<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>` +
			`<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>` +
			`<cellXfs count="3"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"/>` +
			`<xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/></cellXfs>` +
			`<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`},
	}
}

// writeSheet writes one table. Rows that do not fit into a sheet are only in the CSV, and the last row
// says so.
func writeSheet(w io.Writer, run *result.Run, t result.Table) error {
	b := append([]byte(xmlHead), `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetViews><sheetView workbookViewId="0">`...)
	b = append(b, `<pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>`...)
	for k, f := range t.Fields {
		b = fmt.Appendf(b, `<col min="%d" max="%d" width="%d" customWidth="1"/>`, k+1, k+1, columnWidth(f))
	}
	b = append(b, `</cols><sheetData><row r="1">`...)
	for k, f := range t.Fields {
		b = appendTextCell(b, cellName(k, 1), f.Name, headStyle)
	}
	b = append(b, "</row>\n"...)
	rows, cut := t.Rows, t.Rows > MostSheetRows-1
	if cut {
		rows = MostSheetRows - 2
	}
	var row []result.Value
	for i := range rows {
		row = t.Row(run, i, row)
		b = fmt.Appendf(b, `<row r="%d">`, i+2)
		for k, v := range row {
			b = appendSheetCell(b, cellName(k, i+2), v)
		}
		if b = append(b, "</row>\n"...); len(b) >= flushAt {
			if _, err := w.Write(b); err != nil {
				return err
			}
			b = b[:0]
		}
	}
	if cut {
		b = appendTextCell(fmt.Appendf(b, `<row r="%d">`, MostSheetRows), cellName(0, MostSheetRows), fmt.Sprintf("%d rows more are in %s.csv: a sheet holds no more", t.Rows-rows, t.Name), plainStyle)
		b = append(b, "</row>"...)
	}
	_, err := w.Write(append(b, "</sheetData></worksheet>"...))
	return err
}

// columnWidth is a column's width in characters: room for the header, and more for texts.
func columnWidth(f result.Field) int {
	n := len(f.Name) + 2
	if f.Kind == result.Text || f.Kind == result.List {
		n = max(n, 20)
	}
	switch f.Name {
	case "caution", "cautions", "meaning", "what", "why", "requirements", "message", "remedy":
		n = 80
	}
	return n
}

// cellName is the name of a cell: its column, counted from 0, in letters, and its row.
func cellName(column, row int) string {
	name := strconv.Itoa(row)
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}

// appendSheetCell appends a value in its own type; nothing for a blank.
func appendSheetCell(b []byte, at string, v result.Value) []byte {
	switch v.Kind {
	case result.Null:
		return b
	case result.Flag:
		return fmt.Appendf(b, `<c r="%s" t="b"><v>%d</v></c>`, at, v.Int)
	case result.Count, result.Number:
		return append(v.Append(fmt.Appendf(b, `<c r="%s"><v>`, at)), "</v></c>"...)
	case result.Date:
		if day, err := time.Parse(time.DateOnly, v.Text); err == nil && day.Year() > 1900 {
			return fmt.Appendf(b, `<c r="%s" s="%d"><v>%d</v></c>`, at, DateStyle, serial(day))
		}
	}
	if text := v.String(); text != "" {
		return appendTextCell(b, at, text, plainStyle)
	}
	return b
}

// serial returns a day's number in spreadsheets, in which 1 March 1900 is 61 (ECMA-376, part 1, section
// 18.17.4.1).
func serial(day time.Time) int {
	return int(day.Sub(format.SerialEpoch) / (24 * time.Hour))
}

// appendTextCell appends text as text, which no spreadsheet runs.
func appendTextCell(b []byte, at, text string, style int) []byte {
	text = check.Cell(text)
	if len(text) > mostCell {
		text = strings.ToValidUTF8(text[:mostCell-len(CutCell)], "") + CutCell
	}
	b = fmt.Appendf(b, `<c r="%s" s="%d" t="inlineStr"><is><t xml:space="preserve">`, at, style)
	return append(appendXML(b, text), "</t></is></c>"...)
}
