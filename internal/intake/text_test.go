package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// plainText is the survey in each form of text below.
const plainText = "occurrenceID,decimalLongitude,decimalLatitude,eventDate,recordedBy,occurrenceRemarks\n" +
	"a,10.5,-45.25,2026-07-01,Zoë Müller,\"first, and \"\"only\"\"\"\n" +
	"b,11.5,-46.25,2026-07-02,Zoë Müller,<b>\n"

// TestTextForms reads one survey in every form of text and expects the same records each time.
func TestTextForms(t *testing.T) {
	want, _, _ := readPoints(t, plainText, testOptions())
	if len(want) != 2 || want[0].Remarks() != `first, and "only"` || want[1].Remarks() != "<b>" || want[0].RecordedBy() != "Zoë Müller" {
		t.Fatalf("the plain text itself reads as %+v", want)
	}
	utf16 := func(e unicode.Endianness, p unicode.BOMPolicy) func(string) string {
		return func(s string) string {
			out, err := unicode.UTF16(e, p).NewEncoder().String(s)
			if err != nil {
				t.Fatal(err)
			}
			return out
		}
	}
	separated := func(by string) func(string) string {
		return func(s string) string {
			s = strings.ReplaceAll(s, "first, and", "first; and") // no bare comma to replace
			s = strings.ReplaceAll(s, ",", by)
			return strings.ReplaceAll(s, "first; and", "first, and")
		}
	}
	decimal := func(by string) func(string) string {
		return func(s string) string {
			s = separated(by)(s)
			return strings.NewReplacer("10.5", "10,5", "-45.25", "-45,25", "11.5", "11,5", "-46.25", "-46,25").Replace(s)
		}
	}
	for _, c := range []struct {
		name     string
		write    func(string) string
		encoding string
		findings string
	}{
		{"CRLF", func(s string) string { return strings.ReplaceAll(s, "\n", "\r\n") }, "UTF-8", ""},
		{"CR", func(s string) string { return strings.ReplaceAll(s, "\n", "\r") }, "UTF-8", ""},
		{"no last line end", func(s string) string { return strings.TrimSuffix(s, "\n") }, "UTF-8", ""},
		{"byte-order mark", func(s string) string { return "\ufeff" + s }, "UTF-8", ""},
		{"blank lines", func(s string) string { return "\n\n" + strings.ReplaceAll(s, "\n", "\n\n") + ",,,,,\n \n" }, "UTF-8", ""},
		{"UTF-16 little", utf16(unicode.LittleEndian, unicode.UseBOM), "UTF-16LE", ""},
		{"UTF-16 big", utf16(unicode.BigEndian, unicode.UseBOM), "UTF-16BE", ""},
		{"UTF-16 little without mark", utf16(unicode.LittleEndian, unicode.IgnoreBOM), "UTF-16LE", ""},
		{"UTF-16 big without mark", utf16(unicode.BigEndian, unicode.IgnoreBOM), "UTF-16BE", ""},
		{"Windows-1252", func(s string) string {
			out, err := charmap.Windows1252.NewEncoder().String(s)
			if err != nil {
				t.Fatal(err)
			}
			return out
		}, "Windows-1252", "encoding-assumed"},
		{"blanks after commas", func(s string) string {
			return strings.NewReplacer(",", ",  ", "first, ", "first, ").Replace(s)
		}, "UTF-8", ""},
		{"semicolons", separated(";"), "UTF-8", ""},
		{"tabs", separated("\t"), "UTF-8", ""},
		{"separator named", func(s string) string { return "sep=;\r\n" + separated(";")(s) }, "UTF-8", ""},
		{"decimal commas", decimal(";"), "UTF-8", ""},
		{"decimal commas and tabs", decimal("\t"), "UTF-8", ""},
		{"header in capitals", func(s string) string {
			head, rest, _ := strings.Cut(s, "\n")
			return strings.ToUpper(head) + "\n" + rest
		}, "UTF-8", ""},
		{"common names", func(s string) string {
			return strings.NewReplacer("decimalLongitude", " Lon ", "decimalLatitude", "lat").Replace(s)
		}, "UTF-8", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, findings, p := readPoints(t, c.write(plainText), testOptions())
			if diff := cmp.Diff(want, got, cmpopts.EquateNaNs(), equateNaN[geo.Meters]()); diff != "" {
				t.Errorf("other records than from plain text (-plain +this):\n%s", diff)
			}
			if codes(findings) != c.findings || p.Encoding != c.encoding {
				t.Errorf("findings %q in %s, want %q in %s", codes(findings), p.Encoding, c.findings, c.encoding)
			}
		})
	}
}

