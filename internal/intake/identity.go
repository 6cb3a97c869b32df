package intake

import (
	"bytes"
	"strconv"

	"driftreach/internal/format"
)

// label returns the feature's name in findings: its id, or its row.
func (r *featureReader) label(f *format.Feature) string {
	if r.record == "" {
		if r.record = r.identity(f); r.record == "" {
			var room [24]byte
			r.record = r.ids.keep(strconv.AppendInt(append(room[:0], "row "...), int64(f.Row), 10))
		}
	}
	return r.record
}

// identity returns the feature's own id: the column's, else the format's.
func (r *featureReader) identity(f *format.Feature) string {
	if id := r.columns.Cell(f, r.id); len(id) > 0 {
		return r.ids.keep(wholeText(id))
	}
	return r.ids.keep(wholeText(bytes.TrimSpace(f.ID)))
}

// wholeText removes the ".0" of a whole number that was stored as a float, so that node 17 and node
// 17.0 are the same.
func wholeText(text []byte) []byte {
	k := bytes.IndexByte(text, '.')
	if k <= 0 || len(bytes.Trim(text[k+1:], "0")) > 0 {
		return text
	}
	for _, b := range text[:k] {
		if b-'0' >= 10 && b != '-' {
			return text
		}
	}
	return text[:k]
}
