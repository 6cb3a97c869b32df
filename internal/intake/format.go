package intake

import (
	"bufio"
	"bytes"
	"fmt"
	"io"

	"driftreach/internal/check"
)

// format is the kind of text a file holds.
type format string

const (
	formatCSV     format = "CSV"
	formatGeoJSON format = "GeoJSON"
)

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
	comma    bool // numbers may have a decimal comma
}

// reportFile tells of trouble with the file as a whole.
func (r *reading) reportFile(rule check.Rule, field, value, message string) {
	r.log.Add(check.Finding{Rule: rule, File: r.name, Field: field, Value: value, Message: message})
}

func (r *reading) unusable(place, found, remedy string) error {
	return &UnusableError{File: r.name, Place: place, Found: found, Remedy: remedy}
}

// read gives every feature of the input to take, whatever the format.
func (r *reading) read(in io.Reader, take func(*feature) error) error {
	// Our choice: enough to see binary marks and UTF-16 by.
	const enough = 4096
	buffered := bufio.NewReaderSize(in, enough)
	head, err := buffered.Peek(enough)
	if err != nil && err != io.EOF {
		return err
	}
	if len(head) < enough && len(bytes.TrimSpace(head)) == 0 {
		return r.unusable("", "the file is empty", "check that the right file was named")
	}
	text, encoding := decode(head, buffered)
	if encoding == "UTF-8" {
		if kind := foreign(head); kind != "" {
			return r.unusable("", "the file is "+kind+", which cannot be read here", "save it as CSV or GeoJSON")
		}
	}
	r.encoding = encoding
	r.text = newWindow(text)
	r.text.more()
	if err := r.readText(take); err != nil {
		return err
	}
	if r.charset.assumed {
		r.encoding = "Windows-1252"
		r.reportFile(ruleEncoding, "", "", "the text is not UTF-8 throughout; what is not was read as Windows-1252")
	}
	return r.text.failed()
}

func (r *reading) readText(take func(*feature) error) error {
	if b := r.text.first(); b == '{' || b == '[' {
		r.format = formatGeoJSON
		return r.readGeoJSON(take)
	}
	r.format = formatCSV
	return r.readCSV(take)
}

// foreign names the format of a text that is neither CSV nor GeoJSON; the
// marks are those of the formats' own definitions.
func foreign(head []byte) string {
	for _, f := range []struct{ mark, name string }{
		{"PK\x03\x04", "a zip archive"},
		{"SQLite format 3\x00", "a GeoPackage or another SQLite database"},
		{"\x00\x00\x27\x0a", "a Shapefile"},
		{"PAR1", "a Parquet file"},
		{"%PDF", "a PDF document"},
		{"\x1f\x8b", "gzip-compressed"},
		{"\xd0\xcf\x11\xe0", "an old spreadsheet"},
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
	case bytes.HasPrefix(text, []byte("<?xml")), bytes.HasPrefix(text, []byte("<kml")), bytes.HasPrefix(text, []byte("<gpx")):
		return "XML"
	case bytes.IndexByte(head, 0) >= 0:
		return "binary"
	}
	return ""
}

// rowName is what findings call a record without an id.
func rowName(row int) string { return fmt.Sprintf("row %d", row) }