// TestReadingInPieces gives the text byte by byte and wants what one piece gives.
func TestReadingInPieces(t *testing.T) {
	long := strings.Repeat("x", 3000)
	csv := plainText + "c,1,2,2026-07-01,\"" + strings.Repeat("line\nline \"\"q\"\" ", 200) + "\",\n"
	json := `{"type":"FeatureCollection","name":"\u00e4\ud83d\ude00\\","features":[{"type":"Feature","properties":{"occurrenceID":"a","deep":{"k":["}",1,"\""]},"t":true,"long":"` + long + `\n` +
		`"},"geometry":{"type":"MultiPoint","coordinates":[[1.25,-2.5e0],[ 3 , 4 , 5 ]]}}]}`
	for _, c := range []struct {
		name, text string
		records    int
	}{{"CSV", csv, 3}, {"GeoJSON", json, 2}, {"lines", json + "\n" + json, 4}, {"broken line", json + "\n{\n" + json, 4}} {
		t.Run(c.name, func(t *testing.T) {
			p, _, err := ReadPoints(testkit.Source("points", strings.NewReader(c.text)), testOptions())
			if err != nil || len(p.Records) != c.records {
				t.Fatalf("%d records, error %v", len(p.Records), err)
			}
			inPieces(t, c.text)
		})
	}
}

// TestFileFacts holds the hash and size of the bytes to crypto/sha256, and the
// progress to the end of the file.
func TestFileFacts(t *testing.T) {
	text := string(pointsCSV(30_000))
	var told int64
	s := testkit.Source("points.csv", strings.NewReader(text))
	s.Progress = func(n int64) {
		if n <= told {
			t.Errorf("progress went from %d to %d", told, n)
		}
		told = n
	}
	p, _, err := ReadPoints(s, testOptions())
	if err != nil {
		t.Fatal(err)
	}
	sum := sha256.Sum256([]byte(text))
	if p.SHA256 != hex.EncodeToString(sum[:]) || p.Bytes != int64(len(text)) || told != p.Bytes {
		t.Errorf("hash %s of %d bytes, told %d", p.SHA256, p.Bytes, told)
	}
	if p.Format != "CSV" || p.Read != 30_000 || len(p.Columns) != 12 {
		t.Errorf("%s, %d records, columns %v", p.Format, p.Read, p.Columns)
	}
}

