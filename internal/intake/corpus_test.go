package intake

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// bad lists texts and what a number field makes of them.
var bad = []struct{ text, kind string }{
	{"x", "unreadable"}, {"12q", "unreadable"}, {"--1", "unreadable"}, {"1 2", "unreadable"}, {"0x10", "unreadable"}, {"1_0", "unreadable"},
	{"5\u00b0", "unreadable"}, {"\uff11", "unreadable"}, {"1.2.3", "unreadable"}, {"#REF!", "unreadable"}, {"<b>5</b>", "unreadable"}, {"=1+1", "unreadable"},
	{"NaN", "not-finite"}, {"inf", "not-finite"}, {"-Infinity", "not-finite"}, {"1e999", "not-finite"}, {"1.#INF", "not-finite"},
	{"-1", "negative"}, {"-1e-300", "negative"}, {"-90.5", "negative"},
}

// TestCorpus combines number fields with bad texts in every file format: some hundreds of malformed
// inputs, each with the single finding it must give and the record kept or lost. Expected codes
// follow from the field table.
func TestCorpus(t *testing.T) {
	negative := map[string]string{
		"coordinateUncertaintyInMeters": "uncertainty-not-positive", "patch_area_m2": "patch-not-positive", "patch_diameter_m": "patch-not-positive",
		"canopy_cover_percent": "cover-out-of-range", "stem_height_m": "height-not-positive",
	}
	inputs := 0
	for _, field := range []string{"decimalLongitude", "decimalLatitude", "coordinateUncertaintyInMeters", "patch_area_m2", "patch_diameter_m", "canopy_cover_percent", "stem_height_m"} {
		position := strings.HasPrefix(field, "decimal")
		for _, b := range bad {
			want := "number-" + b.kind
			switch {
			case b.text == "5\u00b0" && position:
				continue // five degrees
			case b.kind == "negative" && position && (b.text != "-90.5" || field == "decimalLongitude"):
				continue // a good position
			case b.kind == "negative" && position:
				want = "position-swapped"
			case b.kind == "negative":
				want = negative[field]
			case position:
				want = "position-unreadable"
			}
			for form, text := range forms(t, field, b.text) {
				inputs++
				records, findings, _ := readPoints(t, text, testOptions())
				kept := 2
				if position {
					kept = 1
				}
				if len(records) != kept || codes(findings) != "b "+want {
					t.Errorf("%s = %q as %s: kept %d with %s, want %d with b %s", field, b.text, form, len(records), codes(findings), kept, want)
				}
			}
		}
	}
	if inputs < 400 {
		t.Errorf("only %d inputs were made", inputs)
	}
}

// forms writes a good record and one with a bad value, in several formats.
func forms(t *testing.T, field, value string) map[string]string {
	columns := []string{"occurrenceID", "eventDate", "decimalLongitude", "decimalLatitude", "note"}
	good := map[string]string{"occurrenceID": "a", "eventDate": "2026-07-01", "decimalLongitude": "1", "decimalLatitude": "2", "note": ""}
	rotten := map[string]string{"occurrenceID": "b", "eventDate": "2026-07-02", "decimalLongitude": "3", "decimalLatitude": "4", "note": "\"q\", <i>\u00e9"}
	if _, known := good[field]; !known {
		columns = append(columns, field)
		good[field] = "7"
	}
	rotten[field] = value
	out := map[string]string{}
	for name, by := range map[string]string{"comma": ",", "semicolon": ";", "tab": "\t"} {
		text := strings.Join(columns, by) + "\r\n"
		for _, row := range []map[string]string{good, rotten} {
			var cells []string
			for _, c := range columns {
				cells = append(cells, `"`+strings.ReplaceAll(row[c], `"`, `""`)+`"`)
			}
			text += strings.Join(cells, by) + "\r\n"
		}
		out[name] = text
	}
	var features []string
	for _, row := range []map[string]string{good, rotten} {
		properties, err := json.Marshal(row)
		if err != nil {
			t.Fatal(err)
		}
		features = append(features, fmt.Sprintf(`{"type":"Feature","geometry":null,"properties":%s}`, properties))
	}
	out["collection"] = `{"type":"FeatureCollection","features":[` + strings.Join(features, ",") + `]}`
	out["lines"] = strings.Join(features, "\n")
	return out
}

// sampleJSON has one of everything the JSON reader knows.
const sampleJSON = `{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}},"features":[` +
	`{"type":"Feature","id":1,"properties":{"occurrenceID":"\u00e9\"","n":[1,{"k":"]"}],"t":true,"x":null},"geometry":{"type":"Point","coordinates":[1.5,-2e0,3]}},` +
	`{"type":"Feature","properties":{},"geometry":{"type":"Polygon","coordinates":[[[0,1],[1,1],[1,2],[0,1]]]}}]}`

// TestChangedByte replaces each byte in turn by a quarter of a set of bytes: no panic, and either
// an UnusableError or totals that add up.
func TestChangedByte(t *testing.T) {
	for _, text := range []string{sampleJSON, plainText} {
		for i := range len(text) {
			for k, b := range []byte("\x00\"\\{}[],:;\n\r\t-9e.x\xff") {
				if (i+k)%4 != 0 {
					continue
				}
				readAny(t, text[:i]+string([]byte{b})+text[i+1:])
			}
		}
	}
}

// readAny reads a text as points and as lines and checks what holds for any text.
func readAny(t testing.TB, text string) {
	t.Helper()
	var unusable *format.UnusableError
	p, findings, err := ReadPoints(testkit.Source("f", strings.NewReader(text)), testOptions())
	switch {
	case err != nil && !errors.As(err, &unusable):
		t.Fatalf("%q: error %v is no UnusableError", text, err)
	case err == nil && (p.Read != len(p.Records)+p.Rejected || p.Rejected != check.Count(findings, check.Error)):
		t.Fatalf("%q: read %d, accepted %d, rejected %d, told %s", text, p.Read, len(p.Records), p.Rejected, codes(findings))
	}
	s, findings, err := ReadStreams(testkit.Source("f", strings.NewReader(text)), testOptions())
	switch {
	case err != nil && !errors.As(err, &unusable):
		t.Fatalf("%q: error %v is no UnusableError", text, err)
	case err == nil && (s.Read != len(s.Centerlines)+s.Rejected || s.Rejected != check.Count(findings, check.Error)):
		t.Fatalf("%q: read %d, accepted %d, rejected %d, told %s", text, s.Read, len(s.Centerlines), s.Rejected, codes(findings))
	}
}
