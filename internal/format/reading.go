package format

import (
	"fmt"
	"strings"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// Reading is one file that is being read.
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
	Skip     int                                // lines above the header, from the settings
	Titled   func(skip int, title string) error // called for a title above the header

	Layer    string                 // layer in the file, as the user named it; blank if the file has only one
	Lines    bool                   // read lines, not points
	AnyShape bool                   // read points, lines and areas
	Timed    bool                   // read the dates of track positions
	Bound    func(name string) bool // says whether a column is one of our fields
	Asked    bool                   // the reference system comes from the user or the format
	System   earth.CRS
	Parts    []Part
	Linked   []string // members of the archive that a KML document links to
	Rows     int      // features in the documents of the archive that were read before

	GeometryColumn int // number of a CSV's geometry column; -1 for none
}

// ReportFile reports a problem with the file as a whole.
func (r *Reading) ReportFile(rule check.Rule, field, value, message string) {
	r.Log.Add(check.Finding{Rule: rule, File: r.Name, Field: field, Value: value, Message: message})
}

// File returns the file's name without the layer that the user added after it.
func (r *Reading) File() string { return strings.TrimSuffix(r.Name, ":"+r.Layer) }

// Unusable returns the error for a file that cannot be used.
func (r *Reading) Unusable(place, found, remedy string) error {
	return &UnusableError{File: r.Name, Place: place, Found: found, Remedy: remedy}
}

// Tabular says whether the file is a table, with no geometry except in a column.
func (r *Reading) Tabular() bool { return r.Traits.Rows }

// RowName is the name of a record without an id in findings.
func RowName(row int) string { return fmt.Sprintf("row %d", row) }
