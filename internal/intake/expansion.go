package intake

import "fmt"

// freeExpansion is what an archive may grow by without a look at the ratio. Our
// choice: text of one repeated line packs far better than any limit, 16 MiB.
const freeExpansion = 16 << 20

// rowBytes is what a row counts for besides its texts and positions. Our choice:
// the order of what is kept of one.
const rowBytes = 256

// measured gives the rows of a file on to take as long as they come to what its size
// can honestly come to: of files that are packed, runs, dictionaries and repeated
// lines make any number of rows of a few bytes.
func measured(r *reading, size int64, take func(*feature) error) func(*feature) error {
	var laid int64 // bytes of rows given on
	return func(f *feature) error {
		laid += rowBytes + 16*int64(len(f.shape.points))
		for i := range f.cells {
			laid += int64(len(f.cells[i].text))
		}
		if laid > freeExpansion && laid/max(1, size) >= int64(r.limits.Expansion) {
			return r.unusable(rowName(f.row), fmt.Sprintf("the rows come to more than %d times the size of the file", r.limits.Expansion), "unpack the file, or save it in another format, or raise limits.expansion")
		}
		return take(f)
	}
}
