package malformed

import (
	"fmt"
	"strings"
)

const header = "occurrenceID,decimalLongitude,decimalLatitude,eventDate"

// texts returns CSV files.
func texts() []Case {
	var all []Case
	add := func(name, text string) {
		all = append(all, Case{Name: "CSV, " + name, Ending: ".csv", Bytes: []byte(text)})
	}
	row := "a,1,2,2026-07-01\n"
	add("nothing", "")
	add("a byte order mark only", "\xef\xbb\xbf")
	add("spaces and line ends only", strings.Repeat(" \r\n", 100_000))
	add("a header only", header)
	add("separators only", strings.Repeat(",", 1_000_000))
	add("a line of 40 MB", header+"\n"+strings.Repeat("x", 40<<20))
	add("a header of 40 MB", strings.Repeat("x", 40<<20))
	add("a quote never closed, 40 MB", header+"\n\""+strings.Repeat("x\n", 20<<20))
	add("a cell of 10 MB", header+",note\na,1,2,2026-07-01,"+strings.Repeat("y", 10<<20)+"\n")
	add("a hundred thousand columns", strings.Repeat("c,", 100_000)+"\n")
	add("three thousand columns of one name", header+strings.Repeat(",c", 3000)+"\n"+row)
	add("rows of every length", header+"\n"+ragged())
	add("bytes of zero between cells", header+"\na,1,2\x00,2026-07-01\n"+row)
	add("a number of a megabyte", header+"\na,"+strings.Repeat("1", 1<<20)+",2,2026-07-01\n")
	add("a date of a megabyte", header+"\na,1,2,"+strings.Repeat("2026-", 200_000)+"\n")
	add("UTF-16 of an odd number of bytes", "\xff\xfea\x00,\x00b")
	add("UTF-16 with halves of pairs", "\xff\xfeo\x00,\x00\x00\xd8\x00\xd8\n\x00")
	add("no UTF-8", header+"\n\xff\xfe\xfd\x80,1,2,2026-07-01\n")
	add("line ends of a lone return", strings.ReplaceAll(header+"\n"+row+row, "\n", "\r"))
	add("a quote within a cell", header+"\na\"b\"c,1,2,2026-07-01\n\"a\"b,1,2,2026-07-01\n")
	add("positions for names", "1,2,3\n4,5,6\n")
	add("a geometry never closed", "WKT,occurrenceID\n\"POINT(1 2\",a\n\"POLYGON((((((((((\",b\n")
	add("a geometry of a hundred thousand brackets", "WKT\n\"POLYGON"+strings.Repeat("(", 100_000)+"\"\n")
	add("a geometry of a million vertices and no end", "WKT\n\"LINESTRING("+strings.Repeat("1 2,", 1_000_000)+"\"\n")
	add("a geometry as bytes that end early", "WKT\n0102000000ffffffff\n")
	add("a formula in every cell", header+"\n=cmd|' /C calc'!A0,=1,=2,=TODAY()\n")
	add("many findings", header+"\n"+strings.Repeat("a,x,y,z\n", 100_000))
	return all
}

func ragged() string {
	var b strings.Builder
	for i := range 2000 {
		fmt.Fprintln(&b, strings.Repeat("1,", i))
	}
	return b.String()
}
