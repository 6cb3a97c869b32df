package malformed

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
)

// tables are GeoPackages and Parquet files.
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
	// places by https://www.sqlite.org/fileformat.html, section 1.3
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
