package intake

import (
	"bytes"
	"encoding/binary"
	"slices"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/testkit"
)

// handParquet writes a table of one text column, required, uncompressed, in one page, by the
// format's description (thrift compact protocol, zigzag numbers). The encoding of its levels, of
// which there are none, is given as bit-packed (4), as by the oldest writers and the Java writer.
func handParquet(column string, cells []string, texts map[string]string) []byte {
	number := binary.AppendVarint // zigzag
	text := func(b []byte, s string) []byte { return append(binary.AppendUvarint(b, uint64(len(s))), s...) }
	var values []byte
	for _, cell := range cells {
		values = append(binary.LittleEndian.AppendUint32(values, uint32(len(cell))), cell...)
	}
	file := []byte("PAR1")
	if len(cells) > 0 {
		file = number(append(file, 0x15, 0, 0x15), int64(len(values)))
		file = number(append(file, 0x15), int64(len(values)))
		file = number(append(file, 0x2c, 0x15), int64(len(cells)))
		file = append(append(file, 0x15, 0, 0x15, 8, 0x15, 8, 0, 0), values...)
	}
	size := int64(len(file) - 4)
	kind := byte(6 << 1) // bytes
	if len(cells) == 0 {
		kind = 1 << 1 // a column of blanks only has no type
	}
	footer := text([]byte{0x15, 2, 0x19, 0x2c, 0x48}, "root")
	footer = text(append(footer, 0x15, 2, 0, 0x15, kind, 0x25, 0, 0x18), column)
	footer = number(append(footer, 0, 0x16), int64(len(cells)))
	footer = number(append(footer, 0x19, 0x1c, 0x19, 0x1c, 0x26, 0, 0x1c, 0x45, 0, 0x36), size)
	data := int64(4)
	if len(cells) == 0 {
		data = 0
	}
	footer = number(append(footer, 0x26), data)
	footer = number(append(footer, 0, 0, 0x16, 0, 0x16), int64(len(cells)))
	footer = append(footer, 0, 0x19, byte(len(texts)<<4|0x0c))
	for _, key := range slices.Sorted(func(yield func(string) bool) {
		for k := range texts {
			if !yield(k) {
				return
			}
		}
	}) {
		footer = append(text(append(text(append(footer, 0x18), key), 0x18), texts[key]), 0)
	}
	footer = append(footer, 0)
	file = append(file, footer...)
	return append(binary.LittleEndian.AppendUint32(file, uint32(len(footer))), "PAR1"...)
}

// TestParquetLevelsOfNone: the encoding in a header does not matter for levels that do not exist.
// Geometries may be texts, as before GeoParquet 1.0.
func TestParquetLevelsOfNone(t *testing.T) {
	geo := `{"version":"0.1.0","primary_column":"geometry","columns":{"geometry":{"encoding":"WKT"}}}`
	b := handParquet("geometry", []string{"POINT(-118.25 34.05)", "POINT Z (-118.26 34.06 12)", ""}, map[string]string{"geo": geo})
	p, findings, err := ReadPoints(testkit.Source("f", bytes.NewReader(b)), testOptions())
	if err != nil || p.Read != 3 || p.Rejected != 1 {
		t.Fatalf("%v: %d read, %d rejected: %v", err, p.Read, p.Rejected, findings)
	}
	if got := p.Records[1].Position; got != [2]float64{-118.26, 34.06} {
		t.Errorf("the second point is at %v", got)
	}
}

// TestParquetLevelsElsewhere changes the encoding of repetition levels, which flat columns do not
// have, from runs (3) to bit-packed (4) in every page of a stored file.
func TestParquetLevelsElsewhere(t *testing.T) {
	b := storedParquet(t, "types.parquet")
	want, wantRows, err := parquetRows(t, b)
	if err != nil {
		t.Fatal(err)
	}
	changed := bytes.ReplaceAll(b, []byte("\x15\x06\x15\x06"), []byte("\x15\x06\x15\x08"))
	if bytes.Equal(b, changed) {
		t.Fatal("the file has no page of the first version")
	}
	got, gotRows, err := parquetRows(t, changed)
	if err != nil || !slices.Equal(want, got) || !slices.EqualFunc(wantRows, gotRows, slices.Equal[[]string]) {
		t.Errorf("%v: other rows", err)
	}
}

// TestParquetWithoutRows: a table without rows is a file without records, even though its columns
// have no position and no type.
func TestParquetWithoutRows(t *testing.T) {
	geo := `{"primary_column":"geometry","columns":{"geometry":{"encoding":"WKB","crs":null}}}`
	p, findings, err := ReadPoints(testkit.Source("f", bytes.NewReader(handParquet("geometry", nil, map[string]string{"geo": geo}))), testOptions())
	if err != nil || p.Read != 0 {
		t.Fatalf("%v: %d read", err, p.Read)
	}
	if check.Count(findings, check.Warning) != 1 {
		t.Errorf("findings %v", findings)
	}
}
