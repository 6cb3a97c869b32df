// Package xlsx reads the sheets of ECMA-376 (.xlsx) spreadsheets.
package xlsx

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"path"
	"strings"
	"time"

	"driftreach/internal/format"
	"driftreach/internal/format/archive"
	"driftreach/internal/format/xmldoc"
)

// workbook is an ECMA-376 spreadsheet, whose sheets are its layers. The reader is our own. Of the two
// libraries available, one adds 6 MB to the program and unpacks to disk; the other crashes on a
// negative shared text number and reads a truncated sheet without an error.
type workbook struct {
	*archive.Archive
	sheets []worksheet
	texts  []string // shared texts of the cells
	held   int64    // memory of the shared texts, in bytes
	styles []shows  // by style
	from   time.Time
}

// worksheet is one sheet of a workbook.
type worksheet struct {
	name   string
	part   *zip.File
	hidden bool
}

// epoch1904 is day 0 of workbooks of the 1904 date system (ECMA-376 part 1, 18.17.4.1).
var epoch1904 = time.Date(1904, time.January, 1, 0, 0, 0, 0, time.UTC)

// workbookPart is the member by which an archive is known as a workbook.
const workbookPart = "xl/workbook.xml"

// Format is an ECMA-376 spreadsheet.
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "spreadsheet", Rows: true} }

// Is implements format.
func (Format) Is(r *format.Reading, d *format.Document) bool {
	if !archive.IsZip(d) {
		return false
	}
	p, err := archive.Open(r, d)
	return err == nil && p.Part(workbookPart) != nil
}

// Read reads the sheet that the layer names, or the only one that is not empty.
func (Format) Read(r *format.Reading, d *format.Document, take func(*format.Feature) error) error {
	p, err := archive.Open(r, d)
	if err != nil {
		return err
	}
	take = format.Measured(r, p.Size, take)
	w := &workbook{Archive: p, from: format.SerialEpoch}
	p.Encoding = "UTF-8"
	if err := w.readSheets(); err != nil {
		return err
	}
	at, err := w.chooseSheet()
	if err != nil {
		return err
	}
	if err := w.readShared(); err != nil {
		return err
	}
	if err := w.readStyles(); err != nil {
		return err
	}
	return w.readSheet(at.part, take)
}

// parts calls do for each element of a member, as the element begins.
func (w *workbook) parts(f *zip.File, do func(x *xmldoc.Reader, e xml.StartElement) error) error {
	text, err := w.Open(f)
	if err != nil {
		return err
	}
	defer text.Close()
	w.Reading.Text = format.NewWindow(text)
	x := xmldoc.Open(w.Reading)
	return x.Every(func(e xml.StartElement) error { return do(x, e) })
}

// readSheets reads the names of the sheets and where each is.
func (w *workbook) readSheets() error {
	var ids []string
	err := w.parts(w.Part(workbookPart), func(_ *xmldoc.Reader, e xml.StartElement) error {
		switch e.Name.Local {
		case "workbookPr":
			if on := xmldoc.Attribute(e, "date1904"); on == "1" || on == "true" {
				w.from = epoch1904
			}
		case "sheet":
			state := xmldoc.Attribute(e, "state")
			w.sheets = append(w.sheets, worksheet{name: xmldoc.Attribute(e, "name"), hidden: state == "hidden" || state == "veryHidden"})
			id := ""
			for _, a := range e.Attr { // sheetId is something else
				if a.Name.Local == "id" {
					id = a.Value
				}
			}
			ids = append(ids, id)
		}
		if len(w.sheets) > w.Limits.Members {
			return w.Unusable(workbookPart, fmt.Sprintf("there are more sheets than the limit of %d", w.Limits.Members), "save the sheet as CSV, or raise limits.members")
		}
		return nil
	})
	if err != nil {
		return err
	}
	relations := w.Part("xl/_rels/workbook.xml.rels")
	if relations == nil {
		return w.Unusable("", "the spreadsheet does not say where its sheets are", "save it again, or as CSV")
	}
	targets := map[string]string{}
	err = w.parts(relations, func(_ *xmldoc.Reader, e xml.StartElement) error {
		if e.Name.Local == "Relationship" {
			targets[xmldoc.Attribute(e, "Id")] = xmldoc.Attribute(e, "Target")
		}
		return nil
	})
	for i, id := range ids {
		target := targets[id]
		if !strings.HasPrefix(target, "/") {
			target = path.Join("xl", target)
		}
		w.sheets[i].part = w.Part(strings.TrimPrefix(target, "/"))
	}
	return err
}

