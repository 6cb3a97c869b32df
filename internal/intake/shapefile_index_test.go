package intake

import (
	"bytes"
	"encoding/binary"
	"io"
	"io/fs"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// filesBeside is a Shapefile in memory with the files beside it.
func filesBeside(shp []byte, beside map[string][]byte) format.Source {
	s := testkit.Source("a.shp", bytes.NewReader(shp))
	s.Beside = func(ending string) (io.ReadCloser, error) {
		b, ok := beside[ending]
		if !ok {
			return nil, fs.ErrNotExist
		}
		return io.NopCloser(bytes.NewReader(b)), nil
	}
	return s
}

// TestShapefileIndex: records missing from the index are not read, wherever they are, and the other
// records keep their table rows.
func TestShapefileIndex(t *testing.T) {
	points := []orb.Point{{1, 50}, {2, 50}, {3, 50}}
	shp, dbf := layers.Shapefile(points)
	const record = 28 // bytes of a point's
	old := append([]byte(nil), shp[100:100+record]...)
	index := func(places ...int) []byte {
		b := make([]byte, 100)
		for _, at := range places {
			b = binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(b, uint32(at/2)), 10)
		}
		return b
	}
	insert := func(at int, more []byte) []byte {
		return append(append(append([]byte(nil), shp[:at]...), more...), shp[at:]...)
	}
	noise := []byte(strings.Repeat("\xff", 2*record))
	for _, test := range []struct {
		name   string
		shp    []byte
		shx    []byte
		place  string // of the error; blank for none
		tabled bool
	}{
		{"all in order", shp, index(100, 100+record, 100+2*record), "", true},
		{"an old record before the first", insert(100, old), index(100+record, 100+2*record, 100+3*record), "", true},
		{"noise between", insert(100+2*record, noise), index(100, 100+record, 100+4*record), "", true},
		{"noise behind", append(append([]byte(nil), shp...), noise...), index(100, 100+record, 100+2*record), "", true},
		{"an index of zeros", shp, make([]byte, 124), "", true},
		{"an index that is cut off in its head", shp, make([]byte, 50), "", true},
		{"an index that ends, without a table", shp, index(100), "", false},
		{"an index that ends, with a table", shp, index(100), "", true},
		{"another order", shp, index(100+record, 100, 100+2*record), "record 2", true},
		{"beyond the end", shp, index(100, 100+record, 900), "record 3", true},
	} {
		t.Run(test.name, func(t *testing.T) {
			beside := map[string][]byte{".shx": test.shx}
			if test.tabled {
				beside[".dbf"] = dbf
			}
			p, findings, err := ReadPoints(filesBeside(test.shp, beside), testOptions())
			if wanted := test.place; wanted != "" || err != nil {
				if err == nil || !strings.Contains(err.Error(), wanted) || wanted == "" {
					t.Errorf("%v, wanted an error at %q", err, wanted)
				}
				return
			}
			if len(p.Records) != 3 {
				t.Fatalf("%d records: %v", len(p.Records), findings)
			}
			for i, r := range p.Records {
				if r.Position != points[i] || test.tabled && r.Told().Extra[0] != string(rune('0'+i)) {
					t.Errorf("record %d is at %v with %v", i+1, r.Position, r.Told().Extra)
				}
			}
		})
	}
}

// TestTableEncodings: the encoding given by a .cpg file or the language byte, for a word in that
// encoding's bytes (from the Unicode mapping tables).
func TestTableEncodings(t *testing.T) {
	for _, test := range []struct {
		label    string
		language byte
		bytes    string
		want     string
	}{
		{"", 0, "R\xc3\xado", "Río"},
		{"", 0x57, "R\xedo", "Río"},
		{"", 0x01, "R\xa1o", "Río"},
		{"", 0x02, "R\xa1o", "Río"},
		{"", 0x4d, "\xba\xda\xc1\xfa\xbd\xad", "黑龙江"},
		{"", 0x26, "\x90\xa5\xaa\xa0", "Река"},
		{"", 0xc8, "H\xe1j", "Háj"},
		{"UTF-8", 0x57, "R\xc3\xado", "Río"},
		{"65001", 0x57, "R\xc3\xado", "Río"},
		{"936", 0, "\xba\xda\xc1\xfa\xbd\xad", "黑龙江"},
		{"cp936", 0, "\xba\xda\xc1\xfa\xbd\xad", "黑龙江"},
		{"ANSI 1250", 0x57, "H\xe1j", "Háj"},
		{"1251", 0, "\xd0\xe5\xea\xe0", "Река"},
		{"OEM 866", 0, "\x90\xa5\xaa\xa0", "Река"},
		{"88591", 0, "R\xedo", "Río"},
		{"ISO-8859-2", 0, "H\xe1j", "Háj"},
		{"ISO 8859-2", 0, "H\xe1j", "Háj"},
		{"8859_2", 0, "H\xe1j", "Háj"},
		{"SHIFT_JIS", 0, "\x90\xec", "川"},
		{"932", 0, "\x90\xec", "川"},
		{"no such", 0x26, "\x90\xa5\xaa\xa0", "Река"},
		{"no such", 0, "R\xedo", "Río"},
		{"UTF-8", 0, "Wasse\xc3", "Wasse"},    // cut off at the column's width
		{"", 0, "\xc3\x9cber\xc3", "Über"},    // likewise
		{"", 0, "Grund\xe9", "Grundé"},        // Windows-1252 that fills the column
		{"UTF-8", 0, "Caf\xe9", "Café"},       // Windows-1252 that does not fill it
		{"", 0, "\xc3\x9cb\xc3", "Ãœb\u00c3"}, // neither UTF-8 nor cut off
	} {
		shp, dbf := layers.Shapefile([]orb.Point{{1, 50}})
		dbf[29], dbf[32+16] = test.language, 6
		binary.LittleEndian.PutUint16(dbf[10:], 7)
		dbf = append(dbf[:65], append([]byte(" "), (test.bytes + "      ")[:6]...)...)
		beside := map[string][]byte{".dbf": dbf}
		if test.label != "" {
			beside[".cpg"] = []byte(test.label + "\r\n")
		}
		p, _, err := ReadPoints(filesBeside(shp, beside), testOptions())
		if err != nil || len(p.Records) != 1 || p.Records[0].Told().Extra[0] != test.want {
			t.Errorf("%q, language %x: %v, %q, not %q", test.label, test.language, err, p.Records[0].Told().Extra, test.want)
		}
	}
}

// TestTableDecimalComma: numbers in a number column have no thousands separators, so a comma is
// decimal.
func TestTableDecimalComma(t *testing.T) {
	shp, dbf := layers.Shapefile([]orb.Point{{1, 50}})
	dbf = append(dbf[:65], "     1,25"...)
	dbf[32+11] = 'N'
	p, _, err := ReadPoints(filesBeside(shp, map[string][]byte{".dbf": dbf}), testOptions())
	if err != nil || p.Records[0].Told().Extra[0] != "1.25" {
		t.Errorf("%v, %v", err, p.Records)
	}
}