// TestUnusable holds files of which nothing can be made to an error with
// file, found and remedy.
func TestUnusable(t *testing.T) {
	small := testOptions()
	small.Limits = format.Limits{Bytes: 300, MemberBytes: 300, Members: 5, Expansion: 10, Records: 2, RecordBytes: 100, Vertices: 3, Columns: 4, Nesting: 5}
	point := `{"type":"Feature","properties":{},"geometry":{"type":"Point","coordinates":[1,2]}}`
	for _, c := range []struct {
		name, text string
		options    Options
		place      string
		found      string
	}{
		{"empty", "", testOptions(), "", "the file is empty"},
		{"white space", " \r\n\t\n", testOptions(), "", "the file is empty"},
		{"zip", "PK\x03\x04rest", testOptions(), "", "zip archive"},
		{"database", "SQLite format 3\x00", testOptions(), "", "GeoPackage"},
		{"binary", "a,b\x00\x01\x02\x00\x00c", testOptions(), "", "binary"},
		{"web page", "<!DOCTYPE html><p>not found", testOptions(), "", "a web page"},
		{"XML", "\ufeff<?xml version='1.0'?><gml/>", testOptions(), "", "XML of the kind \"gml\""},
		{"no position columns", "id,name\n1,x\n", testOptions(), "header", "id, name"},
		{"latitude only", "id,lat\n1,2\n", testOptions(), "header", "longitude"},
		{"prose", "Dear all, please find the survey attached.\nRegards\n", testOptions(), "header", "Dear all"},
		{"open quote", header + "\n\"a,1,2,2026\nb,1,2,\n", testOptions(), "line 2", "never closed"},
		{"open quote and row limit", header + "\n\"a" + strings.Repeat(",1\n", 60), small, "line 2", "never closed"},
		{"long row", header + "\n" + strings.Repeat("x", 150), small, "", ""},
		{"many records", header + strings.Repeat("\na,1,2,2026", 4), small, "row 3", "more records"},
		{"large file", header + strings.Repeat("\n\n\n\n\n", 80), small, "byte 300", "larger than the limit"},
		{"many columns", header + ",fifth\na,1,2,,\n", small, "header", "more than the limit of 4"},
		{"cut off", `{"type":"FeatureCollection","features":[` + point + `,{"type":"Fea`, testOptions(), "after feature 1", "ends inside a string"},
		{"cut off in coordinates", `{"type":"FeatureCollection","features":[{"geometry":{"type":"Point","coordinates":[1,`, testOptions(), "byte 85", "inside coordinates"},
		{"not closed", `{"type":"FeatureCollection","features":[` + point, testOptions(), "after feature 1", "the text ends where"},
		{"missing comma", `{"type":"FeatureCollection","features":[` + point + point + `]}`, testOptions(), "byte", "',' or ']'"},
		{"missing colon", `{"type" "FeatureCollection"}`, testOptions(), "byte 8", "':'"},
		{"topology", `{"type":"Topology","objects":{}}`, testOptions(), "byte", "Topology"},
		{"some JSON", `{"a":1}`, testOptions(), "byte", "no GeoJSON"},
		{"array of numbers", `[1,2`, testOptions(), "byte", "the text ends"},
		{"other reference system", `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::27700"}},"features":[]}`, testOptions(), "crs", "EPSG:27700"},
		{"only lines", `{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[1,2],[3,4]]}}`, testOptions(), "", "no feature is a point"},
		{"many vertices", `{"type":"MultiPoint","coordinates":[[1,2],[3,4],[5,6],[7,8]]}`, small, "byte", "more vertices"},
		{"many properties", `{"type":"Feature","properties":{"a":1,"b":2,"c":3,"d":4,"e":5},"geometry":null}`, small, "byte", "more than 4"},
		{"nested deep", `{"type":"Feature","properties":{"a":[[[[[[[[1]]]]]]]]},"geometry":null}`, small, "byte", "nested deeper"},
		{"long text", `{"type":"Feature","properties":{"a":"` + strings.Repeat("y", 200) + `"},"geometry":null}`, small, "byte", "longer than limits.record_mb"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := ReadPoints(testkit.Source("in.dat", strings.NewReader(c.text)), c.options)
			var unusable *format.UnusableError
			if c.name == "long row" { // a whole text in memory is judged by its columns first
				if err != nil && !errors.As(err, &unusable) {
					t.Fatal(err)
				}
				return
			}
			if !errors.As(err, &unusable) {
				t.Fatalf("error %v, want an UnusableError", err)
			}
			if unusable.File != "in.dat" || unusable.Remedy == "" || !strings.Contains(unusable.Place, c.place) || !strings.Contains(unusable.Found, c.found) {
				t.Errorf("got %#v, want place %q, found %q", unusable, c.place, c.found)
			}
			if !strings.HasPrefix(err.Error(), "in.dat") {
				t.Errorf("message %q does not begin with the file", err)
			}
		})
	}
}

