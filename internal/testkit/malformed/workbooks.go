package malformed

import "strings"

// workbooks returns spreadsheets.
func workbooks() []Case {
	var all []Case
	add := func(name string, b []byte) {
		all = append(all, Case{Name: "spreadsheet, " + name, Ending: ".xlsx", Bytes: b})
	}
	const head = `<row><c t="str"><v>occurrenceID</v></c><c t="str"><v>decimalLongitude</v></c><c t="str"><v>decimalLatitude</v></c><c t="str"><v>eventDate</v></c></row>`
	row := `<row><c t="s"><v>0</v></c><c><v>1</v></c><c><v>2</v></c><c t="str"><v>2026-07-01</v></c></row>`
	add("without parts", pack(member{"xl/workbook.xml", []byte(bookText)}))
	add("with a shared text of -1", workbook(head+strings.Replace(row, ">0<", ">-1<", 1), ""))
	add("with a shared text beyond them", workbook(head+strings.Replace(row, ">0<", ">99999999999<", 1), ""))
	add("that claims a billion shared texts", workbook(head+row, `<sst count="1000000000"><si><t>a</t></si></sst>`))
	add("of eight million shared texts of nothing", workbook(head+row, "<sst>"+strings.Repeat("<si/>", 8<<20)+"</sst>"))
	add("with a shared text of 64 MB", workbook(head+row, "<sst><si><t>"+strings.Repeat("a", 64<<20)+"</t></si></sst>"))
	add("of one row many times over", workbook(head+strings.Repeat(row, 1<<19), "<sst><si><t>a</t></si></sst>"))
	add("of a long text again and again", workbook(head+strings.Repeat(row, 4000), "<sst><si><t>"+strings.Repeat("a", 1<<20)+"</t></si></sst>"))
	add("nested a thousand deep", workbook(head+strings.Repeat("<a>", 1000), ""))
	add("with entities", workbook(head+row, `<!DOCTYPE s [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><sst><si><t>&b;</t></si></sst>`))
	add("with a cell in column XFD", workbook(head+`<row><c r="XFD2"><v>1</v></c></row>`, ""))
	add("with a row far below", workbook(head+`<row r="1048576"><c><v>1</v></c></row>`, ""))
	add("whose sheet is cut off", pack(book(`<worksheet><sheetData>`+head+`<row><c><v>1`, "")...))
	return all
}

const bookText = `<workbook xmlns:r="r"><sheets><sheet name="a" sheetId="1" r:id="i"/></sheets></workbook>`

// workbook is a spreadsheet with one sheet of the given rows.
func workbook(rows, shared string) []byte {
	return pack(book(`<worksheet><sheetData>`+rows+`</sheetData></worksheet>`, shared)...)
}

func book(sheet, shared string) []member {
	parts := []member{
		{"xl/workbook.xml", []byte(bookText)},
		{"xl/_rels/workbook.xml.rels", []byte(`<Relationships><Relationship Id="i" Target="worksheets/a.xml"/></Relationships>`)},
		{"xl/worksheets/a.xml", []byte(sheet)},
	}
	if shared != "" {
		parts = append(parts, member{"xl/sharedStrings.xml", []byte(shared)})
	}
	return parts
}
