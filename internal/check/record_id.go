package check

import (
	"path/filepath"
	"strconv"
	"strings"
)

// MadeID returns the id given to a record that has none: its file's base name without ending, and its
// row there, such as "survey#12".
func MadeID(file string, row int) string {
	base := filepath.Base(filepath.ToSlash(file))
	return strings.TrimSuffix(base, filepath.Ext(base)) + "#" + strconv.Itoa(row)
}

// Label returns what findings call a record: its id, or "row 12" if it has none of its own.
func Label(id, file string, row int) string {
	if id == "" || id == MadeID(file, row) {
		return "row " + strconv.Itoa(row)
	}
	return id
}
