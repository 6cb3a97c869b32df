package detect_test

import (
	"errors"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// TestOtherKindsOfFile: what a file is that cannot be read, by its signature (PDF 32000-1, 7.5.2; RFC 1952,
// 2.3.1; [MS-CFB] 2.2; PNG, 5.2; JPEG, B.1.1.3), and what to save it as. XML of other kinds is named by
// its root.
func TestOtherKindsOfFile(t *testing.T) {
	const save = "save it as CSV, .xlsx, GeoJSON, GeoPackage, GeoParquet, Shapefile, GPX or KML"
	table := "\x03\x7e\x07\x01\x01\x00\x00\x00\x41\x00\x09\x00" + strings.Repeat("\x00", 30)
	for text, kind := range map[string]string{
		"%PDF-1.7\n": "a PDF document", "\x1f\x8b\x08": "gzip-compressed", "\xd0\xcf\x11\xe0\xa1\xb1": "an old spreadsheet (.xls), or one with a password", "\x89PNG\r\n": "an image", "\xff\xd8\xff\xe0": "an image",
		"<!DOCTYPE html><p>": "a web page", " \r\n<HTML>": "a web page", "\ufeff<html>": "a web page", "\t<!doctype HTML>": "a web page", table: "the table of a Shapefile without its shapes (name the .shp)", "a\x00\x00b": "binary", "\x00abc": "binary", "a\x00bcdefg": "binary", "a\x00": "binary",
	} {
		_, err := layers.Read(layers.Form{File: "f", Bytes: []byte(text)}, layers.Asked{})
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || unusable.Found != "the file is "+kind+", which cannot be read here" || unusable.Remedy != save {
			t.Errorf("%q: %v, want %s", text, err, kind)
		}
	}
	for text, root := range map[string]string{"<svg/>": "svg", "<!-- c --><osm>": "osm", "<" + strings.Repeat("x", 90) + "/>": strings.Repeat("x", 80) + "..."} {
		_, err := layers.Read(layers.Form{File: "f", Bytes: []byte(text)}, layers.Asked{})
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || unusable.Found != `the file is XML of the kind "`+root+`", which cannot be read here` || unusable.Remedy != "save it as GPX, KML, GeoJSON, GeoPackage, Shapefile or CSV" {
			t.Errorf("%.20q: %v", text, err)
		}
	}
	if l, err := layers.Read(layers.Form{File: "f", Bytes: []byte("a\x01,b\n1,2\n")}, layers.Asked{}); err != nil || l.Format != "CSV" {
		t.Errorf("a control character that is not 0: %s, %v", l.Format, err)
	}
	// white space beyond the part that is looked at first is not all of a file
	for n, empty := range map[int]bool{0: true, 1: true, format.HeadBytes - 1: true, format.HeadBytes: false} {
		_, err := layers.Read(layers.Form{File: "f", Bytes: []byte(strings.Repeat(" ", n))}, layers.Asked{})
		if got := err != nil && strings.HasSuffix(err.Error(), "the file is empty"); got != empty {
			t.Errorf("%d blanks: %v", n, err)
		}
	}
}

// TestHeldInMemory: a document without random access is held up to the limit, and refused beyond it.
func TestHeldInMemory(t *testing.T) {
	f := layers.FormOf(t, "GeoPackage")
	for less, refused := range map[int64]bool{0: false, 1: true} {
		limits := format.DefaultLimits()
		limits.MemberBytes = int64(len(f.Bytes)) - less
		_, err := layers.Read(f, layers.Asked{Limits: limits, Stream: true})
		var unusable *format.UnusableError
		if is := errors.As(err, &unusable); is != refused || is && (unusable.Found != "the file is larger than the limit for files that are held in memory" || unusable.Remedy != "split the file, or raise limits.member_mb") {
			t.Errorf("%d bytes less than it has: %v", less, err)
		}
		if _, err = layers.Read(f, layers.Asked{Limits: limits}); err != nil {
			t.Errorf("with random access: %v", err)
		}
	}
}

// TestTextsOfOtherEncodings: a text that is not UTF-8 is read as Windows-1252 and told once, for the
// file; one in UTF-16, whose bytes are partly 0, is a text all the same.
func TestTextsOfOtherEncodings(t *testing.T) {
	for text, want := range map[string]string{"a,b\nx,gr\xf6\xdfe\n": "Windows-1252", "a,b\nx,größe\n": "UTF-8", "a\x00,\x00b\x00\n\x00x\x00,\x00gr\x00\n\x00": ""} {
		l, err := layers.Read(layers.Form{File: "f", Bytes: []byte(text)}, layers.Asked{})
		told := strings.Join(l.Tell(), "|")
		if want == "" { // two letters without their second bytes: no text of UTF-16, nor any other
			if err == nil || !strings.Contains(err.Error(), "binary") {
				t.Errorf("%q: %v", text, err)
			}
			continue
		}
		if err != nil || l.Encoding != want || (told != "") != (want == "Windows-1252") || told != "" && told != `encoding-assumed  "" "": the text is not UTF-8 throughout; what is not was read as Windows-1252` {
			t.Errorf("%q: %s, told %q, %v", text, l.Encoding, told, err)
		}
	}
	l, err := layers.Read(layers.Form{File: "f", Bytes: []byte("a\x00,\x00b\x00\n\x00x\x00,\x00y\x00\n\x00")}, layers.Asked{})
	if err != nil || l.Encoding != "UTF-16LE" || len(l.Rows) != 1 || len(l.Told) > 0 {
		t.Errorf("UTF-16: %s, %d rows, %v", l.Encoding, len(l.Rows), err)
	}
}
