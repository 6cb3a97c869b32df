package geopackage

import (
	"database/sql"
	"time"

	"driftreach/internal/format"
)

// reader is a GeoPackage that is being read (OGC 12-128r18). It is opened read-only through a file
// system with one file, so no other file is looked at and nothing is written. Only tables are read,
// never views; this is also true of the standard's own tables.
type reader struct {
	*format.Reading
	format.Layout
	from layer
	conn *sql.Conn

	patience time.Duration // the longest wait for the first row of a statement
	names    []string

	pages *pageTree
	roots map[string]int64 // root page of each table, by its name in lower case
	views map[string]bool  // views and virtual tables, by their names in lower case
	table *storedTable     // table of the layer
	size  int64            // of the file, in bytes
	spent int64            // bytes of text and geometry read so far

	refused error // the error that take returned
}

// layer is a layer, or a table without geometries.
type layer struct {
	name   string
	shape  string // name of the geometry column; blank for none
	system int64
}

// storedTable is an ordinary table with stored rows. It is not a view, whose SQL could do anything, and
// not a virtual table.
type storedTable struct {
	name    string
	columns []string // stored columns, without computed ones
	keys    []string // the columns of the key
}
