package malformed

import (
	"encoding/binary"
	"math"
	"strings"
)

// header100 is the header of a .shp without records.
func header100() []byte {
	b := make([]byte, 100)
	binary.BigEndian.PutUint32(b, 9994)
	binary.BigEndian.PutUint32(b[24:], 50)
	binary.LittleEndian.PutUint32(b[28:], 1000)
	binary.LittleEndian.PutUint32(b[32:], 1)
	return b
}

// record appends a record whose header claims a length, in 16-bit words.
func record(shp []byte, claims uint32, words ...uint32) []byte {
	shp = binary.BigEndian.AppendUint32(shp, 1)
	shp = binary.BigEndian.AppendUint32(shp, claims)
	for _, w := range words {
		shp = binary.LittleEndian.AppendUint32(shp, w)
	}
	return shp
}

// point is a record of a point.
func point(x, y float64) []byte {
	b := binary.LittleEndian.AppendUint32(nil, 1)
	b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
	return binary.LittleEndian.AppendUint64(b, math.Float64bits(y))
}

// table is a .dbf of one column.
func table(records uint32, size, record uint16, rest string) []byte {
	b := make([]byte, 32)
	copy(b, "\x03\x7e\x07\x01")
	binary.LittleEndian.PutUint32(b[4:], records)
	binary.LittleEndian.PutUint16(b[8:], size)
	binary.LittleEndian.PutUint16(b[10:], record)
	return append(b, "id\x00\x00\x00\x00\x00\x00\x00\x00\x00C\x00\x00\x00\x00\x08\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\r"+rest...)
}

// shapes returns Shapefiles.
func shapes() []Case {
	var all []Case
	add := func(name string, shp []byte, beside map[string][]byte) {
		all = append(all, Case{Name: "Shapefile, " + name, Ending: ".shp", Bytes: shp, Beside: beside})
	}
	none := [9]uint32{} // a bounding box of zeros
	line := func(parts, points uint32) []uint32 {
		return append(append([]uint32{3}, none[:8]...), parts, points)
	}
	ok := append(record(header100(), 10), point(1, 2)...)
	add("a head cut off", header100()[:60], nil)
	add("no records", header100(), nil)
	add("a record of two thousand million bytes", record(header100(), 0x3fffffff, 1), nil)
	add("a record of no bytes", record(header100(), 0), nil)
	add("a record of minus one", record(header100(), 0xffffffff), nil)
	add("a record cut off", record(header100(), 10, 1), nil)
	add("a line of four thousand million vertices", record(header100(), 22, line(1, 0xffffffff)...), nil)
	add("a line of four thousand million parts", record(header100(), 22, line(0xffffffff, 1)...), nil)
	add("a line without parts", record(header100(), 22, line(0, 0)...), nil)
	add("a surface", record(header100(), 2, 31), nil)
	add("a kind that is none", record(header100(), 2, 9), nil)
	add("a null shape", record(header100(), 2, 0), nil)
	add("a position that is no number", append(record(header100(), 10), point(math.NaN(), 2)...), nil)
	add("a position without end", append(record(header100(), 10), point(math.Inf(1), 2)...), nil)
	for _, t := range []struct {
		name string
		dbf  []byte
	}{
		{"a table cut off", table(1, 65, 9, "")[:40]},
		{"a table of four thousand million records", table(0xffffffff, 65, 9, " a       ")},
		{"a table with too few records", table(0, 65, 9, "")},
		{"a table of records of no bytes", table(1, 65, 0, "")},
		{"a table whose columns are longer than its records", table(1, 65, 4, " a  ")},
		{"a table whose head is longer than it", table(1, 0xffff, 9, "")},
		{"a table of text", []byte(strings.Repeat("x", 200))},
		{"an empty table", nil},
	} {
		add(t.name, ok, map[string][]byte{".dbf": t.dbf})
	}
	for _, p := range []struct{ name, prj string }{
		{"a .prj of brackets", strings.Repeat("PROJCS[", 100_000)},
		{"a .prj of a megabyte", "PROJCS[\"" + strings.Repeat("x", 1<<20) + "\"]"},
		{"a .prj of noise", "\x00\x01\xff["},
		{"a .prj of another datum", `GEOGCS["NAD27",DATUM["D_North_American_1927",SPHEROID["Clarke_1866",6378206.4,294.9786982]],PRIMEM["Greenwich",0],UNIT["Degree",0.0174532925199433]]`},
		{"a .prj without an ellipsoid", `PROJCS["x",GEOGCS["x",DATUM["x"]],PROJECTION["Transverse_Mercator"]]`},
		{"a .prj of an ellipsoid without size", `GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",0,0]],PRIMEM["Greenwich",0],UNIT["Degree",0]]`},
	} {
		add(p.name, ok, map[string][]byte{".prj": []byte(p.prj)})
	}
	return all
}
