package validate

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"unicode"
	"unicode/utf8"
)

// CSV checks a table against RFC 4180, and for cells that a spreadsheet would run as a formula.
func CSV(data []byte) *Report {
	r := &Report{}
	if !utf8.Valid(data) {
		r.addf("not UTF-8")
	}
	if !bytes.HasSuffix(data, []byte("\r\n")) {
		r.addf("last line does not end in CRLF")
	}
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) == 0 {
		r.addf("not CSV: %v", err)
		return r
	}
	if lines := bytes.Count(data, []byte("\r\n")); lines < len(rows) {
		r.addf("%d lines end in CRLF, of %d rows", lines, len(rows))
	}
	r.Features = len(rows) - 1
	for i, row := range rows {
		for k, cell := range row {
			if runs(cell) {
				r.addf("row %d, column %s: %q would run as a formula", i, rows[0][k], cell)
			}
		}
	}
	return r
}

// runs says whether a spreadsheet would run the cell as a formula: after blanks of any kind it begins
// with a sign that starts a formula, in normal, full-width or small form, or with a tab or line end
// (OWASP, CSV injection). The sign of a number is allowed.
func runs(cell string) bool {
	for _, r := range cell {
		switch r {
		case '=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠', '﹦', '﹢', '﹣', '﹫':
			_, err := strconv.ParseFloat(cell, 64)
			return err != nil
		}
		if !unicode.IsSpace(r) {
			return false
		}
	}
	return false
}
