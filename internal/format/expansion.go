package format

import "fmt"

// FreeExpansion is how much an archive may unpack to before the ratio is checked: 16 MiB. Our choice:
// text of one repeated line packs far better than any limit on the ratio.
const FreeExpansion = 16 << 20

// rowBytes is the size that a row counts for, in addition to its texts and positions. Our choice: about
// what the program keeps of a row.
const rowBytes = 256

// Measured passes the rows of a file to take while their total size is plausible for the size of the
// file. Run lengths, dictionaries and repeated lines let a small packed file expand to any number of
// rows.
func Measured(r *Reading, size int64, take func(*Feature) error) func(*Feature) error {
	var laid int64 // bytes of rows passed on
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
