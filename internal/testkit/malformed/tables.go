package malformed

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
)

// maze turns a page of a database, counted from 1, into the entrance to 18 levels of pages. Each page
// names its child 60 times, so there are 60 to the power of 18 paths to the leaf at the end, which is a
// copy of the original page.
func maze(database []byte, page int) []byte {
	return mazeOf(database, page, 5, []byte{1}) // an interior table page, where a key follows each child
}

// mazeOf does the same for any kind of page. after is what follows a child in a cell.
func mazeOf(database []byte, page int, kind byte, after []byte) []byte {
	const size, depth, doors = 4096, 18, 60
	b := bytes.Clone(database)
	first := len(b)/size + 1
	room := 4 + len(after)
	leaf := bytes.Clone(b[(page-1)*size : page*size])
	inside := func(begin, child int) []byte {
		p := make([]byte, size)
		p[begin] = kind
		binary.BigEndian.PutUint16(p[begin+3:], doors)
		binary.BigEndian.PutUint16(p[begin+5:], uint16(size-room*doors))
		binary.BigEndian.PutUint32(p[begin+8:], uint32(child))
		for i := range doors {
			cell := size - room*(i+1)
			binary.BigEndian.PutUint16(p[begin+12+2*i:], uint16(cell))
			binary.BigEndian.PutUint32(p[cell:], uint32(child))
			copy(p[cell+4:], after)
		}
		return p
	}
	begin := 0
	if page == 1 {
		begin = 100 // after the file header
	}
	copy(b[(page-1)*size+begin:page*size], inside(begin, first)[begin:])
	for i := range depth - 1 {
		b = append(b, inside(0, first+i+1)...)
	}
	b = append(b, leaf...)
	binary.BigEndian.PutUint32(b[28:], uint32(len(b)/size))
	return b
}

// tables returns GeoPackages and Parquet files.
func tables(testdata string) ([]Case, error) {
	var all []Case
	var failed error
	read := func(name string) []byte {
		b, err := os.ReadFile(filepath.Join(testdata, filepath.FromSlash(name)))
		if err != nil {
			failed = err
		}
		return b
	}
	gpkg, parquet := read("intake/feet.gpkg"), read("parquet/feet.parquet")
	rows, packed, brotli := read("parquet/rows.parquet"), read("parquet/packed.parquet"), read("parquet/brotli.parquet")
	if failed != nil {
		return nil, failed
	}
	database := func(name string, at int, change ...byte) {
		b := bytes.Clone(gpkg)
		copy(b[at:], change)
		all = append(all, Case{Name: "GeoPackage, " + name, Ending: ".gpkg", Bytes: b})
	}
	// offsets by https://www.sqlite.org/fileformat.html, section 1.3
	database("pages of no bytes", 16, 0, 0)
	database("pages of 64 KiB", 16, 0, 1)
	database("pages of three bytes", 16, 0, 3)
	database("no payload allowed", 21, 255, 255, 255)
	database("more pages than it has", 28, 255, 255, 255, 255)
	database("a schema of another version", 44, 255, 255, 255, 255)
	database("texts of another encoding", 56, 0, 0, 0, 9)
	database("a root of another kind", 100, 2)
	database("more cells than fit", 103, 255, 255)
	for page := 2; page <= 8; page++ {
		database(fmt.Sprintf("page %d of zeros", page), (page-1)*4096, make([]byte, 4096)...)
	}
	for page := 1; page <= 8; page++ {
		b := maze(gpkg, page)
		all = append(all, Case{Name: fmt.Sprintf("GeoPackage, page %d leads into a maze", page), Ending: ".gpkg", Bytes: b})
	}
	file := func(name string, b []byte) {
		all = append(all, Case{Name: "Parquet, " + name, Ending: ".parquet", Bytes: b})
	}
	file("runs of one row", rows)
	file("pages that pack a thousand times", packed)
	file("a compression that is not read", brotli)
	file("encrypted", append(bytes.Clone(parquet[:len(parquet)-4]), "PARE"...))
	for _, f := range []struct {
		name   string
		footer []byte
	}{
		{"a list of two thousand million columns", []byte("\x29\xfc\xff\xff\xff\xff\x07")},
		{"structures within structures", bytes.Repeat([]byte{0x1c}, 1<<20)},
		{"lists within lists", bytes.Repeat([]byte{0x19}, 1<<20)},
		{"ten million elements of no bytes", append([]byte("\x19\xf1\x80\xad\xe2\x04"), make([]byte, 4)...)},
		{"zeros", make([]byte, 1<<20)},
		{"ones", bytes.Repeat([]byte{255}, 1<<16)},
	} {
		b := append([]byte("PAR1"), f.footer...)
		b = binary.LittleEndian.AppendUint32(b, uint32(len(f.footer)))
		file("a footer of "+f.name, append(b, "PAR1"...))
	}
	for _, at := range []int{8, 40, 200, 1000, 3000, len(parquet) - 600, len(parquet) - 100} {
		b := bytes.Clone(parquet)
		copy(b[at:], "\xff\xff\xff\xff\x7f\xff\xff\xff\xff\x7f")
		file(fmt.Sprintf("a great number at byte %d", at), b)
	}
	return all, nil
}