// TestLongRow: a row longer than the limit, in a text larger than one chunk.
func TestLongRow(t *testing.T) {
	o := testOptions()
	o.Limits.RecordBytes = 1 << 18
	text := header + "\na," + strings.Repeat("9", 1<<20)
	_, _, err := ReadPoints(testkit.Source("in.csv", strings.NewReader(text)), o)
	var unusable *format.UnusableError
	if !errors.As(err, &unusable) || unusable.Place != "line 2" || !strings.Contains(unusable.Found, "longer than the limit") {
		t.Errorf("got %v", err)
	}
}

// TestReadFails: trouble with the disk is an error of its own, no UnusableError.
func TestReadFails(t *testing.T) {
	broken := errors.New("broken disk")
	for _, text := range []string{header + "\na,1,2,", `{"type":"FeatureCollection","features":[`} {
		_, _, err := ReadPoints(testkit.Source("in", io.MultiReader(strings.NewReader(text), iotest.ErrReader(broken))), testOptions())
		if !errors.Is(err, broken) {
			t.Errorf("%q: error %v, want the reader's own", text, err)
		}
	}
	_, _, err := ReadPoints(format.Source{Name: "x", Open: func() (io.ReadCloser, error) { return nil, os.ErrNotExist }}, testOptions())
	if !errors.Is(err, os.ErrNotExist) {
		t.Errorf("error %v, want os.ErrNotExist", err)
	}
}

// TestBrokenLines: in a sequence, a broken line costs only itself.
func TestBrokenLines(t *testing.T) {
	good := `{"type":"Feature","id":"ID","properties":{"eventDate":"2026-07-01"},"geometry":{"type":"Point","coordinates":[1,X]}}` + "\n"
	var text strings.Builder
	for i, bad := range []string{"", "{\"type\":\"Feature\",\"geometry\":{\"type\":\"Poi\n", "nonsense\n", "{]\n", "\"text\"\n", "17\n", `{"a":1` + "\n"} {
		text.WriteString(bad)
		text.WriteString(strings.NewReplacer("ID", string(rune('a'+i)), "X", string(rune('1'+i))).Replace(good))
	}
	text.WriteString(`{"type":"Feature","geom`) // the last line is cut off
	records, findings, p := readPoints(t, text.String(), testOptions())
	if len(records) != 7 || check.Count(findings, check.Error) != 7 || p.Read != 14 {
		t.Errorf("%d of %d records kept: %s", len(records), p.Read, codes(findings))
	}
}

func TestHeaderOnly(t *testing.T) {
	for _, text := range []string{header, header + "\r\n", `{"type":"FeatureCollection","features":[]}`} {
		records, findings, _ := readPoints(t, text, testOptions())
		if len(records) != 0 || codes(findings) != "file-without-records" {
			t.Errorf("%q: %d records, %s", text, len(records), codes(findings))
		}
	}
}

// padding is more than what is looked at to tell a format, so that the text
// after it reaches the scanners byte by byte.
var padding = strings.Repeat(" \n", 2100)

// inPieces wants the same from a text that comes byte by byte.
func inPieces(t *testing.T, text string) {
	text = padding + text
	whole, told, err := ReadPoints(testkit.Source("f", strings.NewReader(text)), testOptions())
	pieces, toldAgain, errAgain := ReadPoints(testkit.Source("f", iotest.OneByteReader(strings.NewReader(text))), testOptions())
	if diff := cmp.Diff(whole, pieces, cmpopts.EquateNaNs(), equateNaN[geo.Meters]()); diff != "" {
		t.Fatalf("%q differs in pieces:\n%s", text, diff)
	}
	var a, b *format.UnusableError
	if errors.As(err, &a) != errors.As(errAgain, &b) || a != nil && *a != *b {
		t.Fatalf("%q: %v whole, %v in pieces", text, err, errAgain)
	}
	if diff := cmp.Diff(told, toldAgain); diff != "" {
		t.Fatalf("%q tells otherwise in pieces:\n%s", text, diff)
	}
}