// chooseSheet returns the sheet that the layer names. Without a layer it returns the only sheet that is
// visible and not empty.
func (w *workbook) chooseSheet() (worksheet, error) {
	var found []worksheet
	var names []string
	for _, s := range w.sheets {
		if w.Layer != "" && strings.EqualFold(s.name, w.Layer) && s.part != nil {
			return s, nil
		}
		if s.part == nil || s.hidden {
			continue // chart sheets have no cells
		}
		names = append(names, s.name)
		filled := w.Layer != ""
		if !filled {
			err := w.parts(s.part, func(_ *xmldoc.Reader, e xml.StartElement) error {
				if e.Name.Local == "v" || e.Name.Local == "t" {
					return errFilled
				}
				return nil
			})
			if filled = err == errFilled; err != nil && !filled {
				return worksheet{}, err
			}
		}
		if filled {
			found = append(found, s)
		}
	}
	list := format.ShortenTo(strings.Join(names, ", "), 200)
	switch {
	case w.Layer != "":
		return worksheet{}, w.Unusable("", fmt.Sprintf("the spreadsheet has no sheet %q; it has %s", w.Layer, list), "name one after a colon, as in "+w.File()+":"+first(names))
	case len(found) == 0:
		return worksheet{}, w.Unusable("", "no sheet that is shown holds anything", "check that the right file was named")
	case len(found) > 1:
		return worksheet{}, w.Unusable("", "the spreadsheet has several sheets: "+list, "name one after a colon, as in "+w.File()+":"+found[0].name)
	}
	return found[0], nil
}

// errFilled stops the look into a sheet at its first value.
var errFilled = fmt.Errorf("the sheet holds something")

func first(names []string) string {
	if len(names) == 0 {
		return "Sheet1"
	}
	return names[0]
}

// textBytes is what a shared text counts in addition to its letters. Our choice: the size of its entry
// in the list.
const textBytes = 16

// readShared reads the shared texts, within the limit on expansion.
func (w *workbook) readShared() error {
	f := w.Part("xl/sharedStrings.xml")
	if f == nil {
		return nil
	}
	return w.parts(f, func(x *xmldoc.Reader, e xml.StartElement) error {
		if e.Name.Local != "si" {
			return nil
		}
		text, err := writtenText(x)
		if err != nil {
			return err
		}
		w.texts = append(w.texts, text)
		if w.held += int64(len(text)) + textBytes; w.held > format.FreeExpansion && w.held/max(1, w.Size) >= int64(w.Limits.Expansion) {
			return w.Unusable(f.Name, fmt.Sprintf("the texts come to more than %d times the size of the file", w.Limits.Expansion), "save the sheet as CSV, or raise limits.expansion")
		}
		return nil
	})
}

// writtenText reads the text of the current element: all its runs, without phonetic guides.
func writtenText(x *xmldoc.Reader) (string, error) {
	var b strings.Builder
	err := x.Each(func(child xml.StartElement) error {
		switch child.Name.Local {
		case "t":
			text, err := x.Content()
			b.Write(text)
			return err
		case "r":
			return x.Each(func(run xml.StartElement) error {
				if run.Name.Local != "t" {
					return nil
				}
				text, err := x.Content()
				b.Write(text)
				return err
			})
		}
		return nil
	})
	if b.Len() > x.Limits.RecordBytes {
		return "", x.Broken(xmldoc.ErrTooLong)
	}
	return b.String(), err
}

// shows says what a style shows a number as.
type shows uint8

const (
	plainly shows = iota
	asDate
	asPercent
)

// readStyles finds what each style shows a number as.
func (w *workbook) readStyles() error {
	f := w.Part("xl/styles.xml")
	if f == nil {
		return nil
	}
	codes, inside := map[string]string{}, false
	return w.parts(f, func(_ *xmldoc.Reader, e xml.StartElement) error {
		switch e.Name.Local {
		case "numFmt":
			codes[xmldoc.Attribute(e, "numFmtId")] = xmldoc.Attribute(e, "formatCode")
		case "cellXfs":
			inside = true
		case "cellStyles", "dxfs":
			inside = false
		case "xf":
			if inside {
				id := xmldoc.Attribute(e, "numFmtId")
				w.styles = append(w.styles, formatShows(id, codes[id]))
			}
		}
		return nil
	})
}

// formatShows says what a number format shows: a date or a share in percent, by the built-in formats
// (ECMA-376 part 1, 18.8.30) or by a code with a letter for days or years, or with a percent sign
// (18.8.31: the number is multiplied by 100).
func formatShows(id, code string) shows {
	switch id {
	case "14", "15", "16", "17", "22":
		return asDate
	case "9", "10":
		return asPercent
	}
	found := plainly
	quoted, bracketed, escaped := false, false, false
	for _, r := range strings.ToLower(code) {
		switch {
		case escaped:
			escaped = false
		case r == '"':
			quoted = !quoted
		case quoted:
		case r == '\\' || r == '_' || r == '*':
			escaped = true
		case r == '[':
			bracketed = true
		case r == ']':
			bracketed = false
		case bracketed:
		case r == 'y' || r == 'd':
			return asDate
		case r == '%':
			found = asPercent
		}
	}
	return found
}
