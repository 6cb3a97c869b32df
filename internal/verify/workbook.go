package verify

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math/big"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"driftreach/internal/format"
	"driftreach/internal/format/xmldoc"
	"driftreach/internal/mapfile"
)

// workbook compares each sheet of the workbook with the CSV of the same name, cell by cell. The
// cautions have no CSV. The workbook's dictionary has the fields of its own sheets, each as in
// fields.csv, and those of the cautions.
func (r *Report) workbook(kept map[string][]byte) {
	data := kept[mapfile.WorkbookFile]
	if data == nil {
		return
	}
	book, err := openWorkbook(data)
	if err != nil {
		r.addf(mapfile.WorkbookFile, "cannot be read as a workbook: %v", err)
		return
	}
	for _, name := range book.sheets {
		table := rowsOf(kept[name+".csv"])
		if name == cautionSheet || table == nil {
			continue // an unreadable CSV is reported elsewhere
		}
		if err := r.sheet(book, name, table); err != nil {
			r.addf(mapfile.WorkbookFile, "sheet %s cannot be read: %v", name, err)
		}
	}
}

// Sheets that do not correspond to one CSV.
const (
	cautionSheet    = "cautions"
	dictionarySheet = "fields"
)

// sheet compares one sheet with the rows of its CSV, header first.
func (r *Report) sheet(book *workbook, name string, table [][]string) error {
	var wrong faults
	n := 0
	err := book.rows(name, func(cells []sheetCell) {
		if name == dictionarySheet {
			own := len(cells) > 0 && cells[0].text == cautionSheet
			if n++; !own && !slices.ContainsFunc(table, func(row []string) bool { return unlike(cells, row) < 0 }) {
				wrong.addf("sheet %s, row %d: %s has no such row", name, n, name+".csv")
			}
			return
		}
		if n++; n > len(table) || n == mapfile.MostSheetRows && n < len(table) {
			return // the last row of a full sheet says how many rows are missing
		}
		row := table[n-1]
		if at := unlike(cells, row); at >= len(row) {
			wrong.addf("sheet %s, row %d has %d cells, and %s.csv has %d", name, n, len(cells), name, len(row))
		} else if at >= 0 {
			is := ""
			if at < len(cells) {
				is = cells[at].text
			}
			wrong.addf("sheet %s, row %d: %s is %.40q, and %s.csv says %.40q", name, n, table[0][at], is, name, row[at])
		}
	})
	if whole := min(len(table), mapfile.MostSheetRows); err == nil && n != whole && name != dictionarySheet {
		wrong.addf("sheet %s has %d rows, and %s.csv has %d", name, n-1, name, whole-1)
	}
	r.told(mapfile.WorkbookFile, &wrong)
	return err
}

// unlike returns the first column in which the cells of a sheet differ from a row of a CSV; -1 if there
// is none.
func unlike(cells []sheetCell, row []string) int {
	for k := range max(len(cells), len(row)) {
		switch {
		case k >= len(row):
			return k
		case k >= len(cells):
			if row[k] != "" {
				return k
			}
		case !cells[k].says(row[k]):
			return k
		}
	}
	return -1
}

// sheetCell is a cell of a workbook.
type sheetCell struct {
	kind string // "inlineStr", "b", "date"; blank for a number
	text string
}

// says reports whether the cell has the same value as the cell of a CSV.
func (c sheetCell) says(want string) bool {
	switch c.kind {
	case "inlineStr":
		is, want := oneLineEnd(c.text), oneLineEnd(want)
		if begin, cut := strings.CutSuffix(is, mapfile.CutCell); cut {
			return strings.HasPrefix(want, begin)
		}
		return is == want
	case "b":
		return c.text == "1" && want == "true" || c.text == "0" && want == "false"
	case "date":
		days, err := strconv.Atoi(c.text)
		return err == nil && days < lastSerial && format.SerialEpoch.AddDate(0, 0, days).Format(time.DateOnly) == want
	}
	if c.text == want {
		return true
	}
	if len(c.text) > 40 || len(want) > 40 || strings.ContainsAny(c.text+want, "eE/") {
		return false
	}
	is, ok := new(big.Rat).SetString(c.text)
	said, also := new(big.Rat).SetString(want)
	return ok && also && is.Cmp(said) == 0
}

