package intake

import "fmt"

// expansion holds the rows of a file that is packed to what its size can honestly
// come to: runs, dictionaries and repeated lines make any number of rows of a few
// bytes.
type expansion struct {
	*reading
	size int64 // of the file
	laid int64 // bytes of rows given on
}

// rowBytes is what a row counts for besides its texts and positions. Our choice:
// the order of what is kept of one.
const rowBytes = 256

// measured gives rows on to take as long as they are within the limit.
func (e *expansion) measured(take func(*feature) error) func(*feature) error {
	return func(f *feature) error {
		e.laid += rowBytes + 16*int64(len(f.shape.points))
		for i := range f.cells {
			e.laid += int64(len(f.cells[i].text))
		}
		if e.laid > freeExpansion && e.laid/max(1, e.size) >= int64(e.limits.Expansion) {
			return e.unusable(rowName(f.row), fmt.Sprintf("the rows come to more than %d times the size of the file", e.limits.Expansion), "unpack the file, or save it in another format, or raise limits.expansion")
		}
		return take(f)
	}
}
