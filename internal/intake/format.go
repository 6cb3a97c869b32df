package intake

import (
	"bufio"
	"bytes"
	"fmt"
	"strings"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// format is the kind of a file.
type format string

const (
	formatCSV     format = "CSV"
	formatGeoJSON format = "GeoJSON"

	formatGeoPackage format = "GeoPackage"
	formatShapefile  format = "Shapefile"
	formatGPX        format = "GPX"
	formatKML        format = "KML"
	formatParquet    format = "GeoParquet"

	formatSpreadsheet format = "spreadsheet"
)

// tabular says whether the file is rows and columns, with no geometry but that of a
// column.
func (r *reading) tabular() bool { return r.format == formatCSV || r.format == formatSpreadsheet }

// reading is one file being read.
type reading struct {
	name     string
	limits   Limits
	format   format
	encoding string
	text     *window
	schema   schema
	log      *check.Log
	charset  charset
	comma    bool                               // numbers may have a decimal comma
	skip     int                                // lines above the header, as the settings say
	titled   func(skip int, title string) error // a title above the header was met

	layer    string                 // of the file, as the user named it; blank for the only one
	lines    bool                   // lines are wanted, not points
	anyShape bool                   // points, lines and areas are wanted
	timed    bool                   // days of a track's positions are wanted
	bound    func(name string) bool // a column is one of our fields
	asked    bool                   // the reference system is the user's, or the format's own
	system   earth.CRS
	parts    []Part
	linked   []string // members of the archive that a KML document links to
	rows     int      // features of the documents of the archive read before

	geometryColumn int // of CSV: the column of geometries; -1 for none
}

// reportFile tells of trouble with the file as a whole.
func (r *reading) reportFile(rule check.Rule, field, value, message string) {
	r.log.Add(check.Finding{Rule: rule, File: r.name, Field: field, Value: value, Message: message})
}

// file is the file's name without the layer that the user put after it.
func (r *reading) file() string { return strings.TrimSuffix(r.name, ":"+r.layer) }

func (r *reading) unusable(place, found, remedy string) error {
	return &UnusableError{File: r.name, Place: place, Found: found, Remedy: remedy}
}

// readText reads a format that is text.
func (r *reading) readText(buffered *bufio.Reader, head []byte, take func(*feature) error) error {
	text, encoding := decode(head, buffered)
	if encoding == "UTF-8" {
		if kind := foreign(head); kind != "" {
			return r.unusable("", "the file is "+kind+", which cannot be read here", "save it as CSV, .xlsx, GeoJSON, GeoPackage, GeoParquet, Shapefile, GPX or KML")
		}
	}
	r.encoding = encoding
	r.text = newWindow(text)
	r.text.more()
	if err := r.readMarked(take); err != nil {
		return err
	}
	if r.charset.assumed {
		r.encoding = "Windows-1252"
		r.reportFile(ruleEncoding, "", "", "the text is not UTF-8 throughout; what is not was read as Windows-1252")
	}
	return r.text.failed()
}

// readMarked tells the format of a text by its first character.
func (r *reading) readMarked(take func(*feature) error) error {
	switch r.text.first() {
	case '{', '[':
		r.format = formatGeoJSON
		return r.readGeoJSON(take)
	case '<':
		return r.readXML(take)
	}
	r.format = formatCSV
	return r.readCSV(take)
}

// foreign names the format of a file that cannot be read; the
// marks are those of the formats' own definitions.
func foreign(head []byte) string {
	for _, f := range []struct{ mark, name string }{
		{"%PDF", "a PDF document"},
		{"\x1f\x8b", "gzip-compressed"},
		{"\xd0\xcf\x11\xe0", "an old spreadsheet (.xls), or one with a password"},
		{"\x89PNG", "an image"},
		{"\xff\xd8\xff", "an image"},
	} {
		if bytes.HasPrefix(head, []byte(f.mark)) {
			return f.name
		}
	}
	text := bytes.ToLower(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")), " \t\r\n"))
	switch {
	case bytes.HasPrefix(text, []byte("<!doctype html")), bytes.HasPrefix(text, []byte("<html")):
		return "a web page"
	case isTable(head):
		return "the table of a Shapefile without its shapes (name the .shp)"
	case bytes.IndexByte(head, 0) >= 0:
		return "binary"
	}
	return ""
}

// rowName is what findings call a record without an id.
func rowName(row int) string { return fmt.Sprintf("row %d", row) }
