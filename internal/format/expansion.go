package format

import "fmt"

// FreeExpansion is what an archive may grow by without a look at the ratio. Our
// choice: text of one repeated line packs far better than any limit, 16 MiB.
const FreeExpansion = 16 << 20

// rowBytes is what a row counts for besides its texts and positions. Our choice:
// the order of what is kept of one.
const rowBytes = 256

// Measured gives the rows of a file on to take as long as they come to what its size
// can honestly come to: of files that are packed, runs, dictionaries and repeated
// lines make any number of rows of a few bytes.
func Measured(r *Reading, size int64, take func(*Feature) error) func(*Feature) error {
	var laid int64 // bytes of rows given on
	return func(f *Feature) error {
		laid += rowBytes + 16*int64(len(f.Shape.Points))
		for i := range f.Cells {
			laid += int64(len(f.Cells[i].Text))
		}
		if laid > FreeExpansion && laid/max(1, size) >= int64(r.Limits.Expansion) {
			return r.Unusable(RowName(f.Row), fmt.Sprintf("the rows come to more than %d times the size of the file", r.Limits.Expansion), "unpack the file, or save it in another format, or raise limits.expansion")
		}
		return take(f)
	}
}
