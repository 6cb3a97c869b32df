package format

import (
	"fmt"
	"strings"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// Reading is one file being read.
type Reading struct {
	Name     string
	Limits   Limits
	Traits   Traits // of the file's format
	Encoding string
	Text     *Window
	Schema   Schema
	Log      *check.Log
	Charset  Charset
	Comma    bool                               // numbers may have a decimal comma
	Skip     int                                // lines above the header, as the settings say
	Titled   func(skip int, title string) error // a title above the header was met

	Layer    string                 // of the file, as the user named it; blank for the only one
	Lines    bool                   // lines are wanted, not points
	AnyShape bool                   // points, lines and areas are wanted
	Timed    bool                   // days of a track's positions are wanted
	Bound    func(name string) bool // a column is one of our fields
	Asked    bool                   // the reference system is the user's, or the format's own
	System   earth.CRS
	Parts    []Part
	Linked   []string // members of the archive that a KML document links to
	Rows     int      // features of the documents of the archive read before

	GeometryColumn int // of CSV: the column of geometries; -1 for none
}

// ReportFile reports trouble with the file as a whole.
func (r *Reading) ReportFile(rule check.Rule, field, value, message string) {
	r.Log.Add(check.Finding{Rule: rule, File: r.Name, Field: field, Value: value, Message: message})
}

// File is the file's name without the layer that the user put after it.
func (r *Reading) File() string { return strings.TrimSuffix(r.Name, ":"+r.Layer) }

// Unusable is the error for a file of which nothing can be made.
func (r *Reading) Unusable(place, found, remedy string) error {
	return &UnusableError{File: r.Name, Place: place, Found: found, Remedy: remedy}
}

// Tabular says whether the file is rows and columns, with no geometry but that of a
// column.
func (r *Reading) Tabular() bool { return r.Traits.Rows }

// RowName is what findings call a record without an id.
func RowName(row int) string { return fmt.Sprintf("row %d", row) }