func oneLineEnd(text string) string {
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
}

// lastSerial is the day number after the last one of a spreadsheet, which is at the end of the year
// 9999.
const lastSerial = 2_958_466

// workbook is one of our workbooks: texts are in their cells, and there are no formulas.
type workbook struct {
	files  *zip.Reader
	sheets []string // in order: sheet k+1 is in the part sheet<k+1>.xml
}

// openWorkbook reads the names of the sheets.
func openWorkbook(data []byte) (*workbook, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	book := &workbook{files: z}
	err = book.elements("xl/workbook.xml", func(d *xml.Decoder, e xml.StartElement) error {
		if e.Name.Local == "sheet" {
			book.sheets = append(book.sheets, xmldoc.Attribute(e, "name"))
		}
		return nil
	})
	if err == nil && len(book.sheets) == 0 {
		err = errors.New("it has no sheets")
	}
	return book, err
}

// elements calls do with each element of a part as it begins.
func (b *workbook) elements(name string, do func(*xml.Decoder, xml.StartElement) error) error {
	f, err := b.files.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	d := xml.NewDecoder(io.LimitReader(f, maxChecked))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return fmt.Errorf("%s: %w", path.Base(name), err)
		}
		if e, is := token.(xml.StartElement); is {
			if err := do(d, e); err != nil {
				return err
			}
		}
	}
}

// rows calls do with the cells of each row of a sheet, header first.
func (b *workbook) rows(sheet string, do func([]sheetCell)) error {
	part := fmt.Sprintf("xl/worksheets/sheet%d.xml", slices.Index(b.sheets, sheet)+1)
	return b.elements(part, func(d *xml.Decoder, e xml.StartElement) error {
		if e.Name.Local != "row" {
			return nil
		}
		var row struct {
			Cells []struct {
				At      string  `xml:"r,attr"`
				Kind    string  `xml:"t,attr"`
				Style   int     `xml:"s,attr"`
				Value   string  `xml:"v"`
				Text    string  `xml:"is>t"`
				Formula *string `xml:"f"`
			} `xml:"c"`
		}
		if err := d.DecodeElement(&row, &e); err != nil {
			return err
		}
		var cells []sheetCell
		for _, c := range row.Cells {
			column, err := columnOf(c.At)
			switch {
			case err != nil:
				return err
			case column < len(cells):
				return fmt.Errorf("cell %s is out of order", c.At)
			case c.Formula != nil:
				return fmt.Errorf("cell %s holds a formula", c.At)
			}
			for len(cells) < column { // blank cells are not written
				cells = append(cells, sheetCell{kind: "inlineStr"})
			}
			is := sheetCell{c.Kind, c.Value}
			switch {
			case c.Kind == "inlineStr":
				is.text = c.Text
			case c.Kind == "" && c.Style == mapfile.DateStyle:
				is.kind = "date"
			}
			cells = append(cells, is)
		}
		do(cells)
		return nil
	})
}

// columnOf returns the column of a cell reference such as AB12, counted from 0.
func columnOf(at string) (int, error) {
	letters := strings.TrimRight(at, "0123456789")
	n := 0
	for _, letter := range letters {
		if letter < 'A' || letter > 'Z' || len(letters) > 3 {
			return 0, fmt.Errorf("a cell is at %.20q", at)
		}
		n = 26*n + int(letter-'A') + 1
	}
	if n == 0 {
		return 0, fmt.Errorf("a cell is at %.20q", at)
	}
	return n - 1, nil
}
