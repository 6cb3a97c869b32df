package xlsx

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"driftreach/internal/format"
	"driftreach/internal/format/grid"
	"driftreach/internal/format/xmldoc"
)

// sheetReader turns the rows of a sheet into features, as package csv does for a text.
type sheetReader struct {
	grid.Grid
	book    *workbook
	take    func(*format.Feature) error
	feature format.Feature
	room    []byte
	spans   []format.Span
	ahead   []sheetRow // rows kept until the header is known
	named   bool       // the header has been read
}

// sheetRow is a row that is kept until the header is known.
type sheetRow struct {
	number int
	cells  []string
}

// readSheet reads the rows of a sheet. The first row that is not blank is the header, unless it is a
// title.
func (w *workbook) readSheet(part *zip.File, take func(*format.Feature) error) error {
	s := &sheetReader{Grid: grid.Grid{Reading: w.Reading}, book: w, take: take}
	s.GeometryColumn = -1
	last := 0
	err := w.parts(part, func(x *xmldoc.Reader, e xml.StartElement) error {
		if e.Name.Local != "row" {
			return nil
		}
		number := last + 1
		if r, err := strconv.Atoi(xmldoc.Attribute(e, "r")); err == nil && r > last {
			number = r
		}
		last = number
		if err := s.readRow(x); err != nil {
			return err
		}
		return s.row(number)
	})
	if err == nil && !s.named {
		err = s.begin()
	}
	return err
}

// readRow reads the cells of a row into room and spans.
func (s *sheetReader) readRow(x *xmldoc.Reader) error {
	s.room, s.spans = s.room[:0], s.spans[:0]
	next := 0
	return x.Each(func(c xml.StartElement) error {
		if c.Name.Local != "c" {
			return nil
		}
		column := next
		if k := columnNumber(xmldoc.Attribute(c, "r")); k >= 0 {
			column = k
		}
		next = column + 1
		if column >= s.Limits.Columns {
			return x.Broken(fmt.Errorf("there are more than %d columns", s.Limits.Columns))
		}
		text, err := s.cell(x, c)
		if err != nil {
			return err
		}
		for len(s.spans) <= column {
			s.spans = append(s.spans, format.Span{})
		}
		begin := len(s.room)
		s.room = append(s.room, strings.TrimSpace(text)...)
		s.spans[column] = format.Span{Begin: begin, End: len(s.room)}
		if len(s.room) > s.Limits.RecordBytes {
			return x.Broken(xmldoc.ErrTooLong)
		}
		return nil
	})
}

// columnNumber returns the column of a cell reference such as AB12, counted from 0, or -1 for none.
func columnNumber(place string) int {
	n := 0
	for i := 0; i < len(place) && i < 4; i++ {
		b := place[i] &^ 0x20
		if b < 'A' || b > 'Z' {
			break
		}
		n = 26*n + int(b-'A') + 1
	}
	return n - 1
}

// cell reads the value of a cell as text.
func (s *sheetReader) cell(x *xmldoc.Reader, c xml.StartElement) (string, error) {
	value := ""
	kind := xmldoc.Attribute(c, "t")
	err := x.Each(func(child xml.StartElement) (err error) {
		switch child.Name.Local {
		case "v":
			var text []byte
			text, err = x.Content()
			value = string(text)
		case "is":
			value, err = writtenText(x)
		}
		return err
	})
	if err != nil || value == "" {
		return "", err
	}
	switch kind {
	case "s":
		k, err := strconv.Atoi(strings.TrimSpace(value))
		if err != nil || k < 0 || k >= len(s.book.texts) {
			return "", x.Broken(fmt.Errorf("a cell has the shared text %s of %d", format.Shorten(value), len(s.book.texts)))
		}
		return s.book.texts[k], nil
	case "b":
		return map[bool]string{true: "TRUE", false: "FALSE"}[value == "1"], nil
	case "", "n":
		style, _ := strconv.Atoi(xmldoc.Attribute(c, "s"))
		as := plainly
		if style >= 0 && style < len(s.book.styles) {
			as = s.book.styles[style]
		}
		return s.book.shown(value, as), nil
	}
	return value, nil
}

