package intake

import (
	"fmt"
	"strings"

	"driftreach/geo/earth"
	"driftreach/internal/check"
)

// reading is one file being read.
type reading struct {
	name     string
	limits   Limits
	traits   traits // of the file's format
	encoding string
	text     *window
	schema   schema
	log      *check.Log
	charset  charset
	comma    bool                               // numbers may have a decimal comma
	skip     int                                // lines above the header, as the settings say
	titled   func(skip int, title string) error // a title above the header was met

	layer    string                 // of the file, as the user named it; blank for the only one
	lines    bool                   // lines are wanted, not points
	anyShape bool                   // points, lines and areas are wanted
	timed    bool                   // days of a track's positions are wanted
	bound    func(name string) bool // a column is one of our fields
	asked    bool                   // the reference system is the user's, or the format's own
	system   earth.CRS
	parts    []Part
	linked   []string // members of the archive that a KML document links to
	rows     int      // features of the documents of the archive read before

	geometryColumn int // of CSV: the column of geometries; -1 for none
}

// reportFile tells of trouble with the file as a whole.
func (r *reading) reportFile(rule check.Rule, field, value, message string) {
	r.log.Add(check.Finding{Rule: rule, File: r.name, Field: field, Value: value, Message: message})
}

// file is the file's name without the layer that the user put after it.
func (r *reading) file() string { return strings.TrimSuffix(r.name, ":"+r.layer) }

// unusable is the error for a file of which nothing can be made.
func (r *reading) unusable(place, found, remedy string) error {
	return &UnusableError{File: r.name, Place: place, Found: found, Remedy: remedy}
}

// tabular says whether the file is rows and columns, with no geometry but that of a
// column.
func (r *reading) tabular() bool { return r.traits.rows }

// rowName is what findings call a record without an id.
func rowName(row int) string { return fmt.Sprintf("row %d", row) }
