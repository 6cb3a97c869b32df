package survey

// firstOf counts some records of a file, which come in any order, and names the one that stands first in it.
type firstOf struct {
	met, row int
	name     string
}

// meet counts a record, and reports whether it is the first so far.
func (f *firstOf) meet(r *Record) bool {
	f.met++
	if f.met > 1 && r.Row >= f.row {
		return false
	}
	f.row, f.name = r.Row, r.Name()
	return true
}