// shown writes a number with the fifteen digits that a spreadsheet shows, a date as a date, and a share
// that is shown in percent with its sign: 0.35 as 35%.
func (w *workbook) shown(value string, as shows) string {
	v, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
	if err != nil {
		return value
	}
	if as == asPercent {
		return digits(v*100) + "%"
	}
	if as == asDate && v >= 0 && v < format.LastSerial {
		days := math.Floor(v)
		day := w.from.AddDate(0, 0, int(days))
		if seconds := math.Round((v - days) * 86400); seconds > 0 {
			return day.Add(time.Duration(seconds) * time.Second).Format("2006-01-02T15:04:05")
		}
		return day.Format(time.DateOnly)
	}
	if len(value) <= format.MostPlain {
		return value
	}
	return digits(v)
}

// digits writes a number with fifteen digits.
func digits(v float64) string {
	plain := strconv.FormatFloat(v, 'g', format.MostPlain, 64)
	short, _ := strconv.ParseFloat(plain, 64)
	return strconv.FormatFloat(short, 'f', -1, 64)
}

// row handles a row that was read: it is kept until the header is known, or becomes a feature.
func (s *sheetReader) row(number int) error {
	if s.named {
		return s.give()
	}
	if number <= s.Skip {
		return nil
	}
	s.ahead = append(s.ahead, sheetRow{number, s.texts()})
	if len(s.ahead) > grid.MostTitle {
		return s.begin()
	}
	return nil
}

func (s *sheetReader) texts() []string {
	out := make([]string, len(s.spans))
	for i, at := range s.spans {
		out[i] = string(s.room[at.Begin:at.End])
	}
	return out
}

// begin finds the header among the kept rows and passes the other rows on.
func (s *sheetReader) begin() error {
	s.named = true
	counts := make([]int, len(s.ahead))
	for i, row := range s.ahead {
		for _, text := range row.cells {
			if text != "" {
				counts[i]++
			}
		}
	}
	head := 0
	for head < len(counts) && counts[head] == 0 {
		head++
	}
	if head == len(counts) {
		return s.Unusable("", "the sheet holds nothing", "check that the right sheet was named")
	}
	known := false
	for _, text := range s.ahead[head].cells {
		known = known || s.Bound(text)
	}
	if k := grid.HeaderBelow(counts[head:]); k > 0 && !known && s.Skip == 0 {
		if err := s.Titled(s.ahead[head+k].number-1, strings.Join(s.ahead[head].cells, " ")); err != nil {
			return err
		}
		head += k
	}
	s.load(s.ahead[head].cells)
	if err := s.NameColumns(); err != nil {
		return err
	}
	s.FindGeometry()
	for _, row := range s.ahead[head+1:] {
		s.spans, s.room = s.spans[:0], s.room[:0]
		for _, text := range row.cells {
			begin := len(s.room)
			s.room = append(s.room, text...)
			s.spans = append(s.spans, format.Span{Begin: begin, End: len(s.room)})
		}
		if err := s.give(); err != nil {
			return err
		}
	}
	s.ahead = nil
	return nil
}

// load makes the texts the row's cells, without blank ones at the end.
func (s *sheetReader) load(texts []string) {
	s.Cells = s.Cells[:0]
	for _, text := range texts {
		s.Cells = append(s.Cells, format.Cell{Text: []byte(text)})
	}
	for len(s.Cells) > 0 && len(s.Cells[len(s.Cells)-1].Text) == 0 {
		s.Cells = s.Cells[:len(s.Cells)-1]
	}
}

// give passes the row on as a feature. Blank rows are skipped, and missing cells are blank.
func (s *sheetReader) give() error {
	columns := len(s.Schema.Names)
	s.Cells = s.Cells[:0]
	for _, at := range s.spans {
		s.Cells = append(s.Cells, format.Cell{Text: bytes.TrimSpace(s.room[at.Begin:at.End])})
	}
	for len(s.Cells) < columns {
		s.Cells = append(s.Cells, format.Cell{})
	}
	if s.Blank() {
		return nil
	}
	f := &s.feature
	f.Row++
	f.Wrong = ""
	if !s.Fits(columns) {
		f.Wrong = fmt.Sprintf("the row has cells beyond the %d columns of the header", columns)
	}
	f.Cells = s.Cells[:columns]
	if err := s.ReadShape(f); err != nil {
		return err
	}
	return s.take(f)
}
