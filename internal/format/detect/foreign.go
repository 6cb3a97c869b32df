package detect

import (
	"bytes"

	"driftreach/internal/format/shapefile"
)

// foreign names the format of a file that cannot be read. The signatures are those in the formats' own
// specifications.
func foreign(head []byte) string {
	for _, f := range []struct{ mark, name string }{
		{"%PDF", "a PDF document"},
		{"\x1f\x8b", "gzip-compressed"},
		{"\xd0\xcf\x11\xe0", "an old spreadsheet (.xls), or one with a password"},
		{"\x89PNG", "an image"},
		{"\xff\xd8\xff", "an image"},
	} {
		if bytes.HasPrefix(head, []byte(f.mark)) {
			return f.name
		}
	}
	text := bytes.ToLower(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\xef\xbb\xbf")), " \t\r\n"))
	switch {
	case bytes.HasPrefix(text, []byte("<!doctype html")), bytes.HasPrefix(text, []byte("<html")):
		return "a web page"
	case shapefile.IsTable(head):
		return "the table of a Shapefile without its shapes (name the .shp)"
	case bytes.IndexByte(head, 0) >= 0:
		return "binary"
	}
	return ""
}
