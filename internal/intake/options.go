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
	Quarter    survey.Quarter    // used for a missing date, in messages only
	CoverTable survey.CoverTable // converts canopy_cover_class to percent
	Limits     format.Limits
	// Trial continues past what would make the file unusable and lists it in File.Stops, so that all of
	// it is reported at once.
	Trial bool
	// Quiet keeps no findings.
	Quiet bool
	// CRS is the reference system of the file's positions, as read by earth.ParseCRS. Blank means the
	// one that the file names, or else WGS 84.
	CRS string
}

// DefaultOptions returns the options of a batch without settings.
func DefaultOptions() Options {
	// [P] Daubenmire 1959, the oldest and most used of the tables.
	table, _ := survey.FindCoverTable("daubenmire")
	return Options{CoverTable: table, Limits: format.DefaultLimits()}
}

// Validate returns an error if the options are not usable, else nil.
func (o Options) Validate() error {
	return o.Limits.Validate()
}
