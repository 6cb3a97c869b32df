package intake

import (
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// Options says how a file is read.
type Options struct {
	Mapping    column.Mapping
	SkipLines  int               // lines above the header of a CSV file or a sheet
	Quarter    survey.Quarter    // named where a date is missing, in messages only
	CoverTable survey.CoverTable // gives canopy_cover_class its percent
	Limits     format.Limits
	// Trial reads on past what would make the file unusable and reports it in File.Stops, so
	// that all of it is reported at once.
	Trial bool
	// CRS is the reference system of the file's positions, as earth.ParseCRS reads it; blank
	// for the one the file names, or WGS 84 where it names none.
	CRS string
}

// DefaultOptions returns the options of a batch without settings.
func DefaultOptions() Options {
	// [P] Daubenmire 1959, the oldest and most used of the tables.
	table, _ := survey.FindCoverTable("daubenmire")
	return Options{CoverTable: table, Limits: format.DefaultLimits()}
}

// Validate returns what is wrong with the options, nil when nothing is.
func (o Options) Validate() error {
	return o.Limits.Validate()
}
