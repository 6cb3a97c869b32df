package layers

import (
	"archive/zip"
	"bytes"
	"database/sql"
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	_ "modernc.org/sqlite" // the driver

	"driftreach/internal/testkit/malformed"
)

// Shapefile makes a .shp of point records and its .dbf with one column, following the format
// descriptions.
func Shapefile(points []orb.Point) (shp, dbf []byte) {
	b := make([]byte, 100)
	binary.BigEndian.PutUint32(b, 9994)
	binary.BigEndian.PutUint32(b[24:], uint32(50+14*len(points)))
	binary.LittleEndian.PutUint32(b[28:], 1000)
	binary.LittleEndian.PutUint32(b[32:], 1) // points
	for i, p := range points {
		b = binary.BigEndian.AppendUint32(b, uint32(i+1))
		b = binary.BigEndian.AppendUint32(b, 10)
		b = binary.LittleEndian.AppendUint32(b, 1)
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[0]))
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(p[1]))
	}
	d := make([]byte, 65)
	copy(d, "\x03\x7e\x07\x01")
	binary.LittleEndian.PutUint32(d[4:], uint32(len(points)))
	binary.LittleEndian.PutUint16(d[8:], 65)
	binary.LittleEndian.PutUint16(d[10:], 9)
	copy(d[32:], "id\x00\x00\x00\x00\x00\x00\x00\x00\x00C\x00\x00\x00\x00\x08")
	d[64] = '\r'
	for i := range points {
		d = append(d, fmt.Sprintf(" %-8d", i)...)
	}
	return b, d
}

// Outlines makes a .shp with one record of lines or rings.
func Outlines(kind uint32, parts ...[]orb.Point) []byte {
	b, _ := Shapefile(nil)
	binary.LittleEndian.PutUint32(b[32:], kind)
	record := binary.LittleEndian.AppendUint32(nil, kind)
	record = append(record, make([]byte, 32)...) // a bounding box that no reader uses
	points := slices.Concat(parts...)
	record = binary.LittleEndian.AppendUint32(record, uint32(len(parts)))
	record = binary.LittleEndian.AppendUint32(record, uint32(len(points)))
	begin := 0
	for _, part := range parts {
		record = binary.LittleEndian.AppendUint32(record, uint32(begin))
		begin += len(part)
	}
	for _, p := range points {
		record = binary.LittleEndian.AppendUint64(record, math.Float64bits(p[0]))
		record = binary.LittleEndian.AppendUint64(record, math.Float64bits(p[1]))
	}
	b = binary.BigEndian.AppendUint32(b, 1)
	b = binary.BigEndian.AppendUint32(b, uint32(len(record)/2))
	b = append(b, record...)
	binary.BigEndian.PutUint32(b[24:], uint32(len(b)/2))
	return b
}

// GeoPackage makes a small GeoPackage with two points and the tables that a reader uses.
func GeoPackage(t testing.TB, change ...string) []byte {
	t.Helper()
	name := filepath.Join(t.TempDir(), "a.gpkg")
	db, err := sql.Open("sqlite", name)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	for _, s := range slices.Concat([]string{"PRAGMA page_size = 512"}, malformed.Sound, change) {
		if _, err := db.Exec(s); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
	}
	db.Close()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// Zip makes an archive with one member.
func Zip(t testing.TB, name string, content []byte) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	w.Write(content)
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Book makes a workbook of one sheet with the given rows. members replace the usual ones.
func Book(rows string, members map[string]string) []byte {
	all := map[string]string{
		"xl/workbook.xml":            `<workbook xmlns:r="r"><sheets><sheet name="Finds" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId1" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml":   `<worksheet><sheetData>` + rows + `</sheetData></worksheet>`,
	}
	for name, text := range members {
		all[name] = text
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, name := range []string{"xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "xl/styles.xml"} {
		if text, ok := all[name]; ok && text != "" {
			w, _ := z.Create(name)
			fmt.Fprint(w, text)
		}
	}
	z.Close()
	return out.Bytes()
}
